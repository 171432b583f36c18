/**
 * Names of decks as parts of DXF layer names.
 *
 * Always holds: a name is of A-Z, 0-9, `_` and `-` alone, at most `LONGEST` of them; two decks never share one, nor does a
 * deck take `ROOM`.
 */
import { decksInOrder } from "../../drafting/decks.js";
import type { Id, Plan } from "../../plan/schema.js";

/** Release 12 allows layers 31 letters; what lies on a deck takes up to twelve of them, its hyphen included. */
export const LONGEST = 19;

/** What belongs to the room rather than to a deck. */
export const ROOM = "ROOM";

export function layerNames(plan: Pick<Plan, "decks">): ReadonlyMap<Id, string> {
  const taken = new Set([ROOM]);
  const names = new Map<Id, string>();
  for (const id of decksInOrder(plan)) {
    const stem = safeName(plan.decks[id]?.name ?? "") || safeName(id) || "DECK";
    let name = stem.slice(0, LONGEST);
    for (let n = 2; taken.has(name); n++) name = `${stem.slice(0, LONGEST - String(n).length - 1)}_${n}`;
    taken.add(name);
    names.set(id, name);
  }
  return names;
}

const safeName = (name: string): string =>
  name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toUpperCase()
    .replace(/[^A-Z0-9]+/g, "_")
    .replace(/^_|_$/g, "");
