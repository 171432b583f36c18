/**
 * Envelopes by brute force: a car is put on a way at every fifth of a millimetre, its trucks by bisection, and what its centre line
 * reaches beyond the way is noted wherever the way's normal meets it. Shares nothing with the product but points of paths.
 */
import { type Path, poseAt } from "../../src/geometry/path.js";
import type { Layout } from "../../src/layout/layout.js";
import type { LineKey } from "../../src/layout/line.js";

/** Part of a line; run against its direction where `from` is the greater. */
export type Stretch = readonly [line: LineKey, from: number, to: number];

export interface Car {
  readonly length: number;
  readonly truckCentres: number;
}

export interface SampledWay {
  readonly x: number[];
  readonly y: number[];
  readonly heading: number[];
  /** Reach to the left and right at each millimetre. */
  readonly left: number[];
  readonly right: number[];
}

const STEP = 1;
/** The end of a car reaches a third of this too little at most on curves of the tests. */
const CAR_STEP = 0.2;

/** A way as points a millimetre apart, in the order of its stretches. */
export function sampleWay(layout: Layout, stretches: readonly Stretch[], car: Car): SampledWay {
  const way: SampledWay = { x: [], y: [], heading: [], left: [], right: [] };
  let over = 0;
  for (const [key, from, to] of stretches) {
    const path = layout.lines.get(key)?.path as Path;
    const length = Math.abs(to - from);
    const turn = to < from ? Math.PI : 0;
    let s = over;
    for (; s < length; s += STEP) {
      const pose = poseAt(path, from + Math.sign(to - from) * s);
      way.x.push(pose.x);
      way.y.push(pose.y);
      way.heading.push(pose.heading + turn);
    }
    over = s - length;
  }
  way.left.push(...way.x.map(() => 0));
  way.right.push(...way.x.map(() => 0));
  const at = (values: number[], s: number): number => {
    const i = Math.min(Math.max(0, Math.floor(s)), values.length - 2);
    return (values[i] ?? 0) + (s - i) * ((values[i + 1] ?? 0) - (values[i] ?? 0));
  };
  const cos = way.heading.map(Math.cos);
  const sin = way.heading.map(Math.sin);
  const overhang = (car.length - car.truckCentres) / 2;
  for (let rear = 0; rear + 1.1 * car.truckCentres < way.x.length; rear += CAR_STEP) {
    const [rx, ry] = [at(way.x, rear), at(way.y, rear)];
    let [low, high] = [rear + 0.5 * car.truckCentres, rear + 1.1 * car.truckCentres];
    for (let i = 0; i < 30; i++) {
      const middle = (low + high) / 2;
      if (Math.hypot(at(way.x, middle) - rx, at(way.y, middle) - ry) < car.truckCentres) low = middle;
      else high = middle;
    }
    const [ux, uy] = [(at(way.x, low) - rx) / car.truckCentres, (at(way.y, low) - ry) / car.truckCentres];
    for (let p = Math.floor(rear - overhang - 5); p <= low + overhang + 5; p++) {
      const px = way.x[p];
      const py = way.y[p];
      const [c, d] = [cos[p] ?? 1, sin[p] ?? 0];
      if (px === undefined || py === undefined) continue;
      const along = ((px - rx) * c + (py - ry) * d) / (c * ux + d * uy);
      if (along < -overhang || along > car.truckCentres + overhang) continue;
      const reach = (ry + along * uy - py) * c - (rx + along * ux - px) * d;
      way.left[p] = Math.max(way.left[p] ?? 0, reach);
      way.right[p] = Math.max(way.right[p] ?? 0, -reach);
    }
  }
  return way;
}

/** What the spacing of point i of a to b is worth: distance less what cars on both reach toward each other there. */
export function sampledWorth(a: SampledWay, i: number, b: SampledWay): number {
  const [px, py] = [a.x[i] ?? 0, a.y[i] ?? 0];
  let [best, j] = [Number.POSITIVE_INFINITY, 0];
  b.x.forEach((x, k) => {
    const apart = Math.hypot(x - px, (b.y[k] ?? 0) - py);
    if (apart < best) [best, j] = [apart, k];
  });
  const toward = (way: SampledWay, k: number, x: number, y: number): number => {
    const heading = way.heading[k] ?? 0;
    const [dx, dy] = [x - (way.x[k] ?? 0), y - (way.y[k] ?? 0)];
    return (Math.cos(heading) * dy - Math.sin(heading) * dx > 0 ? way.left[k] : way.right[k]) ?? 0;
  };
  // Points stand a millimetre apart: the foot lies up to half of that off the nearest.
  const across = Math.abs(
    -Math.sin(b.heading[j] ?? 0) * (px - (b.x[j] ?? 0)) + Math.cos(b.heading[j] ?? 0) * (py - (b.y[j] ?? 0)),
  );
  return across - toward(a, i, b.x[j] ?? 0, b.y[j] ?? 0) - toward(b, j, px, py);
}
