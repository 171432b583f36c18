/** What the worker runs. */
import type { Asked } from "./messages.js";
import { answering } from "./worker.js";

const answer = answering();
self.onmessage = ({ data }: MessageEvent<Asked>): void => {
  postMessage(answer(data));
};
