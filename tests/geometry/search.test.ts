import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { indexBoxes } from "../../src/geometry/search.js";

const side = fc.integer({ min: -1000, max: 1000 });
const size = fc.integer({ min: 0, max: 300 });
const box = fc.tuple(side, side, size, size).map(([x, y, w, h]) => [x, y, x + w, y + h] as const);
const boxes = fc.array(box, { maxLength: 80 });
type Box = readonly [number, number, number, number];

const touch = (a: Box, b: Box): boolean => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
const apart = (a: Box, x: number, y: number): number =>
  Math.hypot(Math.max(a[0] - x, 0, x - a[2]), Math.max(a[1] - y, 0, y - a[3]));

describe("search among boxes", () => {
  test("finds exactly the boxes that overlap or touch, each once", () => {
    fc.assert(
      fc.property(boxes, box, (all, query) => {
        const index = indexBoxes(all.flat());
        const expected = all.flatMap((b, i) => (touch(b, query) ? [i] : []));
        const seen: number[] = [];
        index.visit(...query, (i) => seen.push(i));
        expect(index.overlapping(...query).sort((a, b) => a - b)).toEqual(expected);
        expect(seen.sort((a, b) => a - b)).toEqual(expected);
      }),
      { seed: 11 },
    );
  });

  test("gives the nearest in order of distance, within reach", () => {
    fc.assert(
      fc.property(
        boxes,
        side,
        side,
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 600 }),
        (all, x, y, most, within) => {
          const found = indexBoxes(all.flat()).nearest(x, y, most, within);
          const expected = all.map((b) => apart(b, x, y)).filter((d) => d <= within);
          expect(found.map((i) => apart(all[i] as Box, x, y))).toEqual(expected.sort((a, b) => a - b).slice(0, most));
        },
      ),
      { seed: 12 },
    );
  });

  test("an empty set finds nothing", () => {
    const index = indexBoxes([]);
    expect(index.count).toBe(0);
    expect(index.overlapping(-1e9, -1e9, 1e9, 1e9)).toEqual([]);
    expect(index.nearest(0, 0)).toEqual([]);
  });

  test("a box with a coordinate that is no number is never found, the others keep their numbers", () => {
    const index = indexBoxes([Number.NaN, 0, 1, 1, 0, 0, 1, 1, 5, 5, Number.NaN, 6, 5, 5, 6, 6]);
    expect(index.count).toBe(4);
    expect(index.overlapping(-10, -10, 10, 10).sort((p, q) => p - q)).toEqual([1, 3]);
    expect(index.nearest(5, 5, 1)).toEqual([3]);
    expect(indexBoxes([Number.NaN, 0, 0, 0]).overlapping(-1, -1, 1, 1)).toEqual([]);
  });
});
