/**
 * Double-ended sidings: clear length between fouling points, in cars and against the plan's train. Of two meeting trains
 * one must fit one of the two roads; the other runs through. Staging and yard tracks are read elsewhere.
 */
import { PRACTICE } from "../standards/cited.js";
import type { Reading } from "./reading.js";
import { placeOn, type Rule } from "./rule.js";
import { numbered } from "./scopes.js";
import { sidingsOf } from "./siding-lengths.js";
import { judge } from "./verdict.js";

/** Trains meet on these; on others a siding too short for one is only tight. */
const MEETS: ReadonlySet<string> = new Set(["main", "siding"]);

export const siding: Rule = {
  id: "siding",
  take({ plan, layout }) {
    const { train, tight } = plan.standards;
    const sidings = sidingsOf(layout).filter(({ use }) => use !== "staging" && use !== "yard");
    const scopes = numbered(sidings.map(({ track }) => track.id));
    return sidings.map((found, i): Reading => {
      const value = Math.max(found.clear, found.otherClear);
      const verdict = judge(value, train.value, "least", tight.value);
      const { line, s } = found.middle;
      const cars = `${found.cars} ${found.cars === 1 ? "car" : "cars"} between fouling points`;
      const note = found.clear > 0 ? cars : "its roads do not stand clear of one another";
      return {
        id: "siding",
        scope: scopes[i] ?? found.track.id,
        label: `Siding, ${found.name}`,
        value,
        unit: "mm",
        limit: train.value,
        bound: "least",
        verdict: verdict === "fails" && !MEETS.has(found.use) ? "tight" : verdict,
        places: [placeOn(line, s, value, note)],
        source: `${PRACTICE}: counts between fouling points; of two trains that meet one must fit`,
        ...(train.reason !== undefined && { reason: train.reason }),
        figures: {
          "clear length": { value: found.clear, unit: "mm" },
          "beside it": { value: found.otherClear, unit: "mm" },
          "longest cars": { value: found.longestCars, unit: "count" },
          "average cars": { value: found.cars, unit: "count" },
        },
      };
    });
  },
};
