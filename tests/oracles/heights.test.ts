/** Heights against a dense solve of the same least-squares conditions by ml-matrix (Cholesky and LU, not ours). */
import fc from "fast-check";
import { CholeskyDecomposition, LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { type Link, solveHeights } from "../../src/layout/height-solve.js";

/** Gradient of sum rise^2 / length set to nothing: (sum g) h_i - sum g_j h_j = sum g_pin h_pin. */
function denseHeights(
  count: number,
  links: readonly Link[],
  pinned: Float64Array,
  solve: (a: Matrix, b: Matrix) => Matrix,
): number[] {
  const free = [...pinned.keys()].filter((i) => Number.isNaN(pinned[i] ?? 0));
  const row = new Map(free.map((node, i) => [node, i]));
  const a = Matrix.zeros(free.length, free.length);
  const b = Matrix.zeros(free.length, 1);
  for (const { a: from, b: to, length } of links) {
    for (const [one, other] of [
      [from, to],
      [to, from],
    ] as const) {
      const i = row.get(one);
      if (i === undefined || one === other) continue;
      const j = row.get(other);
      a.set(i, i, a.get(i, i) + 1 / length);
      if (j === undefined) b.set(i, 0, b.get(i, 0) + (pinned[other] ?? 0) / length);
      else a.set(i, j, a.get(i, j) - 1 / length);
    }
  }
  const x = free.length > 0 ? solve(a, b) : b;
  return Array.from({ length: count }, (_, n) => (row.has(n) ? x.get(row.get(n) ?? 0, 0) : (pinned[n] ?? 0)));
}

const SOLVERS = {
  Cholesky: (a: Matrix, b: Matrix) => new CholeskyDecomposition(a).solve(b),
  LU: (a: Matrix, b: Matrix) => new LuDecomposition(a).solve(b),
};

interface Mesh {
  readonly count: number;
  readonly links: readonly Link[];
  readonly pinned: Float64Array;
}

const random = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
};

function meshOf(count: number, extra: number, pins: number, shortest: number, seed: number): Mesh {
  const next = random(seed);
  const length = (): number => shortest * (20_000 / shortest) ** next();
  const links: Link[] = [];
  // Trackwork is mostly long chains: a node hangs on one shortly before it.
  for (let i = 1; i < count; i++)
    links.push({ a: i, b: Math.max(0, i - 1 - Math.floor(4 * next() ** 3)), length: length() });
  for (let i = 0; i < extra; i++) {
    links.push({ a: Math.floor(count * next()), b: Math.floor(count * next()), length: length() });
  }
  const pinned = new Float64Array(count).fill(Number.NaN);
  for (let i = 0; i < pins; i++) pinned[Math.floor(count * next())] = 800 + 600 * next();
  return { count, links, pinned };
}

const worst = (mesh: Mesh, solve: (a: Matrix, b: Matrix) => Matrix): number => {
  const ours = solveHeights(mesh.count, mesh.links, mesh.pinned);
  const theirs = denseHeights(mesh.count, mesh.links, mesh.pinned, solve);
  return Math.max(...theirs.map((h, i) => Math.abs(h - (ours[i] ?? Number.NaN))));
};

describe("heights against a dense solve (ml-matrix)", () => {
  it.each(Object.entries(SOLVERS))("random networks of 5 to 60 nodes, %s", (_, solve) => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 2 ** 30 }),
        (count, extra, pins, seed) => {
          expect(worst(meshOf(count, extra, pins, 20, seed), solve)).toBeLessThan(1e-6);
        },
      ),
      { seed: 41, numRuns: 200 },
    );
  });

  it.each([
    [100, 20, 4],
    [200, 300, 10],
    [300, 0, 2],
    [300, 60, 8],
    [300, 900, 3],
  ])("%i nodes, %i links beyond a tree, %i pins", (count, extra, pins) => {
    for (let seed = 1; seed <= 3; seed++) {
      expect(worst(meshOf(count, extra, pins, 20, seed), SOLVERS.Cholesky)).toBeLessThan(1e-6);
    }
  });

  it("keeps its accuracy where a 0.05 mm gap stands beside 20 m of run", () => {
    for (let seed = 1; seed <= 5; seed++) {
      expect(worst(meshOf(150, 60, 4, 0.05, seed), SOLVERS.LU)).toBeLessThan(1e-6);
    }
  });
});
