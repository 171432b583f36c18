/**
 * A route laid out straight: where along it every place lies, with its height, curvature and hidden stretches.
 * Always holds: heights are those of the layout at the same place; distances run from 0 to the route's length.
 */
import { piecesOf } from "../../drafting/hidden-pieces.js";
import type { Layout } from "../../layout/layout.js";
import type { LinePlace } from "../../layout/line.js";
import { heightAt, type Profile } from "../../layout/profile.js";
import { type Route, type Stretch, stretchLength } from "../../layout/route.js";

export interface Leg {
  readonly stretch: Stretch;
  /** Distance along the route at which the stretch begins. */
  readonly begins: number;
  readonly length: number;
  /** +1 where the line is run its own way, else -1. */
  readonly way: 1 | -1;
}

export interface ProfilePoint {
  readonly d: number;
  readonly h: number;
}

export function legsOf(route: Route): Leg[] {
  let begins = 0;
  return route.stretches.map((stretch) => {
    const length = stretchLength(stretch);
    const leg: Leg = { stretch, begins, length, way: stretch.to >= stretch.from ? 1 : -1 };
    begins += length;
    return leg;
  });
}

const MEANT_THE_SAME = 1e-6;

/** Distance along the route of a place on one of its legs; undefined where the leg does not run over it. */
export function distanceOn(leg: Leg, place: LinePlace): number | undefined {
  if (place.line !== leg.stretch.line) return undefined;
  const within = (place.s - leg.stretch.from) * leg.way;
  return within >= -MEANT_THE_SAME && within <= leg.length + MEANT_THE_SAME ? leg.begins + within : undefined;
}

/** Chords of a vertical curve; its middle ordinate then errs by a 256th. */
const CHORDS = 16;

/** Heights of a leg: a point wherever the grade changes, and chords along vertical curves. */
function heightsOf(layout: Layout, leg: Leg): ProfilePoint[] {
  const profile = layout.profiles.get(leg.stretch.line);
  if (!profile) return [];
  const low = Math.min(leg.stretch.from, leg.stretch.to);
  const high = Math.max(leg.stretch.from, leg.stretch.to);
  const stations = new Set([low, high]);
  const add = (s: number) => {
    if (s > low && s < high) stations.add(s);
  };
  profile.stations.forEach(add);
  for (const curve of profile.curves) {
    for (let i = 0; i <= CHORDS; i++) add(curve.at + curve.length * (i / CHORDS - 0.5));
  }
  return [...stations]
    .map((s) => ({ d: leg.begins + (s - leg.stretch.from) * leg.way, h: heightAt(profile, s) }))
    .sort((a, b) => a.d - b.d);
}

export const routeHeights = (layout: Layout, legs: readonly Leg[]): ProfilePoint[] =>
  legs.flatMap((leg) => heightsOf(layout, leg));

/** Stretches of the route by whether they are hidden, as distances along it. */
export function routePieces(layout: Layout, legs: readonly Leg[]): { from: number; to: number; hidden: boolean }[] {
  const found: { from: number; to: number; hidden: boolean }[] = [];
  for (const leg of legs) {
    const line = layout.lines.get(leg.stretch.line);
    if (!line) continue;
    const low = Math.min(leg.stretch.from, leg.stretch.to);
    const high = Math.max(leg.stretch.from, leg.stretch.to);
    const parts = piecesOf(layout, line)
      .filter((piece) => piece.to > low && piece.from < high)
      .map((piece) => {
        const ends = [Math.max(piece.from, low), Math.min(piece.to, high)].map(
          (s) => leg.begins + (s - leg.stretch.from) * leg.way,
        );
        return { from: Math.min(...ends), to: Math.max(...ends), hidden: piece.hidden };
      })
      .sort((a, b) => a.from - b.from);
    for (const part of parts) {
      const before = found.at(-1);
      if (before && before.hidden === part.hidden) found[found.length - 1] = { ...before, to: part.to };
      else found.push(part);
    }
  }
  return found;
}

export interface GradeRun {
  readonly from: number;
  readonly to: number;
  /** Percent, up along the route positive. */
  readonly percent: number;
}

/** Grades nearer to one another than this are one stretch to the eye, percent. */
const SAME_GRADE = 0.05;

/** The straight grades along the route, vertical curves left out, neighbours of one grade as one. */
export function gradeRuns(layout: Layout, legs: readonly Leg[]): GradeRun[] {
  const found: GradeRun[] = [];
  for (const leg of legs) {
    const profile = layout.profiles.get(leg.stretch.line);
    if (!profile) continue;
    const runs = gradesOf(profile, leg);
    for (const run of leg.way === 1 ? runs : runs.reverse()) {
      const before = found.at(-1);
      if (before && Math.abs(before.percent - run.percent) < SAME_GRADE) {
        const length = run.to - before.from;
        const rise = before.percent * (before.to - before.from) + run.percent * (run.to - run.from);
        found[found.length - 1] = { from: before.from, to: run.to, percent: length > 0 ? rise / length : 0 };
      } else found.push(run);
    }
  }
  return found;
}

function gradesOf(profile: Profile, leg: Leg): GradeRun[] {
  const low = Math.min(leg.stretch.from, leg.stretch.to);
  const high = Math.max(leg.stretch.from, leg.stretch.to);
  const runs: GradeRun[] = [];
  for (let i = 1; i < profile.stations.length; i++) {
    const s0 = profile.stations[i - 1] ?? 0;
    const s1 = profile.stations[i] ?? s0;
    const a = Math.max(s0, low);
    const b = Math.min(s1, high);
    if (b <= a) continue;
    const slope = ((profile.heights[i] ?? 0) - (profile.heights[i - 1] ?? 0)) / (s1 - s0);
    const ends = [a, b].map((s) => leg.begins + (s - leg.stretch.from) * leg.way);
    runs.push({ from: Math.min(...ends), to: Math.max(...ends), percent: slope * leg.way * 100 });
  }
  return runs;
}

/** Curvature along the route, left turns positive: a point at either side of every segment border. */
export function routeCurvature(layout: Layout, legs: readonly Leg[]): { d: number; k: number }[] {
  const found: { d: number; k: number }[] = [];
  for (const leg of legs) {
    const path = layout.lines.get(leg.stretch.line)?.path;
    if (!path) continue;
    const low = Math.min(leg.stretch.from, leg.stretch.to);
    const high = Math.max(leg.stretch.from, leg.stretch.to);
    const points: { d: number; k: number }[] = [];
    path.segments.forEach((segment, i) => {
      const begin = path.stations[i] ?? 0;
      const a = Math.max(begin, low);
      const b = Math.min(begin + segment.length, high);
      if (b <= a) return;
      for (const s of [a, b]) {
        const k = segment.k0 + ((segment.k1 - segment.k0) * (s - begin)) / segment.length;
        points.push({ d: leg.begins + (s - leg.stretch.from) * leg.way, k: k * leg.way });
      }
    });
    found.push(...(leg.way === 1 ? points : points.reverse()));
  }
  return found;
}
