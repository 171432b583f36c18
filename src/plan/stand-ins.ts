/** What stands in where a plan file's own words cannot be read; never silently, the report names each use. */
import { type Body, BODIES, findScale, scalesOf, standardScale } from "../standards/scales.js";
import { emptyPlan } from "./empty-plan.js";
import { presetStandards } from "./presets.js";
import type { Plan, Room, Standards } from "./schema.js";

const EMPTY = emptyPlan({ title: "", width: 5000, depth: 4000, scale: "HO", units: "metric" });

export const STAND_IN_ROOM: Room = EMPTY.room;
export const STAND_IN_SCALE: Plan["scale"] = EMPTY.scale;

/** Settings for a scale that may be nobody's: those of the scale nearest in ratio. `body` is what the file says. */
export function standInStandards(scale: Plan["scale"], body: unknown): Standards {
  const found: Body = BODIES.find((known) => known === body) ?? "NMRA";
  const far = (ratio: number): number => Math.abs(Math.log(ratio / scale.ratio));
  const [nearest] = [...scalesOf(found)].sort((a, b) => far(a.ratio) - far(b.ratio));
  return presetStandards(findScale(scale.name, found) ?? nearest ?? standardScale("HO", found));
}
