/** A value of every wrong type in the place of every property the schema has, by way of the golden file. */
import { describe, expect, test } from "vitest";
import { COLLECTIONS, planSchema } from "../../src/plan/schema.js";
import { goldenContents, pathsIn, setAt } from "../plan/golden-plan.js";
import { readLawfully } from "./nothing-lost.js";

const WRONG: readonly unknown[] = [undefined, null, true, -1e12, 0.5, "wrong", [], {}];
/** A collection that is missing is empty; what names its records is remarked on. */
const MAY_BE_MISSING = new Set<string | number>([...COLLECTIONS, "accepted", "openings", "obstacles"]);
// One class of track stands for all of them: they share a schema.
const places = pathsIn(goldenContents()).filter(
  ([first, second, third]) =>
    first !== undefined && first !== "setAside" && !(second === "classes" && third !== undefined && third !== "main"),
);

describe.each(WRONG.map((value) => [value === undefined ? "nothing" : JSON.stringify(value), value] as const))(
  "%s",
  (_, value) => {
    test("in every place is read or reported, and nothing is lost", () => {
      for (const path of places) {
        const contents = goldenContents();
        setAt(contents, path, value);
        const result = readLawfully(JSON.stringify(contents), contents);
        if (planSchema.safeParse(contents).success) {
          expect(result.report.problems.filter((problem) => problem.severity === "error")).toEqual([]);
          continue;
        }
        if (path[0] === "format" || path[0] === "version") continue;
        if (value === undefined && MAY_BE_MISSING.has(path.at(-1) ?? "") && path.length <= 2) {
          expect(result.report.problems.filter((problem) => problem.severity === "error")).toEqual([]);
          continue;
        }
        const where = path.join(".");
        const told = result.report.problems
          .filter((problem) => problem.severity === "error")
          .map(({ record, property }) =>
            [record === "plan" ? "" : record, property].filter((part) => part !== "").join("."),
          );
        expect(
          told.some((at) => at === where || at.startsWith(`${where}.`) || where.startsWith(`${at}.`)),
          `${where}: ${told.join(" ")}`,
        ).toBe(true);
      }
    }, 120_000);
  },
);
