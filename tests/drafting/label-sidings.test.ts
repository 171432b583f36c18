/** Lengths of sidings on the drawing. */
import { expect, test } from "vitest";
import { labelsOf } from "../../src/drafting/labels.js";
import { passingPlan } from "../readings/trains-fixture.js";

const draft = passingPlan({ length: 4000 });
const { layout, readings } = draft;
const labelled = (scale: number, inHand = ["lower"]) =>
  labelsOf(layout, { scale, inHand, pale: [], readings, units: "metric" }).filter(({ kind }) => kind === "siding");

test("a siding says how many cars stand between its fouling points, beside its middle", () => {
  const [label, ...more] = labelled(0.3);
  expect(more).toEqual([]);
  const cars = draft.reading("siding:siding")?.figures?.["average cars"]?.value ?? 0;
  expect(cars).toBeGreaterThan(5);
  expect(label?.marks).toEqual([expect.objectContaining({ kind: "text", text: `${cars} cars` })]);
  expect(label?.line).toBe("track:siding");
  expect(label?.anchor.x).toBeCloseTo(2500, -1);
  const box = label?.box;
  expect(
    Math.hypot((box?.x ?? 0) / 0.3 - (label?.anchor.x ?? 0), (box?.y ?? 0) / 0.3 + (label?.anchor.y ?? 0)),
  ).toBeLessThan(400);
});

test("not where it is drawn shorter than its lettering, nor on a deck that is not in hand", () => {
  expect(labelled(0.01)).toEqual([]);
  expect(labelled(0.3, [])).toEqual([]);
});
