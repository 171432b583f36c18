/** Headings and positions of whole paths against a general solver of differential equations (odex: Hairer's ODEX). */
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { joinPoses } from "../../src/geometry/join.js";
import { curvatureAt, makePath, type Path, poseAt } from "../../src/geometry/path.js";
import type { Segment } from "../../src/geometry/segment.js";
import { easedTurn } from "../../src/geometry/turn.js";
import { seeded } from "../support/shapes.js";

interface OdeSolver {
  relativeTolerance: number;
  absoluteTolerance: number;
  maxSteps: number;
  solve(f: (s: number, y: number[]) => number[], from: number, y: readonly number[], to: number): { y: number[] };
}
/** Loaded without its types: it ships sources that do not pass strict checks. */
const { Solver } = createRequire(import.meta.url)("odex") as { Solver: new (size: number) => OdeSolver };

function seededNumbers(seed: number): (min: number, max: number) => number {
  const random = seeded(seed);
  return (min, max) => min + (max - min) * random();
}

/** Largest distance, and difference of heading, from the solver's answer at all segment borders and between them. */
function farthest(path: Path): { mm: number; rad: number } {
  let state = [path.start.x, path.start.y, path.start.heading];
  let worst = { mm: 0, rad: 0 };
  path.segments.forEach((g, i) => {
    const begin = path.stations[i] ?? 0;
    for (const [from, to] of [
      [0, 0.4],
      [0.4, 1],
    ] as const) {
      const solver = new Solver(3);
      solver.relativeTolerance = 1e-13;
      solver.absoluteTolerance = 1e-13;
      const bend = (s: number): number => g.k0 + ((g.k1 - g.k0) * s) / g.length;
      const law = (s: number, [, , heading = 0]: number[]): number[] => [Math.cos(heading), Math.sin(heading), bend(s)];
      state = solver.solve(law, from * g.length, state, to * g.length).y;
      const ours = poseAt(path, begin + to * g.length);
      const [x = Number.NaN, y = Number.NaN, heading = Number.NaN] = state;
      worst = {
        mm: Math.max(worst.mm, Math.hypot(ours.x - x, ours.y - y)),
        rad: Math.max(worst.rad, Math.abs(ours.heading - heading)),
      };
    }
    expect(curvatureAt(path, begin + 0.4 * g.length)).toBeCloseTo(g.k0 + 0.4 * (g.k1 - g.k0), 12);
  });
  return worst;
}

describe("paths against the solver", () => {
  it("random chains of segments", () => {
    const random = seededNumbers(20);
    for (let n = 0; n < 40; n++) {
      const segments: Segment[] = Array.from({ length: 5 }, () => ({
        length: random(20, 900),
        k0: random(-1 / 200, 1 / 200),
        k1: random(-1 / 200, 1 / 200),
      }));
      const worst = farthest(
        makePath({ x: random(-500, 500), y: random(-500, 500), heading: random(-4, 4) }, segments),
      );
      expect(worst.mm).toBeLessThan(1e-7);
      expect(worst.rad).toBeLessThan(1e-9);
    }
  });

  it("a helix of three turns, eased at both ends", () => {
    const turn = easedTurn({ radius: 610, angle: 6 * Math.PI + 1, hand: "right", easeIn: 400, easeOut: 300 });
    const worst = farthest(makePath({ x: 10, y: 20, heading: 1 }, turn));
    expect(worst.mm).toBeLessThan(1e-7);
    expect(worst.rad).toBeLessThan(1e-9);
  });

  it("joins of random poses end where the solver says", () => {
    const random = seededNumbers(21);
    for (let n = 0; n < 30; n++) {
      const goal = { x: random(-2000, 2000), y: random(-2000, 2000), heading: random(-3, 3) };
      const path = joinPoses({ x: 0, y: 0, heading: 0 }, goal, {
        radius: random(300, 900),
        easement: random(100, 500),
      });
      expect(path).toBeDefined();
      expect(path ? farthest(path).mm : Number.NaN).toBeLessThan(1e-7);
    }
  });
});
