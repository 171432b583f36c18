/** Whether a plan that was only laid otherwise still lies where it lay: the proof an edit gives before it is done. */
import { type Path, poseAt } from "../../geometry/path.js";
import { samePose } from "../../geometry/pose.js";
import type { Millimetres, Radians } from "../../geometry/units.js";
import type { Plan } from "../../plan/schema.js";
import { deriveLayout } from "../derive.js";
import type { Layout } from "../layout.js";
import type { LineKey } from "../line.js";

/** Laid again, a line may stray this far: hand-laid curves are followed no better, and nobody builds better. */
const STRAY: { readonly mm: Millimetres; readonly rad: Radians } = { mm: 0.12, rad: 2e-3 };
/** A line is compared at so many places, ends among them. */
const PLACES = 24;

/** Lines given with the paths they should have; every other line must be there still, and nothing newly at fault. */
export function liesAsBefore(before: Layout, after: Plan, wanted: ReadonlyMap<LineKey, Path>): boolean {
  const layout = deriveLayout(after, before);
  if (layout.findings.length > before.findings.length) return false;
  for (const [key, line] of before.lines) {
    const now = layout.lines.get(key);
    if (wanted.has(key)) continue;
    if (!now || !sameWay(now.path, line.path)) return false;
  }
  return [...wanted].every(([key, path]) => {
    const now = layout.lines.get(key);
    return !!now && sameWay(now.path, path);
  });
}

function sameWay(a: Path, b: Path): boolean {
  if (a === b) return true;
  if (Math.abs(a.length - b.length) > STRAY.mm) return false;
  for (let i = 0; i <= PLACES; i++) {
    const share = i / PLACES;
    if (!samePose(poseAt(a, share * a.length), poseAt(b, share * b.length), STRAY.mm, STRAY.rad)) return false;
  }
  return true;
}
