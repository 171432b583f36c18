/** Heights of the railhead above the floor, where track begins and ends, where pins hold it, and every so far between. */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { recordsInHand } from "../layout/options.js";
import { heightAt } from "../layout/profile.js";
import type { Plan } from "../plan/schema.js";
import { lengthText } from "./figures.js";
import { besideBoxes, type Ground, type Labelling, type Paper, settle, settledText, SIZE, textWidth } from "./label.js";

/** A height is told again every so many px where the track climbs, and so many where it lies level. */
const AGAIN = { climbing: 220, level: 640 } as const;
/** Shorter track, in px, has its height told once, in its middle. */
const SHORT = 120;
/** From an end of track, px. */
const INSET = 14;
/** Track that rises less over its length is level, mm. */
const LEVEL: Millimetres = 1;
/** px off the track that are tried. */
const OFF = [7, 13, 21];
const MARK = 2.2;

/** As it is written: height above the floor. */
export const heightText = (height: Millimetres, units: Plan["units"]): string => `+${lengthText(height, units)}`;

export function* heightLabels(
  paper: Paper,
  ground: Ground,
  layout: Layout,
  lines: Iterable<Line>,
  units: Plan["units"],
): Labelling {
  for (const line of lines) {
    yield undefined;
    const profile = layout.profiles.get(line.key);
    if (line.kind !== "track" || !profile) continue;
    for (const s of toldAt(paper, layout, line)) {
      const text = heightText(heightAt(profile, s), units);
      const pose = poseAt(line.path, s);
      const box = settle(ground, besideBoxes(paper, pose, 1, textWidth(text, SIZE), OFF));
      if (!box) continue;
      const at = { x: pose.x * paper.scale, y: -pose.y * paper.scale };
      yield {
        kind: "height",
        anchor: pose,
        box,
        line: line.key,
        marks: [{ kind: "ring", at, radius: MARK, ink: "ink", weight: 0.8 }, settledText(box, text, "ink")],
      };
    }
  }
}

function toldAt(paper: Paper, layout: Layout, line: Line): Millimetres[] {
  const { length } = line.path;
  if (length * paper.scale < SHORT) return [length / 2];
  const profile = layout.profiles.get(line.key);
  const heights = profile?.heights ?? [];
  const level = Math.max(...heights) - Math.min(...heights) < LEVEL;
  const inset = INSET / paper.scale;
  const pins = [...recordsInHand(layout.plan, layout.plan.pins)]
    .filter(([, pin]) => pin.track === line.id)
    .map(([, pin]) => Math.min(length - inset, Math.max(inset, pin.at)));
  const count = Math.ceil(((length - 2 * inset) * paper.scale) / (level ? AGAIN.level : AGAIN.climbing));
  const even = Array.from({ length: count + 1 }, (_, i) => inset + ((length - 2 * inset) * i) / count);
  return [...new Set([...pins, ...even])];
}
