/** Settings a plan may lack: its own where it has one, else the usual one of its scale. */
import { findScale } from "../standards/scales.js";
import { LEAST_TURNOUT } from "../standards/operation.js";
import { cite } from "../standards/cited.js";
import { presetStandards } from "./presets.js";
import type { Plan, Setting, Standards, TrackClass } from "./schema.js";
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

/** The limits a plan's scale begins with. */
export function usualStandards(plan: Pick<Plan, "scale" | "standards">): Standards {
  const { body } = plan.standards;
  const scale = body === "own" ? undefined : findScale(plan.scale.name, body);
  return scale ? presetStandards(scale) : standInStandards(plan.scale, body);
}

const usual = new WeakMap<Standards, { readonly scale: Plan["scale"]; readonly standards: Standards }>();

/** A setting of the plan, or what its scale begins with. */
export function settingOf<K extends UsualKey>(plan: Plan, key: K): Present<K> {
  const own = plan.standards[key];
  if (own) return own;
  let known = usual.get(plan.standards);
  if (known?.scale !== plan.scale) {
    known = { scale: plan.scale, standards: usualStandards(plan) };
    usual.set(plan.standards, known);
  }
  const found = known.standards[key];
  if (!found) throw new Error(`every scale begins with ${key}`);
  return found;
}

/** Least frog number of turnouts on a class of track. */
export function leastTurnout(plan: Plan, trackClass: TrackClass): Setting<number> {
  const { classes } = plan.standards;
  const figure = LEAST_TURNOUT[trackClass];
  return classes[trackClass]?.turnout ?? classes.main.turnout ?? { value: figure.value, source: cite(figure) };
}
