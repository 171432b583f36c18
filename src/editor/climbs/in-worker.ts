/** The search in a worker, begun with the first search and ended with each that is given up. */
import type { ClimbStep } from "../../climb/request.js";
import { type Asked, type Told, unpacker } from "./messages.js";
import type { Search, Searcher } from "./searcher.js";

/** A line to a worker. */
export interface WorkerLine {
  readonly ask: (asked: Asked) => void;
  readonly end: () => void;
}

/** Opens a line; `broken` is called when the worker has broken down. Throws where there are no workers. */
export type OpenLine = (told: (told: Told) => void, broken: () => void) => WorkerLine;

/** Where a worker cannot be begun, or breaks down, `instead` searches, from the beginning. */
export function searchInWorker(open: OpenLine, instead: () => Promise<Searcher>): Searcher {
  let line: WorkerLine | undefined;
  let substitute: Promise<Searcher> | undefined;
  let number = 0;
  let hear: ((told: Told) => void) | undefined;
  let broken = (): void => {};
  const hangUp = (): void => {
    line?.end();
    line = undefined;
    hear = undefined;
  };
  const standIn = (search: Search, told: (step: ClimbStep) => void): void => {
    hangUp();
    const mine = number;
    substitute ??= instead();
    void substitute.then((searcher) => {
      // Another may have been asked for meanwhile, or none any more.
      if (mine === number) searcher.search(search, told);
    });
  };
  return {
    search(search, told) {
      number += 1;
      if (substitute) return standIn(search, told);
      const mine = number;
      broken = () => standIn(search, told);
      const unpack = unpacker(search.layout.plan);
      hear = (heard) => {
        if (heard.search !== mine) return;
        // Being told of a step, the page may give the rest up.
        for (const step of heard.steps) if (mine === number) told(unpack(step));
      };
      try {
        line ??= open(
          (heard) => hear?.(heard),
          () => broken(),
        );
        line.ask({ ask: "search", search: mine, plan: search.layout.plan, request: search.request });
      } catch {
        standIn(search, told);
      }
    },
    stop() {
      number += 1;
      // A worker amid a long step would hear of it late: it is ended, and the next search begins another.
      hangUp();
      void substitute?.then((searcher) => searcher.stop());
    },
  };
}

/** A line to the worker whose script stands at an address. */
export const workerAt =
  (url: string): OpenLine =>
  (told, broken) => {
    const worker = new Worker(url, { type: "module" });
    worker.onmessage = ({ data }: MessageEvent<Told>) => told(data);
    worker.onerror = (event) => {
      event.preventDefault();
      broken();
    };
    return { ask: (asked) => worker.postMessage(asked), end: () => worker.terminate() };
  };
