/** The page's own searcher: a worker, or the page itself between frames. */
import { CLIMBER_URL } from "virtual:climber";
import type { Slices } from "./in-slices.js";
import { searchInWorker, workerAt } from "./in-worker.js";
import type { Searcher } from "./searcher.js";

/** Without a worker the search gives way to the hand after so many ms. */
const BETWEEN_FRAMES: Slices = {
  now: () => performance.now(),
  later: (work) => void requestAnimationFrame(() => setTimeout(work)),
  length: 6,
};

export const pageSearcher = (): Searcher =>
  searchInWorker(workerAt(CLIMBER_URL), async () => (await import("./here.js")).searchHere(BETWEEN_FRAMES));
