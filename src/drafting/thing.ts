/**
 * Something of the plan that can be pointed at and taken in hand: a record, a leg of a track, or a part of the room.
 *
 * Always holds: `sameThing` holds for a thing and itself; things of different keys are different.
 */
import type { Collection, Id, Plan } from "../plan/schema.js";

export type Thing =
  | { readonly kind: "record"; readonly collection: Collection; readonly id: Id; readonly leg?: number }
  | { readonly kind: "opening" | "obstacle"; readonly id: Id }
  | { readonly kind: "wall"; readonly wall: number };

/** A thing's name for maps and lists; equal for equal things, the leg counted. */
export function thingKey(thing: Thing): string {
  if (thing.kind === "wall") return `wall.${thing.wall}`;
  if (thing.kind !== "record") return `${thing.kind}.${thing.id}`;
  return `${thing.collection}.${thing.id}${thing.leg === undefined ? "" : `.${thing.leg}`}`;
}

export const sameThing = (a: Thing, b: Thing): boolean => thingKey(a) === thingKey(b);

/** Whether two things are of one object: a leg and its track are. */
export const sameObject = (a: Thing, b: Thing): boolean => thingKey(whole(a)) === thingKey(whole(b));

/** The thing without the leg. */
export const whole = (thing: Thing): Thing =>
  thing.kind === "record" ? { kind: "record", collection: thing.collection, id: thing.id } : thing;

/** The deck a thing stands on; undefined for what belongs to the room, or to every deck. */
export function deckOf(plan: Plan, thing: Thing): Id | undefined {
  if (thing.kind !== "record") return undefined;
  const { collection, id } = thing;
  if (collection === "decks") return id;
  if (collection === "pins") return plan.tracks[plan.pins[id]?.track ?? ""]?.deck;
  if (collection === "turnouts" || collection === "slips" || collection === "turntables")
    return plan.tracks[plan[collection][id]?.on ?? ""]?.deck;
  if (collection === "templates" || collection === "options") return undefined;
  return plan[collection][id]?.deck;
}
