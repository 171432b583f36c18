/**
 * Easement points against Fresnel integrals from two libraries, and against two printed tables
 * (values and how they are known in data/curves.json).
 */
import { createRequire } from "node:module";
import fresnel from "@stdlib/math-base-special-fresnel";
import { describe, expect, it } from "vitest";
import { type Segment, segmentPose } from "../../src/geometry/segment.js";
import curves from "./data/curves.json" with { type: "json" };

/** Loaded without its types: the package does not export them. */
const { fresnl } = createRequire(import.meta.url)("cephes") as {
  fresnl: (x: number) => readonly [number, { readonly ssa: number; readonly cca: number }];
};

interface Integrals {
  readonly C: number;
  readonly S: number;
}
type Library = (x: number) => Integrals;

const stdlib: Library = (x) => {
  const [S = Number.NaN, C = Number.NaN] = fresnel(x);
  return { C, S };
};
const cephes: Library = (x) => {
  const [, { ssa, cca }] = fresnl(x);
  return { C: cca, S: ssa };
};

/** Where a segment leads by Fresnel integrals: the curve is part of one spiral, moved and turned. */
function byFresnel(g: Segment, s: number, library: Library): { x: number; y: number } {
  const slope = (g.k1 - g.k0) / g.length;
  const sign = Math.sign(slope);
  const scale = Math.sqrt(Math.PI / Math.abs(slope));
  const begin = (sign * g.k0) / Math.abs(slope);
  const [a, b] = [library(begin / scale), library((begin + s) / scale)];
  const [dx, dy] = [scale * (b.C - a.C), scale * (b.S - a.S)];
  const turn = (-g.k0 * g.k0) / (2 * Math.abs(slope));
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return { x: dx * cos - dy * sin, y: sign * (dx * sin + dy * cos) };
}

const SEGMENTS: readonly (readonly [string, Segment])[] = [
  ["easement of a 610 mm curve", { length: 400, k0: 0, k1: 1 / 610 }],
  ["right-hand easement", { length: 300, k0: 0, k1: -1 / 250 }],
  ["easement run out of", { length: 300, k0: 1 / 250, k1: 0 }],
  ["easement between two curves of one hand", { length: 500, k0: 1 / 900, k1: 1 / 500 }],
  ["easement through a reverse curve", { length: 700, k0: 1 / 600, k1: -1 / 450 }],
  ["prototype spiral", { length: 60_000, k0: 0, k1: 1 / 290_000 }],
  ["spiral of several turns", { length: 4_000, k0: 0, k1: 1 / 140 }],
  ["spiral through several turns both ways", { length: 5_000, k0: -1 / 150, k1: 1 / 180 }],
];

describe.each([
  ["stdlib", stdlib],
  ["cephes", cephes],
] as const)("easement points by %s", (_name, library) => {
  it.each(SEGMENTS)("%s", (_what, g) => {
    for (let i = 1; i <= 40; i++) {
      const s = (g.length * i) / 40;
      const ours = segmentPose(g, s);
      const theirs = byFresnel(g, s, library);
      expect(Math.hypot(ours.x - theirs.x, ours.y - theirs.y)).toBeLessThan(g.length > 10_000 ? 1e-8 : 1e-9);
    }
  });
});

describe("printed Fresnel integrals", () => {
  // Each value is printed to about 16 digits; the quadrature rounds a little at 600 radians.
  const TABLES = [curves.F1, curves.F2].flatMap(({ published, cite }) => published.map((row) => ({ ...row, cite })));
  it.each(TABLES)("x = $x ($cite)", ({ x, C, S }) => {
    const end = segmentPose({ length: x, k0: 0, k1: Math.PI * x }, x);
    expect(end.x).toBeCloseTo(C, 13);
    expect(end.y).toBeCloseTo(S, 13);
  });
});
