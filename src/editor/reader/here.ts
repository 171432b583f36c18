/** Readings taken on the page's own thread: at once, or in slices that give way to the hand. */
import { readingsOf, RULES, takeReadings } from "../../readings/take.js";
import type { Reading } from "../../readings/reading.js";
import { type MakeReader, oneAtATime } from "./reader.js";

export const readAtOnce: MakeReader = (found) => ({
  read: (plan, layout) => found(takeReadings(plan, layout), plan),
});

/** Readings give way to the hand after so many ms; a rule once begun is finished. */
const SLICE = 5;

/** `later` runs work when there is time. */
export const readInSlices =
  (later: (work: () => void) => void): MakeReader =>
  (found) =>
    oneAtATime((plan, layout, done) => {
      const readings: Reading[] = [];
      const slice = (from: number): void => {
        const begun = performance.now();
        let next = from;
        for (; next < RULES.length && performance.now() - begun < SLICE; next++) {
          const rule = RULES[next];
          if (rule) readings.push(...readingsOf(rule, plan, layout));
        }
        if (next < RULES.length) later(() => slice(next));
        else done(readings);
      };
      later(() => slice(0));
    }, found);
