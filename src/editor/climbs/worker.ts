/** The worker: runs one search at a time and looks at its mailbox between slices of it. */
import { searchClimb } from "../../climb/search-climb.js";
import { inSlices, type Slices } from "./in-slices.js";
import { type Asked, packer, type Told } from "./messages.js";

/** Answers what is asked; what goes wrong in a search is thrown, so that whoever began the worker hears of it. */
export function answering(tell: (told: Told) => void, slices: Slices): (asked: Asked) => void {
  let end = (): void => {};
  return (asked) => {
    end();
    if (asked.ask === "stop") return;
    const { search, plan, request } = asked;
    const pack = packer(plan);
    const failed = (error: unknown): never => {
      throw error;
    };
    end = inSlices(
      searchClimb(plan, request),
      (steps) => tell({ search, steps: steps.map((step) => pack(step)) }),
      failed,
      slices,
    );
  };
}
