/** Random damage to a sound file: to its contents, and to its text. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { readPlan } from "../../src/plan/read.js";
import { writePlan } from "../../src/plan/write.js";
import { goldenContents, goldenText, pathsIn, setAt } from "../plan/golden-plan.js";
import { lostLeaves, readLawfully } from "./nothing-lost.js";

const places = pathsIn(goldenContents()).filter((path) => path.length > 0);
const anything = fc.oneof(
  fc.jsonValue({ maxDepth: 3 }),
  fc.constantFrom("__proto__", "constructor", "main", "lower", "", "a b", "∞", 0, -0, 1e308, -1e308, 5e-324, 2 ** 53),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
);
/** What to do to one place: put something there, take it out, add a property, or move another part of the file there. */
const damage = fc.record({
  place: fc.constantFrom(...places),
  kind: fc.constantFrom("put", "remove", "add", "move"),
  value: anything,
  key: fc.oneof(
    fc.string(),
    fc.constantFrom("straight", "curve", "pose", "track", "deck", "value", "constructor", "valueOf"),
  ),
  other: fc.constantFrom(...places),
});

const valueAt = (root: unknown, path: readonly (string | number)[]): unknown =>
  path.reduce<unknown>((at, key) => (typeof at === "object" && at !== null ? Reflect.get(at, key) : undefined), root);

function spoil(
  contents: Record<string, unknown>,
  { place, kind, value, key, other }: typeof damage extends fc.Arbitrary<infer T> ? T : never,
): void {
  const parent = valueAt(contents, place.slice(0, -1));
  if (typeof parent !== "object" || parent === null) return;
  if (kind === "put") setAt(contents, place, value);
  else if (kind === "remove") setAt(contents, place, undefined);
  else if (kind === "move") setAt(contents, place, structuredClone(valueAt(contents, other)) ?? null);
  else Object.defineProperty(parent, key, { value, enumerable: true, configurable: true, writable: true });
}

test("damaged contents: a clear report, never a throw, nothing lost", () => {
  fc.assert(
    fc.property(fc.array(damage, { minLength: 1, maxLength: 5 }), (damages) => {
      const contents = goldenContents();
      for (const one of damages) spoil(contents, one);
      const text = JSON.stringify(contents);
      const result = readLawfully(text, JSON.parse(text));
      if (!result.ok) return;
      const again = readPlan(writePlan(result.plan));
      expect(again.ok && again.plan).toEqual(result.plan);
    }),
    { seed: 22, numRuns: 500 },
  );
}, 120_000);

test("damaged text: a clear report, never a throw", () => {
  const text = goldenText(1);
  const cut = fc.record({
    at: fc.nat(text.length),
    drop: fc.nat(40),
    put: fc.oneof(
      fc.string(),
      fc.constantFrom("{", "}", "[", "]", '"', ",", ":", "NaN", "1e999", "\\", "-", "null", '"id": '),
    ),
  });
  fc.assert(
    fc.property(fc.array(cut, { minLength: 1, maxLength: 3 }), (cuts) => {
      let spoiled = text;
      for (const { at, drop, put } of cuts) spoiled = spoiled.slice(0, at) + put + spoiled.slice(at + drop);
      const result = readLawfully(spoiled, undefined);
      const bare = spoiled.replace(/^\uFEFF/, "");
      // Only what JSON.parse takes too is read at all.
      if (result.ok) expect(lostLeaves(JSON.parse(bare), result.plan)).toEqual([]);
      else expect(result.report.problems).toHaveLength(1);
    }),
    { seed: 23, numRuns: 500 },
  );
});
