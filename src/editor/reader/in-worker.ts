/** Readings taken in a worker: the page sends what changed of the plan and is told what changed of the readings. */
import { planPatch } from "../../plan/patch.js";
import type { Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { type Answered, type Asked, unpack } from "./messages.js";
import { type MakeReader, oneAtATime, type Reader } from "./reader.js";

/** A line to a worker. */
export interface WorkerLine {
  readonly ask: (asked: Asked) => void;
  readonly end: () => void;
}

/** Opens a line; `answered` is called for every question, `broken` when the worker has broken down. */
export type OpenLine = (answered: (answer: Answered) => void, broken: () => void) => WorkerLine;

/**
 * `open` begins a worker; where it cannot, or the worker breaks down, readings go on being taken by `instead`.
 * Nothing asked for is lost: what the worker still owed is taken again.
 */
export const readInWorker =
  (open: OpenLine, instead: () => Promise<MakeReader>): MakeReader =>
  (found) => {
    let line: WorkerLine | undefined;
    let answered: (readings: readonly Reading[]) => void = () => {};
    let substitute: Promise<Reader> | undefined;
    /** The plan and readings the worker has. */
    let plan: Plan | undefined;
    let readings: readonly Reading[] = [];
    let wanted: Parameters<Reader["read"]> | undefined;
    const standIn = (): void => {
      line?.end();
      line = undefined;
      substitute ??= instead().then((make) => make(found));
      const last = wanted;
      if (last) void substitute.then((reader) => reader.read(...last));
    };
    const worker = oneAtATime((next, _layout, done) => {
      answered = done;
      line?.ask(plan ? { patch: planPatch(plan, next) } : { plan: next });
      plan = next;
    }, found);
    try {
      line = open((answer) => {
        readings = unpack(answer, readings);
        answered(readings);
      }, standIn);
    } catch {
      standIn();
    }
    return {
      read: (...asked) => {
        wanted = asked;
        if (substitute) void substitute.then((reader) => reader.read(...asked));
        else worker.read(...asked);
      },
    };
  };

/** A line to the worker whose script stands at an address. */
export const workerAt =
  (url: string): OpenLine =>
  (answered, broken) => {
    const worker = new Worker(url, { type: "module" });
    worker.onmessage = ({ data }: MessageEvent<Answered>) => answered(data);
    worker.onerror = (event) => {
      event.preventDefault();
      broken();
    };
    return { ask: (asked) => worker.postMessage(asked), end: () => worker.terminate() };
  };
