/** What things are called in a sentence: by name, or by kind and place where they have none. */
import { RECORD_NAMES, type Ref } from "../../../plan/collections.js";
import type { Id, Leg, Plan } from "../../../plan/schema.js";
import type { Selected } from "../../tool.js";

export const LEG_NAMES: Readonly<Record<string, string>> = {
  straight: "Straight",
  curve: "Curve",
  toward: "Curve toward a point",
  join: "Join",
  beside: "Beside a track",
  flex: "Flexible track",
};

export const legKind = (leg: Leg): string => Object.keys(LEG_NAMES).find((kind) => kind in leg) ?? "";
export const legName = (leg: Leg): string => LEG_NAMES[legKind(leg)] ?? "Leg";

/** Its own name, or `track climb-2`. */
export function nameOf(plan: Plan, ref: Ref): string {
  const record: unknown = plan[ref.collection][ref.id];
  if (typeof record === "object" && record !== null) {
    const own: unknown = Reflect.get(record, "name") ?? Reflect.get(record, "text");
    if (typeof own === "string" && own.trim() !== "") return own;
  }
  if (ref.collection === "turnouts" || ref.collection === "slips" || ref.collection === "turntables") {
    const on = plan[ref.collection][ref.id]?.on;
    if (on !== undefined) return `${RECORD_NAMES[ref.collection]} on ${nameOf(plan, { collection: "tracks", id: on })}`;
  }
  return `${RECORD_NAMES[ref.collection]} ${ref.id}`;
}

export const trackName = (plan: Plan, id: Id): string => nameOf(plan, { collection: "tracks", id });

export const wallName = (plan: Plan, wall: number): string => `wall ${wall + 1} of ${plan.room.outline.length}`;

export function selectedName(plan: Plan, item: Selected): string {
  if (item.kind === "wall") return wallName(plan, item.wall);
  if (item.kind !== "record") {
    const part = item.kind === "opening" ? plan.room.openings[item.id] : plan.room.obstacles[item.id];
    return part?.name ?? item.id;
  }
  const name = nameOf(plan, item);
  const leg = item.leg === undefined ? undefined : plan.tracks[item.id]?.legs[item.leg];
  return leg ? `${legName(leg).toLowerCase()} of ${name}` : name;
}

/** `a, b and c`; more than `most` are counted. */
export function listed(names: readonly string[], most = 3): string {
  const shown = names.length > most ? [...names.slice(0, most - 1), `${names.length - most + 1} more`] : names;
  const last = shown.at(-1) ?? "";
  return shown.length > 1 ? `${shown.slice(0, -1).join(", ")} and ${last}` : last;
}
