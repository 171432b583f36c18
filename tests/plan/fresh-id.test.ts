import fc from "fast-check";
import { expect, test } from "vitest";
import { freshId } from "../../src/plan/fresh-id.js";
import { idSchema } from "../../src/plan/schema.js";
import { goldenPlan } from "./golden-plan.js";

const plan = goldenPlan();

test.each([
  ["Larkmoor main", "larkmoor-main"],
  ["Main", "main-2"],
  ["door", "door-2"],
  ["Überführung №3", "uberfuhrung-3"],
  ["", "x"],
  ["→", "x"],
  ["constructor", "constructorx"],
  ["a".repeat(100), "a".repeat(32)],
])("%s gives %s", (name, id) => {
  expect(freshId(plan, name)).toBe(id);
});

test("random endings, numbered where even they are taken", () => {
  expect(freshId(plan, "Main", () => 0)).toBe("main-0000");
  expect(freshId(plan, "Main", () => 0.999999999)).toBe("main-zzzz");
  const track = plan.tracks["main"];
  if (track === undefined) throw new Error("no main");
  expect(freshId({ ...plan, tracks: { ...plan.tracks, "main-0000": track } }, "Main", () => 0)).toBe("main-2");
});

test("is always an id, and always new", () => {
  fc.assert(
    fc.property(
      fc.string({ unit: "binary" }),
      fc.option(fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }), { nil: undefined }),
      (name, drawn) => {
        const id = freshId(plan, name, drawn === undefined ? undefined : () => drawn);
        expect(idSchema.safeParse(id).success).toBe(true);
        expect(plan.tracks).not.toHaveProperty([id]);
      },
    ),
    { seed: 27, numRuns: 500 },
  );
});
