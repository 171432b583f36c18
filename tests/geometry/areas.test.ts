import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { containsPoint, distanceToEdge, nearestEdge, prepareArea } from "../../src/geometry/area-distance.js";
import {
  ARC_TOLERANCE,
  type Area,
  AREA_UNIT,
  areaSize,
  edgeLength,
  fillRing,
  intersectAreas,
  NO_AREA,
  offsetArea,
  openArea,
  type Ring,
  signedSize,
  subtractArea,
  uniteAreas,
} from "../../src/geometry/areas.js";
import { distance } from "../../src/geometry/pose.js";
import { seeded, starRing, wildRing } from "../support/shapes.js";

const rectangle = (x: number, y: number, w: number, h: number): Ring => [
  { x, y },
  { x: x + w, y },
  { x: x + w, y: y + h },
  { x, y: y + h },
];
const seed = fc.integer({ min: 1, max: 1_000_000 });
/** Areas of chance: a wild ring in order, or a star with a hole. */
const anyArea = fc.tuple(seed, fc.boolean()).map(([n, wild]): Area => {
  const random = seeded(n);
  if (wild) return fillRing(wildRing(random, 2000, 3 + Math.floor(20 * random())));
  const hole = starRing(random, { x: 0, y: 0 }, 20, 150, 8);
  return subtractArea([starRing(random, { x: 0, y: 0 }, 200, 1000, 12)], [hole]);
});
const anyPoint = fc.record({
  x: fc.double({ min: -1500, max: 1500, noNaN: true }),
  y: fc.double({ min: -1500, max: 1500, noNaN: true }),
});
const tolerance = (...areas: readonly Area[]): number =>
  1 + 6 * AREA_UNIT * areas.reduce((sum, a) => sum + edgeLength(a), 0);

describe("laws of areas", () => {
  test("outer rings are anticlockwise, holes clockwise", () => {
    const frame = subtractArea([[...rectangle(0, 0, 100, 100)].reverse()], [rectangle(10, 10, 80, 80)]);
    expect(frame.map((ring) => Math.sign(signedSize(ring))).sort((p, q) => p - q)).toEqual([-1, 1]);
    expect(areaSize(frame)).toBeCloseTo(100 * 100 - 80 * 80, 6);
  });

  test("sizes of union and intersection add up; a difference has nothing in common with what was taken", () => {
    fc.assert(
      fc.property(anyArea, anyArea, (a, b) => {
        const within = tolerance(a, b);
        const common = areaSize(intersectAreas(a, b));
        expect(Math.abs(areaSize(uniteAreas(a, b)) + common - areaSize(a) - areaSize(b))).toBeLessThan(within);
        const rest = subtractArea(a, b);
        expect(areaSize(intersectAreas(rest, b))).toBeLessThan(within);
        expect(Math.abs(areaSize(rest) + common - areaSize(a))).toBeLessThan(within);
      }),
      { seed: 21, numRuns: 60 },
    );
  });

  test("an opening lies within its area and is its own opening", () => {
    fc.assert(
      fc.property(anyArea, fc.integer({ min: 1, max: 120 }), (area, radius) => {
        const opened = openArea(area, radius);
        expect(areaSize(subtractArea(opened, area))).toBeLessThan(tolerance(area));
        const again = openArea(opened, radius);
        expect(areaSize(subtractArea(opened, again))).toBeLessThan(2 * ARC_TOLERANCE * edgeLength(opened) + 1);
      }),
      { seed: 22, numRuns: 40 },
    );
  });

  test("every point of a grown edge is the distance away", () => {
    fc.assert(
      fc.property(anyArea, fc.integer({ min: 5, max: 200 }), (area, by) => {
        for (const p of offsetArea(area, by).flat()) {
          expect(Math.abs(distanceToEdge(area, p) + by)).toBeLessThan(ARC_TOLERANCE + 3 * AREA_UNIT);
        }
      }),
      { seed: 23, numRuns: 20 },
    );
  });

  test("signed distance changes by no more than the point moves, the nearest place is as far as it says", () => {
    fc.assert(
      fc.property(anyArea, anyPoint, anyPoint, (area, p, q) => {
        if (area.length === 0) return;
        const prepared = prepareArea(area);
        expect(Math.abs(prepared.distanceToEdge(p) - prepared.distanceToEdge(q))).toBeLessThan(distance(p, q) + 1e-9);
        const place = prepared.nearestEdge(p);
        expect(place && distance(place.point, p)).toBeCloseTo(place?.distance ?? Number.NaN, 9);
        const ring = area[place?.ring ?? 0] ?? [];
        const [u, v] = [ring[place?.edge ?? 0], ring[((place?.edge ?? 0) + 1) % ring.length]];
        if (!place || !u || !v) throw new Error("no such edge");
        expect(distance(u, place.point) + distance(place.point, v)).toBeCloseTo(distance(u, v), 6);
        expect(prepared.nearestEdge(p, place.distance / 2)).toBeUndefined();
        expect(prepared.nearestEdge(p, place.distance + 1)?.distance).toBe(place.distance);
      }),
      { seed: 24, numRuns: 150 },
    );
  });
});

describe("necks", () => {
  // Two rooms of 1000 x 1000 and a passage 500 long between them.
  const dumbbell = (width: number): Area =>
    uniteAreas([rectangle(0, 0, 1000, 1000)], [rectangle(1500, 0, 1000, 1000)], [rectangle(999, 400, 502, width)]);
  test.each([
    { width: 300, radius: 149, parts: 1 },
    { width: 300, radius: 151, parts: 2 },
    { width: 620, radius: 309, parts: 1 },
    { width: 620, radius: 311, parts: 2 },
    { width: 620, radius: 501, parts: 0 },
  ])("a passage of $width under a disc of radius $radius leaves $parts", ({ width, radius, parts }) => {
    expect(openArea(dumbbell(width), radius).filter((ring) => signedSize(ring) > 0)).toHaveLength(parts);
  });
});

describe("odd input", () => {
  const line = [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 20, y: 0 },
  ];
  test.each<{ what: string; ring: Ring; size: number }>([
    { what: "no corners", ring: [], size: 0 },
    { what: "one corner", ring: [{ x: 1, y: 1 }], size: 0 },
    { what: "a line there and back", ring: line, size: 0 },
    { what: "one point many times", ring: Array(9).fill({ x: 3, y: 3 }), size: 0 },
    { what: "corners that are no numbers", ring: [...rectangle(0, 0, 10, 10), { x: Number.NaN, y: 1 }], size: 100 },
    { what: "clockwise", ring: [...rectangle(0, 0, 10, 10)].reverse(), size: 100 },
    { what: "gone round twice", ring: [...rectangle(0, 0, 10, 10), ...rectangle(0, 0, 10, 10)], size: 100 },
    {
      what: "a bow tie, both loops",
      ring: [
        { x: 0, y: 0 },
        { x: 10, y: 10 },
        { x: 10, y: 0 },
        { x: 0, y: 10 },
      ],
      size: 50,
    },
  ])("$what", ({ ring, size }) => {
    const area = fillRing(ring);
    expect(areaSize(area)).toBeCloseTo(size, 6);
    expect(areaSize(uniteAreas([ring], [ring]))).toBeCloseTo(size, 6);
    expect(areaSize(subtractArea([ring], [ring]))).toBeCloseTo(0, 6);
    if (size === 0) expect(offsetArea([ring], 5)).toEqual(NO_AREA);
    expect(openArea([ring], 50)).toEqual(NO_AREA);
  });

  test("an area of nothing has no edge", () => {
    expect(containsPoint(NO_AREA, { x: 0, y: 0 })).toBe(false);
    expect(nearestEdge(NO_AREA, { x: 0, y: 0 })).toBeUndefined();
    expect(distanceToEdge(NO_AREA, { x: 0, y: 0 })).toBe(Number.NEGATIVE_INFINITY);
    expect(uniteAreas()).toEqual(NO_AREA);
  });

  test.each([Number.POSITIVE_INFINITY, 1e300])("coordinates as far as %d are taken to the bounds", (far) => {
    const ring = [
      { x: -far, y: -far },
      { x: far, y: -far },
      { x: far, y: far },
      { x: -far, y: far },
    ];
    expect(areaSize(fillRing(ring))).toBeCloseTo(4e14, -6);
    expect(areaSize(intersectAreas([ring], [rectangle(0, 0, 10, 10)]))).toBeCloseTo(100, 6);
  });

  test("grown or shrunk by what is no number it stays as it is", () => {
    expect(areaSize(offsetArea([rectangle(0, 0, 10, 10)], Number.NaN))).toBeCloseTo(100, 6);
  });

  const nudged = (ring: Ring, random: () => number): Ring =>
    ring.map((p) => ({ x: p.x + 2 * AREA_UNIT * (random() - 0.5), y: p.y + 2 * AREA_UNIT * (random() - 0.5) }));

  test("edges that all but coincide make no difference", () => {
    const random = seeded(8);
    for (let i = 0; i < 150; i++) {
      const base = starRing(random, { x: 0, y: 0 }, 300, 1500, 5 + Math.floor(30 * random()));
      const near = nudged(base, random);
      const within = 1 + 4 * AREA_UNIT * edgeLength([base]);
      expect(Math.abs(areaSize(uniteAreas([base], [near])) - signedSize(base))).toBeLessThan(within);
      expect(areaSize(subtractArea([base], [near]))).toBeLessThan(within);
    }
  });

  test("a shape cut into pieces is whole again when they are united", () => {
    const random = seeded(9);
    for (let i = 0; i < 60; i++) {
      const whole: Area = [starRing(random, { x: 0, y: 0 }, 300, 1500, 5 + Math.floor(30 * random()))];
      const pieces: Area[] = [];
      let rest = whole;
      for (let cut = 0; cut < 6; cut++) {
        const strip = [starRing(random, { x: 2000 * (random() - 0.5), y: 0 }, 200, 900, 6)];
        pieces.push(intersectAreas(rest, strip));
        rest = subtractArea(rest, strip);
      }
      const united = uniteAreas(...pieces, rest);
      expect(Math.abs(areaSize(united) - areaSize(whole))).toBeLessThan(tolerance(whole, ...pieces));
    }
  });

  test("rings that cross themselves many times, all but twice the same, come to an end with a result", () => {
    const random = seeded(7);
    for (let i = 0; i < 120; i++) {
      const base = wildRing(random, i % 3 === 0 ? 0.02 : 1000, 3 + Math.floor(60 * random()));
      const near = nudged(base, random);
      const both = uniteAreas([base], [near]);
      const within = 1 + 20 * AREA_UNIT * edgeLength([base]);
      expect(areaSize(both)).toBeGreaterThan(areaSize(fillRing(base)) - within);
      expect(areaSize(both)).toBeLessThan(1e6 + within);
      expect(areaSize(subtractArea([base], [near]))).toBeLessThan(within);
      expect(Number.isFinite(areaSize(openArea(both, 10 * random())))).toBe(true);
    }
  });

  test("an outline that doubles back along its own edge comes to an end", () => {
    const corners = [
      [2000, 3000],
      [976, 1272],
      [2000, 0],
      [1225.3, 0],
      [0, 0],
      [4000, 0],
    ] as const;
    // The stretch gone over twice has no size; what is left has four corners, 4,536,000 mm2 by the surveyor's formula.
    expect(Math.abs(areaSize(fillRing(corners.map(([x, y]) => ({ x, y })))) - 4_536_000)).toBeLessThan(10);
  });
});
