/** Gaps and the widest ways through an area: by hand on simple rooms, and against a second geometry library on random ones. */
import { describe, expect, test } from "vitest";
import { prepareArea } from "../../src/geometry/area-distance.js";
import { type Area, areaSize, subtractArea, uniteAreas } from "../../src/geometry/areas.js";
import { divideByGaps, widestWays } from "../../src/geometry/divide.js";
import { findGaps } from "../../src/geometry/gaps.js";
import type { Point } from "../../src/geometry/pose.js";
import { discRing } from "../../src/geometry/rings.js";
import { passes } from "../oracles/second-geometry.js";
import { box } from "../readings/fixture.js";
import { seeded, starRing } from "../support/shapes.js";

const roomWith = (...things: Point[][]): Area =>
  subtractArea([box(0, 0, 4000, 3000)], uniteAreas(...things.map((ring) => [ring])));

/** Width of the widest way between two points, by gaps. */
function widest(area: Area, from: Point, to: Point): number {
  const prepared = prepareArea(area);
  const division = divideByGaps(area, findGaps(area));
  const cellAt = (p: Point): number => division.cells.findIndex((ring) => prepareArea([ring]).contains(p));
  const start = cellAt(from);
  const { width } = widestWays(division, [start]);
  const ends = Math.min(prepared.distanceToEdge(from), prepared.distanceToEdge(to));
  return Math.max(0, Math.min(width[cellAt(to)] ?? 0, 2 * ends));
}

describe("gaps", () => {
  test.each([
    ["an empty room", roomWith(), []],
    ["one shelf from a wall", roomWith(box(0, 1000, 3300, 1500)), [700, 1000]],
    ["a box in the middle", roomWith(box(1500, 1000, 2700, 1800)), [1000, 1200, 1300, 1500]],
    ["two boxes corner to corner", roomWith(box(0, 0, 1000, 1000), box(1300, 1400, 4000, 3000)), [500]],
    ["a closed wall", roomWith(box(0, 1000, 4000, 1500)), []],
  ])("of %s", (_, area, widths) => {
    const found = findGaps(area).map(({ width }) => Math.round(width));
    expect([...new Set(found)]).toEqual(widths);
  });

  test("of a crossing of four equal aisles leave a way to each", () => {
    const area = roomWith(
      box(0, 0, 1600, 1100),
      box(2400, 0, 4000, 1100),
      box(0, 1900, 1600, 3000),
      box(2400, 1900, 4000, 3000),
    );
    expect(widest(area, { x: 2000, y: 500 }, { x: 3500, y: 1500 })).toBeCloseTo(800, 2);
    expect(findGaps(area).filter(({ width }) => width < 801)).toHaveLength(4);
  });

  test("between round things are as many as they are close", () => {
    const area = roomWith([...discRing({ x: 1200, y: 1500 }, 600)], [...discRing({ x: 2900, y: 1500 }, 500)]);
    const [first] = findGaps(area);
    // To the disc's chord, which lies up to 0.05 mm inside the circle.
    expect(first?.width).toBeCloseTo(600, 0);
    expect(widest(area, { x: 300, y: 1500 }, { x: 2100, y: 300 })).toBeGreaterThan(2 * 250);
  });
});

describe("on 40 random rooms", () => {
  const rooms = Array.from({ length: 40 }, (_, i) => {
    const random = seeded(i + 1);
    const things = Array.from({ length: 2 + Math.floor(6 * random()) }, () => {
      const centre = { x: 4000 * random(), y: 3000 * random() };
      const size = 200 + 500 * random();
      const kind = random();
      if (kind < 0.4) return box(centre.x - size, centre.y - size / 2, centre.x + size, centre.y + size / 2);
      return kind < 0.6 ? [...discRing(centre, size)] : [...starRing(random, centre, size / 2, size, 7)];
    });
    const area = roomWith(...things);
    const prepared = prepareArea(area);
    const points = Array.from({ length: 40 }, () => ({ x: 4000 * random(), y: 3000 * random() }))
      .filter((p) => prepared.distanceToEdge(p) > 60)
      .slice(0, 6);
    return { area, points };
  });

  test("the cells together are the room, and no gap leaves it", () => {
    for (const { area } of rooms) {
      const division = divideByGaps(area, findGaps(area));
      const sum = division.cells.reduce((size, ring) => size + areaSize([ring]), 0);
      expect(Math.abs(sum - areaSize(area))).toBeLessThan(1);
      expect(division.sides.flat().every((cell) => cell >= 0)).toBe(true);
    }
  });

  test("the widest way between any two places is that of a second library, within 1 mm", () => {
    let compared = 0;
    for (const { area, points } of rooms) {
      const [from, ...rest] = points;
      for (const to of rest) {
        if (!from) continue;
        const own = widest(area, from, to);
        const told = [compared, own, own < 1 || passes(area, from, to, own - 1), passes(area, from, to, own + 1)];
        expect(told).toEqual([compared, own, true, false]);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(120);
  });
});
