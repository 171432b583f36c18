/**
 * A segment: a length of curve whose curvature changes linearly from one end to the other. Straight (0,0),
 * circular (k,k) and easement (0,k) are all the same thing; every piece of track is a chain of them.
 *
 * Always holds: `segmentPose(g, 0)` is the origin; reversing twice gives the segment back;
 * `splitSegment` at s keeps length and total turn; straight and circular are closed form.
 */
import type { Pose } from "./pose.js";
import type { Curvature, Millimetres, Radians } from "./units.js";

export interface Segment {
  readonly length: Millimetres;
  /** Curvature at the start, left positive. */
  readonly k0: Curvature;
  /** Curvature at the end. */
  readonly k1: Curvature;
}

export const straight = (length: Millimetres): Segment => ({ length, k0: 0, k1: 0 });

export const segmentCurvature = (g: Segment, s: Millimetres): Curvature =>
  g.length > 0 ? g.k0 + ((g.k1 - g.k0) * s) / g.length : g.k0;

/** Heading gained from the start to s. */
export const segmentTurn = (g: Segment, s: Millimetres = g.length): Radians =>
  g.length > 0 ? s * (g.k0 + ((g.k1 - g.k0) * s) / (2 * g.length)) : 0;

export const reverseSegment = (g: Segment): Segment => ({ length: g.length, k0: -g.k1, k1: -g.k0 });
export const mirrorSegment = (g: Segment): Segment => ({ length: g.length, k0: -g.k0, k1: -g.k1 });

export function splitSegment(g: Segment, s: Millimetres): [Segment, Segment] {
  const k = segmentCurvature(g, s);
  return [
    { length: s, k0: g.k0, k1: k },
    { length: g.length - s, k0: k, k1: g.k1 },
  ];
}

/**
 * Gauss-Legendre nodes and weights, 16 points on [-1, 1], positive half. Values: Abramowitz & Stegun, Handbook of
 * Mathematical Functions, table 25.4 (n = 16); checked in the tests against Fresnel integrals from two other libraries.
 */
const GAUSS: readonly (readonly [number, number])[] = [
  [0.0950125098376374, 0.1894506104550685],
  [0.2816035507792589, 0.1826034150449236],
  [0.4580167776572274, 0.1691565193950025],
  [0.6178762444026438, 0.1495959888165767],
  [0.755404408355003, 0.1246289712555339],
  [0.8656312023878318, 0.0951585116824928],
  [0.9445750230732326, 0.0622535239386479],
  [0.9894009349916499, 0.0271524594117541],
];

/** Largest change of heading a single 16-point rule is trusted with; its error there is below 1e-15 of the length. */
const TURN_PER_RULE = 2;

/** Below this the curvature change or curvature is lost in double precision and the closed form of the simpler kind is exact. */
const NEGLIGIBLE_TURN = 1e-13;

/**
 * Where the segment leads in its own frame: starts at (0, 0) looking along +x.
 * `s` outside [0, length] continues the same law of curvature.
 */
export function segmentPose(g: Segment, s: Millimetres): Pose {
  const a = g.k0;
  const b = g.length > 0 ? (g.k1 - g.k0) / g.length : 0;
  const turnFromSlope = (b * s * s) / 2;
  if (Math.abs(turnFromSlope) < NEGLIGIBLE_TURN) return arcPose(a + (b * s) / 2, s);
  const heading = a * s + turnFromSlope;
  // The heading may swing both ways inside the segment, so bound it by both parts.
  const swing = Math.abs(a * s) + Math.abs(turnFromSlope);
  const rules = Math.max(1, Math.ceil(swing / TURN_PER_RULE));
  const half = s / rules / 2;
  let x = 0;
  let y = 0;
  for (let i = 0; i < rules; i++) {
    const middle = (2 * i + 1) * half;
    for (const [node, weight] of GAUSS) {
      const u = middle - node * half;
      const v = middle + node * half;
      const tu = u * (a + (b * u) / 2);
      const tv = v * (a + (b * v) / 2);
      x += weight * (Math.cos(tu) + Math.cos(tv));
      y += weight * (Math.sin(tu) + Math.sin(tv));
    }
  }
  return { x: x * half, y: y * half, heading };
}

/** Closed form for constant curvature; stable where the curvature vanishes. */
function arcPose(k: Curvature, s: Millimetres): Pose {
  const heading = k * s;
  const half = heading / 2;
  const chord = Math.abs(half) < 1e-8 ? s : (s * Math.sin(half)) / half;
  return { x: chord * Math.cos(half), y: chord * Math.sin(half), heading };
}
