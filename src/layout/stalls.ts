/** Stalls of turntables that track leads from or to, as `turntable:stall`. */
import type { Anchor, Plan } from "../plan/schema.js";
import { recordsInHand } from "./options.js";

const taken = new WeakMap<Plan["tracks"], { readonly option: Plan["option"]; readonly stalls: ReadonlySet<string> }>();

export function stallsTaken(plan: Plan): ReadonlySet<string> {
  const known = taken.get(plan.tracks);
  if (known && known.option === plan.option) return known.stalls;
  const stalls = new Set<string>();
  const name = (anchor: Anchor | undefined): void => {
    if (anchor && "turntable" in anchor) stalls.add(`${anchor.turntable}:${anchor.stall}`);
  };
  for (const [, track] of recordsInHand(plan, plan.tracks)) {
    const last = track.legs.at(-1);
    name(track.start);
    if (last && "join" in last) name(last.join.to);
  }
  taken.set(plan.tracks, { option: plan.option, stalls });
  return stalls;
}
