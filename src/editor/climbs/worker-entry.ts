/** What the worker runs. */
import type { Asked } from "./messages.js";
import { answering } from "./worker.js";

/** Long beside the time it takes to look at the mailbox, short beside what a hand notices, ms. */
const SLICE = 40;

const answer = answering((told) => postMessage(told), {
  now: () => performance.now(),
  later: (work) => void setTimeout(work),
  length: SLICE,
});
self.onmessage = ({ data }: MessageEvent<Asked>): void => answer(data);
