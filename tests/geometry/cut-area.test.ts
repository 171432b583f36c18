import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { prepareArea } from "../../src/geometry/area-distance.js";
import { type Area, subtractArea, uniteAreas } from "../../src/geometry/areas.js";
import { crossingAhead, cutArea, gapsBetween, uniteStretches } from "../../src/geometry/cut-area.js";
import { offsetPoint, reversePose } from "../../src/geometry/pose.js";

const box = (x0: number, y0: number, x1: number, y1: number): Area => [
  [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ],
];
const ahead = { x: 0, y: 50, heading: 0 };

describe("a line through an area", () => {
  test.each([
    ["a box", box(100, 0, 300, 100), [[100, 300]]],
    ["behind the pose", box(-300, 0, -100, 100), [[-300, -100]]],
    ["beside it", box(100, 60, 300, 100), []],
    [
      "a hole",
      subtractArea(box(0, 0, 400, 100), box(100, 20, 200, 80)),
      [
        [0, 100],
        [200, 400],
      ],
    ],
    ["two that touch", [...box(0, 0, 100, 100), ...box(100, 0, 200, 100)], [[0, 200]]],
    ["nothing", [], []],
  ] as const)("%s", (_, area, expected) => {
    expect(cutArea(area as Area, ahead).map(({ from, to }) => [from, to])).toEqual(expected);
  });

  test("an edge along the line belongs to one side", () => {
    const sides = [box(0, 0, 100, 50), box(0, 50, 100, 90)].map((area) => cutArea(area, ahead));
    expect(sides.flat()).toEqual([{ from: 0, to: 100 }]);
  });

  test("of chance: what lies inside is inside, and the other way round it is the same", () => {
    const side = fc.integer({ min: -500, max: 500 });
    const rings = fc.array(fc.tuple(side, side, fc.integer({ min: 20, max: 400 }), fc.integer({ min: 20, max: 400 })), {
      minLength: 1,
      maxLength: 5,
    });
    const pose = fc.record({ x: side, y: side, heading: fc.double({ min: -3.1, max: 3.1, noNaN: true }) });
    fc.assert(
      fc.property(rings, pose, (boxes, from) => {
        const area = uniteAreas(...boxes.map(([x, y, w, h]) => box(x, y, x + w, y + h)));
        const prepared = prepareArea(area);
        const found = cutArea(area, from);
        for (const { from: a, to: b } of found) expect(prepared.contains(offsetPoint(from, (a + b) / 2, 0))).toBe(true);
        for (const { from: a, to: b } of gapsBetween({ from: -3000, to: 3000 }, found)) {
          expect(prepared.contains(offsetPoint(from, (a + b) / 2, 0))).toBe(false);
        }
        const back = cutArea(area, reversePose(from)).reverse();
        expect(back).toHaveLength(found.length);
        back.forEach((one, i) => {
          expect(-one.to).toBeCloseTo(found[i]?.from ?? Number.NaN, 6);
          expect(-one.from).toBeCloseTo(found[i]?.to ?? Number.NaN, 6);
        });
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

test("stretches are united, and what is left between them", () => {
  const some = [
    { from: 50, to: 80 },
    { from: 0, to: 20 },
    { from: 10, to: 30 },
    { from: 30, to: 40 },
  ];
  expect(uniteStretches(some)).toEqual([
    { from: 0, to: 40 },
    { from: 50, to: 80 },
  ]);
  expect(gapsBetween({ from: -10, to: 70 }, some)).toEqual([
    { from: -10, to: 0 },
    { from: 40, to: 50 },
  ]);
});

test("a way is crossed ahead, behind, or not at all", () => {
  expect(crossingAhead(ahead, { x: 10, y: 0 }, { x: 30, y: 100 })).toEqual({ ahead: 20, share: 0.5 });
  expect(crossingAhead(ahead, { x: -10, y: 150 }, { x: -10, y: 0 })?.ahead).toBe(-10);
  expect(crossingAhead(ahead, { x: 10, y: 60 }, { x: 30, y: 100 })).toBeUndefined();
  expect(crossingAhead(ahead, { x: 10, y: 50 }, { x: 30, y: 50 })).toBeUndefined();
});
