/**
 * Where lines come within reach of one another: every pair's distance by a general geometry library (jsts, a port of
 * JTS), against the layout's meetings, on the same sampled lines. The answers are compared, and must agree.
 */
import { deriveLayout, meetingReach } from "../src/layout/derive.js";
import { deriveMeetings } from "../src/layout/meetings.js";
import { distanceBetween, lineThrough } from "../tests/oracles/second-geometry.js";
import { hallPlan } from "./plans.js";
import type { Result } from "./report.js";
import { medianOf, timed } from "./timing.js";

const TRACKS = 60;

/** Chords of samples lie within 0.05 mm of either line, and meetings within 0.1 mm of the lines' own distance. */
const AGREE = 0.2;

export function measureClearance(): Result[] {
  const plan = hallPlan(TRACKS);
  const { lines, profiles } = deriveLayout(plan);
  const reach = meetingReach(plan);
  const all = [...lines.values()];
  const shapes = all.map(({ samples: { x, y } }) =>
    lineThrough(Array.from(x, (value, i) => ({ x: value, y: y[i] ?? 0 }))),
  );
  const distances = new Map<string, number>();
  const theirs = timed(() => {
    for (let i = 0; i < all.length; i++) {
      for (let j = i + 1; j < all.length; j++) {
        const [a, b] = [shapes[i], shapes[j]];
        if (a && b) distances.set(pairName(all[i]?.key ?? "", all[j]?.key ?? ""), distanceBetween(a, b));
      }
    }
  });
  let meetings = deriveMeetings(lines, profiles, reach);
  const ours = medianOf(9, () => {
    // New line objects, so that nothing remembered of the others helps.
    const fresh = new Map([...lines].map(([key, line]) => [key, { ...line }]));
    meetings = deriveMeetings(fresh, profiles, reach);
  });
  const nearest = new Map<string, number>();
  for (const { a, b, places } of meetings.meetings) {
    const name = pairName(a, b);
    for (const { apart } of places) nearest.set(name, Math.min(nearest.get(name) ?? Number.POSITIVE_INFINITY, apart));
  }
  let differ = 0;
  let near = 0;
  for (const [name, distance] of distances) {
    const own = nearest.get(name);
    if (own !== undefined) near++;
    if (own === undefined ? distance < reach - AGREE : Math.abs(own - distance) > AGREE) differ++;
  }
  return [
    {
      name: "clearance of every pair of tracks against a general geometry library",
      value: theirs / ours,
      unit: "times as fast",
      goal: { least: 50 },
      note:
        `${all.length} lines, ${distances.size} pairs, ${near} within ${reach.toFixed(0)} mm; ` +
        `${theirs.toFixed(0)} and ${ours.toFixed(1)} ms; ` +
        (differ === 0 ? "all answers agree" : `${differ} answers DIFFER`),
      ...(differ > 0 && { wrong: true }),
    },
  ];
}

const pairName = (a: string, b: string): string => (a < b ? `${a} ${b}` : `${b} ${a}`);
