/** What laying shows over the sheet: ends to go on from, where the pointer is caught, figures along what is laid. */
import type { Snapped } from "../../drafting/snap.js";
import { type Path, poseAt } from "../../geometry/path.js";
import type { Point, Pose } from "../../geometry/pose.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import { type Leg, type Plan, TRACK_CLASSES, type TrackClass } from "../../plan/schema.js";
import type { Choice, Overlay, ToolInput } from "../tool.js";
import { endsInHand } from "./lay-start.js";
import { layPlain } from "./legs-toward.js";
import { sentence } from "./outcomes.js";

export const endHandles = (input: ToolInput): Overlay[] =>
  endsInHand(input).map((end) => ({ kind: "handle", at: end.pose, shape: "ring", name: end.word }));

export const caughtMark = (caught: Snapped | undefined): Overlay[] =>
  caught && caught.kind !== "free" ? [{ kind: "snap", at: caught.point, to: caught.word }] : [];

export const draftPath = (path: Path): Overlay[] => (path.length > 0 ? [{ kind: "path", path, style: "draft" }] : []);

export const refusedLine = (from: Point, to: Point, why: string): Overlay[] => [
  { kind: "line", points: [from, to], style: "refused" },
  { kind: "label", at: to, text: sentence(why), style: "refused" },
];

/** Length of every straight, radius and angle of every curve, in its middle. */
export function legFigures(from: Pose, legs: readonly Leg[], easement: number, units: Plan["units"]): Overlay[] {
  const labels: Overlay[] = [];
  let pose = from;
  for (const leg of legs) {
    const path = layPlain(pose, [leg], easement);
    const text = legText(leg, units);
    if (text !== "" && path.length > 0)
      labels.push({ kind: "label", at: poseAt(path, path.length / 2), text, style: "draft" });
    pose = path.end;
  }
  return labels;
}

export function legText(leg: Leg, units: Plan["units"]): string {
  if ("straight" in leg) return formatLength(leg.straight, units);
  if (!("curve" in leg)) return "";
  return `R ${formatLength(leg.curve.radius, units, { style: units === "imperial" ? "inches" : "mm" })}, ${formatAngle(leg.curve.angle)}`;
}

export const CLASS_WORDS: Readonly<Record<TrackClass, string>> = {
  main: "Main",
  branch: "Branch",
  siding: "Siding",
  lead: "Lead",
  yard: "Yard",
  spur: "Spur",
  staging: "Staging",
};

export const classChoice = (value: TrackClass): Choice => ({
  id: "class",
  label: "Class",
  value,
  options: TRACK_CLASSES.map((one) => ({ value: one, label: CLASS_WORDS[one] })),
});
export const asClass = (value: string): TrackClass | undefined => TRACK_CLASSES.find((one) => one === value);

/** Frog numbers offered; any other can be typed. */
const FROGS = [4, 5, 6, 7, 8, 10];
export const frogChoice = (value: number): Choice => ({
  id: "frog",
  label: "Frog number",
  value: String(value),
  options: [...new Set([...FROGS, value])].sort((a, b) => a - b).map((n) => ({ value: String(n), label: `No. ${n}` })),
});
export function asFrog(value: string): number | undefined {
  const number = Number(value);
  return number >= 2 && number <= 40 ? number : undefined;
}
/** The number most turnouts of a main or a yard are built to; common practice, no source. */
export const USUAL_FROG = 6;
