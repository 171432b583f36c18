import fc from "fast-check";
import { expect, test } from "vitest";
import { readPlan } from "../../src/plan/read.js";
import { writePlan } from "../../src/plan/write.js";
import { goldenContents, goldenPlan, goldenText, pathsIn, setAt } from "./golden-plan.js";

test("the golden file is written as it was read", () => {
  expect(writePlan(goldenPlan())).toBe(goldenText(1));
});

test("the text does not depend on the order of properties", () => {
  const { pins, title, ...rest } = goldenPlan();
  const low = pins["low"];
  if (low === undefined) throw new Error("no pin");
  const { at, ...others } = low;
  const turned = { pins: { ...pins, low: { ...others, at } }, ...rest, title };
  expect(writePlan(turned)).toBe(goldenText(1));
});

test("records stand in their own order, one a line where they fit", () => {
  const plan = goldenPlan();
  const { low, high } = plan.pins;
  if (low === undefined || high === undefined) throw new Error("no pins");
  const text = writePlan({ ...plan, pins: { high, low } });
  expect(text).toContain(
    '  "pins": {\n    "high": { "track": "climb", "at": 9000, "height": 1450, "option": "with-loop" },\n    "low": { "track": "main", "at": 0, "deck": "lower" }\n  },',
  );
});

test("no line of lists and records is wider than 100 characters, texts apart", () => {
  const lines = goldenText(1).split("\n");
  expect(lines.filter((line) => line.length > 100 && !/"(source|notes)":/.test(line))).toEqual([]);
});

test("reading what was written gives an equal plan, whatever unknown things it holds", () => {
  const places = pathsIn(goldenContents()).filter((path) => path[0] !== "setAside");
  const objects = places.filter((path) => {
    const value = path.reduce<unknown>((at, key) => Reflect.get(Object(at), key), goldenContents());
    return typeof value === "object" && value !== null && !Array.isArray(value);
  });
  fc.assert(
    fc.property(fc.constantFrom(...objects), fc.jsonValue({ maxDepth: 4 }), (path, value) => {
      const contents = goldenContents();
      setAt(contents, [...path, "x-unknown"], value);
      const first = readPlan(JSON.stringify(contents));
      if (!first.ok) throw new Error("not read");
      const text = writePlan(first.plan);
      const second = readPlan(text);
      if (!second.ok) throw new Error("not read again");
      expect(second.plan).toEqual(first.plan);
      expect(writePlan(second.plan)).toBe(text);
    }),
    { seed: 21, numRuns: 100 },
  );
});
