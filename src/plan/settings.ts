/** Settings a plan may lack: its own where it has one, else the usual one of its scale. */
import type { Millimetres } from "../geometry/units.js";
import { findScale } from "../standards/scales.js";
import { LEAST_TURNOUT } from "../standards/operation.js";
import { cite } from "../standards/cited.js";
import { presetStandards } from "./presets.js";
import type { Plan, ReachAt, Setting, Standards, TrackClass } from "./schema.js";
import { standInStandards } from "./stand-ins.js";

/** Settings that every new plan begins with and an older one may lack. */
export type UsualKey =
  | "aisle"
  | "aisleWork"
  | "aislePass"
  | "aisleBackToBack"
  | "reach"
  | "reachUnder"
  | "operators"
  | "engine"
  | "yardWorks"
  | "spurWorks"
  | "gateDead"
  | "stagingSeparation";
type Present<K extends UsualKey> = NonNullable<Standards[K]>;

type Ground = Pick<Plan, "scale" | "standards">;

const usual = new WeakMap<Standards, { readonly scale: Plan["scale"]; readonly standards: Standards }>();

/** The limits a plan's scale begins with; the same object as long as scale and standards are the same. */
export function usualStandards(plan: Ground): Standards {
  const known = usual.get(plan.standards);
  if (known?.scale === plan.scale) return known.standards;
  const { body } = plan.standards;
  const scale = body === "own" ? undefined : findScale(plan.scale.name, body);
  const standards = scale ? presetStandards(scale) : standInStandards(plan.scale, body);
  usual.set(plan.standards, { scale: plan.scale, standards });
  return standards;
}

/** A setting of the plan, or what its scale begins with. */
export function settingOf<K extends UsualKey>(plan: Ground, key: K): Present<K> {
  const found = plan.standards[key] ?? usualStandards(plan)[key];
  if (!found) throw new Error(`every scale begins with ${key}`);
  return found;
}

/** Least frog number of turnouts on a class of track. */
export function leastTurnout(plan: Plan, trackClass: TrackClass): Setting<number> {
  const { classes } = plan.standards;
  const figure = LEAST_TURNOUT[trackClass];
  return classes[trackClass]?.turnout ?? classes.main.turnout ?? { value: figure.value, source: cite(figure) };
}

/** Reach over a deck of that height: between two rows in proportion, beyond the first and the last as there. */
export function reachAt(rows: readonly ReachAt[], height: Millimetres): Millimetres {
  const above = rows.findIndex((row) => row.height >= height);
  const high = rows[above] ?? rows.at(-1);
  const low = above > 0 ? rows[above - 1] : high;
  if (!high || !low) return 0;
  if (high.height <= low.height) return high.reach;
  return low.reach + ((height - low.height) / (high.height - low.height)) * (high.reach - low.reach);
}
