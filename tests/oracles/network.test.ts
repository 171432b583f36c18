/**
 * Which way trains can run, against an account that knows nothing of nodes and sides: pieces of line are joined where
 * one ends in the very place and direction in which another begins, and the closure of that relation is taken with a
 * general matrix library (ml-matrix).
 */
import { Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { poseAt } from "../../src/geometry/path.js";
import { type Pose, reversePose, samePose } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Plan } from "../../src/plan/schema.js";
import { hallPlan } from "../../bench/plans.js";
import { runName, runsReached } from "../layout/network-walk.js";
import { at, curve, endOf, from, join, planOf, startOf, straight, track, turnout, wye } from "../layout/small-plan.js";

interface Piece {
  readonly name: string;
  readonly begins: Pose;
  readonly ends: Pose;
}

/** Every edge run both ways, by where it lies alone. */
function piecesOf(layout: Layout): Piece[] {
  return layout.network.edges.flatMap((edge) => {
    const path = layout.lines.get(edge.line)?.path;
    if (!path) return [];
    const [a, b] = [poseAt(path, edge.from), poseAt(path, edge.to)];
    return [
      { name: runName({ edge: edge.index, forwards: true }), begins: a, ends: b },
      { name: runName({ edge: edge.index, forwards: false }), begins: reversePose(b), ends: reversePose(a) },
    ];
  });
}

/** Pieces reached from each, by closing the relation "goes on in": squares of a matrix until it holds still. */
function closure(pieces: readonly Piece[]): Matrix {
  const n = pieces.length;
  let reach = Matrix.zeros(n, n);
  pieces.forEach((p, i) => {
    pieces.forEach((q, j) => {
      if (samePose(p.ends, q.begins, 0.06, 1e-3)) reach.set(i, j, 1);
    });
  });
  for (let steps = 1; steps < n; steps *= 2) {
    const twice = reach.mmul(reach).add(reach);
    reach = Matrix.from1DArray(
      n,
      n,
      twice.to1DArray().map((value) => (value > 0 ? 1 : 0)),
    );
  }
  return reach;
}

const PLANS: Readonly<Record<string, Plan>> = {
  "a balloon loop": planOf({
    tracks: {
      main: track(at(1000, 3000), [straight(2000)]),
      loop: track(from("b"), [straight(300), curve(700, 200), join(endOf("main"), 700)]),
    },
    turnouts: { b: turnout("main", 1000) },
  }),
  "a triangle with a tail": planOf({
    tracks: {
      main: track(at(1000, 1000), [straight(4000)]),
      stem: track(at(3000, 3000, -90), [straight(300)]),
      west: track(from("y", "right"), [join(from("w"), 600)]),
      east: track(from("y", "left"), [join(from("e"), 600)]),
      tail: track(startOf("stem"), [straight(800)]),
    },
    turnouts: {
      y: wye("stem"),
      w: turnout("main", 1000),
      e: turnout("main", 3000, { hand: "right", facing: "against" }),
    },
  }),
  "an oval with a reversing cut-off": planOf({
    tracks: {
      oval: track(at(2000, 1000), [straight(3000), curve(1000, 180), straight(3000), join(startOf("oval"), 1000)]),
      cut: track(from("a"), [join(from("b"), 500)]),
      stub: track(from("c"), [straight(200)]),
      more: track(endOf("stub"), [straight(100)]),
      head: track(at(9000, 4000, 180), [straight(200), join(endOf("more"), 500)]),
    },
    turnouts: {
      a: turnout("oval", 300),
      b: turnout("oval", 6700, { facing: "with" }),
      c: turnout("oval", 2500, { hand: "right", facing: "against" }),
    },
  }),
  "a district of a hall": hallPlan(20),
  "two districts of a hall": hallPlan(40),
};

describe("trains reach what geometry lets them reach, and nothing else", () => {
  it.each(Object.entries(PLANS))("%s", (_, plan) => {
    const layout = deriveLayout(plan);
    expect(layout.findings).toEqual([]);
    const pieces = piecesOf(layout);
    const reach = closure(pieces);
    let pairs = 0;
    pieces.forEach((piece, i) => {
      const theirs = pieces.filter((__, j) => reach.get(i, j) > 0).map(({ name }) => name);
      const ours = runsReached(layout.network, { edge: i >> 1, forwards: i % 2 === 0 });
      expect({ from: piece.name, to: [...ours].sort() }).toEqual({ from: piece.name, to: theirs.sort() });
      pairs += theirs.length;
    });
    expect(pairs).toBeGreaterThan(pieces.length / 2);
  });
});
