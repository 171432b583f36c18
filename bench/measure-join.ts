/**
 * Time of an eased join, against what it is made of: a plain shortest path of arcs and straights, and the end of one
 * easement. There is no second implementation of eased paths here, so the ratio to the published goal's C++ stays open.
 */
import { joinPoses } from "../src/geometry/join.js";
import { segmentPose } from "../src/geometry/segment.js";
import type { Pose } from "../src/geometry/pose.js";
import { seeded } from "./plans.js";
import type { Result } from "./report.js";
import { medianOf } from "./timing.js";

const GOALS = 2000;
const RADIUS = 600;
const EASEMENT = 300;

export function measureJoin(): Result[] {
  const random = seeded(7);
  const from: Pose = { x: 0, y: 0, heading: 0 };
  const goals = Array.from({ length: GOALS }, (): Pose => {
    return { x: 6000 * (random() - 0.5), y: 6000 * (random() - 0.5), heading: 2 * Math.PI * random() };
  });
  let sum = 0;
  const each = (easement: number): number =>
    medianOf(5, () => {
      for (const goal of goals) sum += joinPoses(from, goal, { radius: RADIUS, easement })?.length ?? 0;
    }) / GOALS;
  const eased = each(EASEMENT);
  const plain = each(0);
  const evaluation =
    medianOf(5, () => {
      for (let i = 0; i < 100 * GOALS; i++) {
        sum += segmentPose({ length: EASEMENT + (i % 64), k0: 0, k1: 1 / RADIUS }, EASEMENT).x;
      }
    }) /
    (100 * GOALS);
  if (!Number.isFinite(sum)) throw new Error("a join came to nothing");
  return [
    {
      name: "an eased join against a plain one (arcs and straights) by the same code",
      value: eased / plain,
      unit: "times as long",
      note:
        `${(1000 * eased).toFixed(1)} and ${(1000 * plain).toFixed(1)} microseconds a call; ` +
        `as long as ${(eased / evaluation).toFixed(0)} ends of an easement (${(1e6 * evaluation).toFixed(0)} ns each); ` +
        "no C++ here to compare with",
    },
  ];
}
