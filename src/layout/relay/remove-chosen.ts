/** Taking away what is chosen, with all that could not stand without it. */
import { printRef, RECORD_NAMES, type Ref, spokenName } from "../../plan/collections.js";
import { done, type Edit, recordAt, refused, without } from "../../plan/edit.js";
import { allDependants } from "../../plan/references.js";
import { removeObstacle } from "../../plan/room-edits.js";
import type { Plan } from "../../plan/schema.js";
import type { Chosen } from "./chosen.js";

/** Records that go along, nearest first; none of those chosen is among them. */
export function alsoRemoved(plan: Plan, refs: readonly Ref[]): Ref[] {
  const seen = new Set(refs.map(printRef));
  return refs
    .flatMap((ref) => allDependants(plan, ref))
    .filter((ref) => {
      const known = seen.has(printRef(ref));
      seen.add(printRef(ref));
      return !known;
    });
}

export function removeChosen(plan: Plan, chosen: Chosen): Edit {
  const refs = chosen.refs.filter((ref) => recordAt(plan, ref.collection, ref.id) !== undefined);
  const lastDecks = refs.filter((ref) => ref.collection === "decks").length;
  if (lastDecks > 0 && lastDecks >= Object.keys(plan.decks).length) return refused("a plan keeps at least one deck");
  const first = refs[0];
  const name = refs.length === 1 && first ? `Remove ${RECORD_NAMES[first.collection]}` : "Remove";
  let edit = done(name, without(plan, [...refs, ...alsoRemoved(plan, refs)]));
  for (const id of chosen.obstacles) {
    const next = edit.ok ? removeObstacle(edit.plan, id) : edit;
    edit = next.ok ? done(name, next.plan) : next;
  }
  if (!edit.ok) return edit;
  return edit.plan === plan ? refused("nothing is chosen that could be removed") : edit;
}

/** For the status line: "also removes siding Larkmoor 2, turnout x and 3 more"; empty where nothing else goes. */
export function alsoRemovedText(plan: Plan, refs: readonly Ref[]): string {
  const others = alsoRemoved(plan, refs);
  if (others.length === 0) return "";
  const names = others.slice(0, 3).map((ref) => `${RECORD_NAMES[ref.collection]} ${spokenName(plan, ref)}`);
  const more = others.length - names.length;
  const last = more > 0 ? `${more} more` : names.length > 1 ? names.pop() : undefined;
  return `also removes ${names.join(", ")}${last ? ` and ${last}` : ""}`;
}
