/**
 * A route taken into the plan: as an option of its own, or where all that is drawn now belongs. One edit, of the plan as
 * it is now.
 *
 * Always holds: where what the search saw is what is there now, the route is laid as it was found; where anything else is
 * there it is held against the readings once more, and refused with the one it would fail.
 */
import { RouteJudge } from "../../climb/judge-route.js";
import type { ClimbRoute } from "../../climb/request.js";
import { limitText, valueText } from "../../exchange/readings-text.js";
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import { recordsInHand } from "../../layout/options.js";
import { planChanges } from "../../plan/changes.js";
import type { Ref } from "../../plan/collections.js";
import { amendRecord, andThen, done, type Edit, putRecord, recordAt, renameRecord } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import { addAndChoose } from "../../plan/option-edits.js";
import { asOption } from "../../plan/option-in-hand.js";
import { OPTION_COLLECTIONS, type OptionCollection, optionName } from "../../plan/option-records.js";
import type { Collection, Id, Plan, TrackClass } from "../../plan/schema.js";
import { takeReadings } from "../../readings/take.js";

/** option: one of its own, put in hand. here: it belongs where what is drawn now belongs. */
export type TakeAs = "option" | "here";

export interface Taken {
  readonly edit: Edit;
  /** The track it will be. */
  readonly track: Id;
  /** `Climb A`. */
  readonly name: string;
}

/** What a layout follows from, of the plan's properties. */
const SEEN = ["room", "standards", "scale", "decks", "templates"] as const;

/** Whether two plans look alike to a search: the same records in hand, the same room and limits. */
export function looksAlike(a: Plan, b: Plan): boolean {
  if (a === b) return true;
  if (SEEN.some((key) => a[key] !== b[key])) return false;
  return OPTION_COLLECTIONS.every((collection) => {
    if (collection === "labels" || (a[collection] === b[collection] && a.option === b.option)) return true;
    const [was, is] = [seenOf(a, collection), seenOf(b, collection)];
    return was.length === is.length && was.every(([id, record], i) => is[i]?.[0] === id && is[i]?.[1] === record);
  });
}

const seenOf = (plan: Plan, collection: OptionCollection): [Id, object][] =>
  recordsInHand<Plan[OptionCollection][Id]>(plan, plan[collection]);

/** Whether the plan has changed since it was searched, in anything the search saw. */
export const isStale = (searched: Plan, now: Plan): boolean =>
  !looksAlike(searched, searched.option === now.option ? now : inOptionOf(now, searched));

function inOptionOf(plan: Plan, other: Plan): Plan {
  const { option: _, ...rest } = plan;
  return other.option === undefined ? rest : { ...rest, option: other.option };
}

/** References must lead somewhere when a record is put: what is laid on something comes after it. */
const ORDER: readonly Collection[] = ["benches", "turnouts", "tracks", "pins"];

export function takeRoute(
  present: Layout,
  searched: Plan,
  trackClass: TrackClass,
  route: ClimbRoute,
  as: TakeAs,
): Taken {
  const before = present.plan;
  const inHand = before.option;
  const name = as === "here" && inHand !== undefined ? optionName(before, inHand) : freeName(before);
  const { plan: found, added, track } = withFreshIds(route, searched, before);
  const chosen = as === "option" ? addAndChoose(before, name) : undefined;
  const ground = withLimits(chosen?.edit ?? done("Take climb", before), found, searched, trackClass);
  const records = [...added].sort((a, b) => ORDER.indexOf(a.collection) - ORDER.indexOf(b.collection));
  let edit = ground;
  for (const ref of records) edit = andThen(edit, (plan) => copied(plan, found, ref));
  edit = andThen(edit, (plan) => named(plan, track, name), `Take ${name}`);
  if (!edit.ok || !ground.ok) return { edit, track, name };
  edit = asOption(edit, before, chosen?.option ?? inHand);
  if (edit.ok && !looksAlike(searched, ground.plan)) {
    edit = rechecked(edit, deriveLayout(ground.plan, present), track, leftOut(searched, chosen?.option));
  }
  return { edit, track, name };
}

/** `Climb A`, `Climb B` … as the plan's options leave them free. */
function freeName({ options }: Plan): string {
  const taken = new Set(Object.values(options).map((option) => option.name));
  const letters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"].map((letter) => `Climb ${letter}`);
  const free = letters.find((one) => !taken.has(one));
  if (free !== undefined) return free;
  let number = letters.length + 1;
  while (taken.has(`Climb ${number}`)) number += 1;
  return `Climb ${number}`;
}

interface Brought {
  readonly plan: Plan;
  readonly added: readonly Ref[];
  readonly track: Id;
}

/** The plan as it was found, what the route brings called as nothing in the plan of now is. */
function withFreshIds(route: ClimbRoute, searched: Plan, now: Plan): Brought {
  let { plan } = route.edit;
  let { track } = route;
  const added = planChanges(searched, plan).added.map((ref) => {
    if (!Object.hasOwn(now[ref.collection], ref.id)) return ref;
    const both = { ...now, [ref.collection]: { ...plan[ref.collection], ...now[ref.collection] } };
    const id = freshId(both, ref.id);
    const renamed = renameRecord(plan, ref, id);
    if (!renamed.ok) return ref;
    plan = renamed.plan;
    if (ref.collection === "tracks" && ref.id === track) track = id;
    return { ...ref, id };
  });
  return { plan, added, track };
}

/** Limits that were overruled for the search are overruled for the class with it. */
function withLimits(edit: Edit, found: Plan, searched: Plan, trackClass: TrackClass): Edit {
  const limits = found.standards.classes[trackClass];
  if (found.standards === searched.standards || !limits) return edit;
  return andThen(edit, (plan) => {
    const { standards } = plan;
    return done("", { ...plan, standards: { ...standards, classes: { ...standards.classes, [trackClass]: limits } } });
  });
}

function copied(plan: Plan, from: Plan, { collection, id }: Ref): Edit {
  const record = recordAt(from, collection, id);
  return record === undefined ? done("", plan) : putRecord(plan, collection, id, record);
}

const named = (plan: Plan, track: Id, name: string): Edit =>
  recordAt(plan, "tracks", track)?.name === undefined ? amendRecord(plan, "tracks", track, { name }) : done("", plan);

/** The option a route was found with, whose records an option of its own leaves out. */
const leftOut = (searched: Plan, chosen: Id | undefined): string | undefined =>
  chosen === undefined || searched.option === undefined ? undefined : optionName(searched, searched.option);

function rechecked(
  edit: Extract<Edit, { readonly ok: true }>,
  before: Layout,
  track: Id,
  without: string | undefined,
): Edit {
  const judged = new RouteJudge(before).judge(edit.plan, track);
  if ("layout" in judged) return edit;
  const readings = takeReadings(edit.plan, deriveLayout(edit.plan, before));
  const reading = readings.find(({ label, verdict }) => label === judged.fails && verdict === "fails");
  const { units } = edit.plan;
  const figures = reading ? ` ${valueText(reading, units)} (${limitText(reading, units)})` : "";
  const why = without === undefined ? "the plan as it is now" : `without what belongs to ${without}`;
  return { ok: false, message: `it does not fit ${why}: ${judged.fails}${figures}` };
}
