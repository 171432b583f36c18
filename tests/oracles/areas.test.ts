import { describe, expect, test } from "vitest";
import { prepareArea } from "../../src/geometry/area-distance.js";
import {
  ARC_TOLERANCE,
  AREA_UNIT,
  areaSize,
  edgeLength,
  fillRing,
  intersectAreas,
  offsetArea,
  type Ring,
  subtractArea,
  uniteAreas,
} from "../../src/geometry/areas.js";
import { seeded, starRing } from "../support/shapes.js";
import * as second from "./second-geometry.js";

/** Rounding moves each edge by at most a unit, so areas may differ by a few units times the length of all edges. */
const sizeTolerance = (rings: readonly Ring[]): number => 4 * AREA_UNIT * edgeLength(rings);

const cases = Array.from({ length: 40 }, (_, seed) => {
  const random = seeded(seed + 1);
  const a = starRing(random, { x: 0, y: 0 }, 200, 1500, 5 + Math.floor(30 * random()));
  const b = starRing(random, { x: 900 * random(), y: 900 * random() }, 100, 1200, 5 + Math.floor(60 * random()));
  return { seed, a, b, random };
});

describe("areas against a second geometry library (jsts 2.12.1)", () => {
  test.each(cases)("union, difference, intersection, seed $seed", ({ a, b }) => {
    const [ja, jb] = [second.polygon(a), second.polygon(b)];
    const tolerance = sizeTolerance([a, b]);
    expect(Math.abs(areaSize(uniteAreas([a], [b])) - second.union(ja, jb).getArea())).toBeLessThan(tolerance);
    expect(Math.abs(areaSize(subtractArea([a], [b])) - second.difference(ja, jb).getArea())).toBeLessThan(tolerance);
    expect(Math.abs(areaSize(intersectAreas([a], [b])) - second.intersection(ja, jb).getArea())).toBeLessThan(
      tolerance,
    );
  });

  test.each(cases)("offset in and out, seed $seed", ({ a }) => {
    for (const by of [-150, -40, -3, 3, 40, 150]) {
      // 200 chords a quarter circle put the second library's arcs within 0.005 mm at these radii.
      const theirs = second.buffer(second.polygon(a), by, 200).getArea();
      const ours = offsetArea([a], by);
      // Chords lie inside our arcs by no more than the tolerance, so along all edges no more than this is missing.
      const tolerance = (ARC_TOLERANCE + 0.005 + 4 * AREA_UNIT) * edgeLength(ours) + 1;
      expect(Math.abs(areaSize(ours) - theirs)).toBeLessThan(tolerance);
    }
  });

  test.each(cases)("distance and inside, seed $seed", ({ a, b, random }) => {
    const area = subtractArea([a], [b.map((p) => ({ x: p.x / 10, y: p.y / 10 }))]);
    const prepared = prepareArea(area);
    const geometry = area
      .map((ring) => second.polygon(ring))
      .sort((p, q) => q.getArea() - p.getArea())
      .reduce((whole, hole) => second.difference(whole, hole));
    for (let i = 0; i < 50; i++) {
      const p = { x: 3600 * (random() - 0.5), y: 3600 * (random() - 0.5) };
      const jp = second.point(p);
      const distance = second.distanceBetween(geometry.getBoundary(), jp);
      expect(Math.abs(Math.abs(prepared.distanceToEdge(p)) - distance)).toBeLessThan(1e-9 * 3600);
      expect(prepared.contains(p)).toBe(second.contains(geometry, jp));
    }
  });

  test("a ring given clockwise encloses the same", () => {
    for (const { a } of cases) {
      const size = second.polygon(a).getArea();
      expect(Math.abs(areaSize(fillRing([...a].reverse())) - size)).toBeLessThan(sizeTolerance([a]));
    }
  });
});
