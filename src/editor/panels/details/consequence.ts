/** What else moves when a thing is changed, in one sentence. */
import type { Ref } from "../../../plan/collections.js";
import { allDependants } from "../../../plan/references.js";
import type { Plan } from "../../../plan/schema.js";
import { listed, nameOf } from "./names.js";

/** What is named, in this order; pins are only counted. */
const NAMED: readonly Ref["collection"][] = ["tracks", "turnouts", "slips", "turntables"];

/** Undefined where nothing else is moved. */
export function consequenceOf(plan: Plan, ref: Ref, doing: string): string | undefined {
  const moved = allDependants(plan, ref);
  const named = NAMED.flatMap((collection) => {
    const names = moved.filter((other) => other.collection === collection).map((other) => nameOf(plan, other));
    return [...new Set(names)];
  });
  const pins = moved.filter((other) => other.collection === "pins").length;
  const others = pins > 0 ? [`${pins} height ${pins === 1 ? "pin" : "pins"}`] : [];
  if (named.length + others.length === 0) return undefined;
  return `${doing} carries ${listed([...named.slice(0, 3), ...rest(named.length - 3), ...others], 5)} with it.`;
}

const rest = (count: number): string[] => (count > 0 ? [`${count} more`] : []);
