/**
 * Ends of a climb as their owner calls them: `main:end` and `"Helix lead":start` (a track's end), `Quarry switch` (a
 * turnout's diverging route), `main@1200` and `main@4 ft` (a place on a track, along it from its start).
 *
 * A record is called by its id or by its name, in any case, in quotes where the name holds a colon or an @. An id is
 * unique among tracks and among turnouts, but not between them: `tracks.mill` and `turnouts.mill` say which; otherwise an
 * end or a distance means the track, and neither the turnout. Only what is of the option in hand can be meant.
 *
 * Always holds: what `climbEndName` says of an end of the plan, `climbEndNamed` understands as that end.
 */
import { recordsInHand } from "../layout/options.js";
import { formatLength } from "../plan/format-length.js";
import { parseLength } from "../plan/parse-length.js";
import type { Id, Plan } from "../plan/schema.js";
import { type ClimbEnd, isTurnoutPlace } from "./request.js";

/** Told as `record: message`, after the file where there is one. */
export type NamedEnd =
  | { readonly ok: true; readonly end: ClimbEnd }
  | { readonly ok: false; readonly record: string; readonly message: string };

type Kind = "tracks" | "turnouts";

interface Called {
  readonly kind: Kind;
  readonly id: Id;
  readonly name: string | undefined;
}

/** Candidates told at most. */
const MOST_TOLD = 6;

const spoken = (text: string): string => text.trim().toLowerCase();
const no = (record: string, message: string): NamedEnd => ({ ok: false, record, message });

/** Lengths without a unit are in `units`, the plan's own where left out. */
export function climbEndNamed(plan: Plan, text: string, units: Plan["units"] = plan.units): NamedEnd {
  const { name, end, at } = parted(text);
  if (name === "") return no("tracks", `"${text}" names no track or turnout`);
  const all = callable(plan);
  const meant = named(all, name, end === undefined && at === undefined ? "turnouts" : "tracks");
  if (meant.length > 1) return no("tracks", `"${name}" may be ${listed(meant)}; say which by its id`);
  const [one] = meant;
  if (!one) return no("tracks", `no track or turnout is called "${name}"; there ${nearest(all, name)}`);
  const { id } = one;
  const record = recordOf(one);
  if (one.kind === "turnouts") {
    if (end !== undefined || at !== undefined) {
      return no(record, `a turnout has one diverging route, called by its name alone: ${quoted(name)}`);
    }
    return { ok: true, end: { turnout: id } };
  }
  if (at !== undefined) {
    const along = parseLength(at, units);
    if (!along.ok) return no(record, `"@${at}": ${along.message}`);
    if (along.mm < 0) return no(record, `"@${at}" lies before its start`);
    return { ok: true, end: { track: id, at: along.mm } };
  }
  if (end === "start" || end === "end") return { ok: true, end: { track: id, end } };
  const ways = `${quoted(name)}:start, ${quoted(name)}:end, or a place on it, ${quoted(name)}@1200`;
  return no(record, `${end === undefined ? "say which end of it" : `it has no end "${end}"`}: ${ways}`);
}

/** An end as `climbEndNamed` reads it, by name where that is clear, else by id. Distances are to a tenth of a millimetre. */
export function climbEndName(plan: Plan, end: ClimbEnd): string {
  const [kind, id]: [Kind, Id] = "turnout" in end ? ["turnouts", end.turnout] : ["tracks", end.track];
  const said = "turnout" in end ? "" : isTurnoutPlace(end) ? `@${formatLength(end.at, "metric")}` : `:${end.end}`;
  const whole = `${kind}.${id}${said}`;
  const texts = [plan[kind][id]?.name ?? id, id].map((name) => quoted(name) + said);
  return texts.find((text) => isSameEnd(climbEndNamed(plan, text), climbEndNamed(plan, whole))) ?? whole;
}

const isSameEnd = (a: NamedEnd, b: NamedEnd): boolean =>
  a.ok && b.ok && JSON.stringify(a.end) === JSON.stringify(b.end);

const quoted = (name: string): string => (/[:@"]/.test(name) ? `"${name}"` : name);

/** The name, and what is said of it after a colon or an @. */
function parted(text: string): { readonly name: string; readonly end?: string; readonly at?: string } {
  const typed = text.trim();
  const inQuotes = /^(?:(tracks|turnouts)\.)?"(.*?)"\s*(?:$|([:@])(.*)$)/.exec(typed);
  const plain = /^([^:@]*)(?:([:@])(.*))?$/.exec(typed);
  const [name, sign, rest] = inQuotes
    ? [`${inQuotes[1] ? `${inQuotes[1]}.` : ""}${inQuotes[2] ?? ""}`, inQuotes[3], inQuotes[4]]
    : [plain?.[1] ?? typed, plain?.[2], plain?.[3]];
  const said = (rest ?? "").trim();
  if (sign === ":") return { name: name.trim(), end: spoken(said) };
  return sign === "@" ? { name: name.trim(), at: said } : { name: name.trim() };
}

const callable = (plan: Plan): Called[] => [
  ...recordsInHand(plan, plan.tracks).map(([id, { name }]): Called => ({ kind: "tracks", id, name })),
  ...recordsInHand(plan, plan.turnouts).map(([id, { name }]): Called => ({ kind: "turnouts", id, name })),
];

/** What a name may mean: an id before names, and of two kinds the one that is asked for. */
function named(all: readonly Called[], name: string, kind: Kind): readonly Called[] {
  const whole = /^(tracks|turnouts)\.(.+)$/.exec(name);
  const byKind = all.filter((one) => one.kind === whole?.[1] && (one.id === whole[2] || isCalled(one, whole[2] ?? "")));
  if (byKind.length > 0) return preferred(byKind, (one) => one.id === whole?.[2]);
  const found = preferred(
    all.filter((one) => one.id === name || isCalled(one, name)),
    (one) => one.id === name,
  );
  return preferred(found, (one) => one.kind === kind);
}

const isCalled = (one: Called, name: string): boolean => one.name !== undefined && spoken(one.name) === spoken(name);

/** Those that are so where any are, else all. */
function preferred<T>(all: readonly T[], so: (one: T) => boolean): readonly T[] {
  const those = all.filter(so);
  return those.length > 0 ? those : all;
}

const recordOf = ({ kind, id }: Called): string => `${kind}.${id}`;

const listed = (some: readonly Called[]): string =>
  some
    .slice(0, MOST_TOLD)
    .map((one) => recordOf(one) + (one.name === undefined ? "" : ` "${one.name}"`))
    .join(", ") + (some.length > MOST_TOLD ? ` and ${some.length - MOST_TOLD} more` : "");

/** Those that share a word or a beginning with a name, else the first there are. */
function nearest(all: readonly Called[], name: string): string {
  if (all.length === 0) return "are none";
  const words = spoken(name)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length > 1);
  const like = (text: string): boolean => words.some((word) => spoken(text).includes(word.slice(0, 4)));
  return `are ${listed(preferred(all, (one) => like(one.id) || (one.name !== undefined && like(one.name))))}`;
}
