/**
 * Room of turnouts: from the joint end of one to that of the next along the track, so that points never lie against
 * another's frog or within its plane; points clear of easements; turnouts clear of vertical curves; and the straight
 * between the lead curves of two of them, through crossovers, ladders and points that face one another.
 *
 * Of overlaps only a three-way turnout is meant: two of opposite hands, their points no farther apart than the switch is
 * long. Lying within an easement or short of straight is advised against, which is tight; the rest is kept or not.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { LineKey, PlacedTurnout } from "../layout/line.js";
import { END_SLACK } from "../layout/turnout-on-host.js";
import type { Plan } from "../plan/schema.js";
import { PRACTICE } from "../standards/cited.js";
import { turnoutDimensions } from "../standards/turnouts.js";
import { whileSame } from "./carry.js";
import type { Reading } from "./reading.js";
import { type LineContext, lineContexts } from "./line-context.js";
import { remember, rememberBeside } from "./remember.js";
import { limitedReading, type Measured, type Rule, type RuleInput } from "./rule.js";
import { clearOfEasements, clearOfVerticalCurves } from "./turnout-bends.js";
import { turnoutReversals } from "./turnout-reversals.js";
import { turnoutAhead, type TurnoutStretch, turnoutStretches } from "./turnout-stretches.js";

const HEAD = { id: "turnout-room", unit: "mm", bound: "least", margin: 0 } as const;

export const turnoutRoom: Rule = {
  id: "turnout-room",
  take: whileSame(leansOn, ({ plan, layout }) => [
    ...kept(plan, undefined, "Room between turnouts", "never frog against points", roomBetween(layout)),
    ...kept(plan, "easement", "Points clear of easements", "points on straight track or an even curve", [
      ...clearOfEasements(layout),
    ]).map(advised),
    ...kept(plan, "vertical", "Turnouts clear of vertical curves", "no turnout inside a vertical curve", [
      ...clearOfVerticalCurves(layout),
    ]),
    ...turnoutReversals(plan, layout),
  ]),
};

/** Turnouts, and the lines they lie on with what is joined to these. */
function leansOn({ plan, layout }: RuleInput) {
  const { turnouts, slips, network } = layout;
  return [lineContexts(layout), turnouts, slips, network.nodes, plan.standards] as const;
}

/** A reading that is kept or not, of a limit of nothing; none where nothing was measured. */
function kept(plan: Plan, scope: string | undefined, label: string, rule: string, measured: Measured[]): Reading[] {
  if (measured.length === 0) return [];
  const limit = { value: 0, source: `${PRACTICE}: ${rule}` };
  return [limitedReading(plan, { ...HEAD, ...(scope !== undefined && { scope }), label, limit }, measured)];
}

const advised = (reading: Reading): Reading =>
  reading.verdict === "fails" ? { ...reading, verdict: "tight" } : reading;

/** From every turnout to the next along its track, and from the first and last of a track over its ends. */
const roomBetween = remember((layout: Layout): Measured[] => {
  const measured: Measured[] = [];
  const { gauge } = layout.plan.scale;
  let least = Number.POSITIVE_INFINITY;
  const outermost: (readonly [TurnoutStretch, 1 | -1])[] = [];
  for (const own of turnoutStretches(layout).values()) {
    const { rooms, first, last } = alongLine(own, gauge);
    for (const room of rooms) {
      least = Math.min(least, room.value);
      measured.push(room);
    }
    // A diverging route begins at its own points; a slip's curve does so and ends there.
    const kind = first?.line.kind;
    if (first && kind === "track") outermost.push([first, -1]);
    if (last && kind !== "slip") outermost.push([last, 1]);
  }
  // Turnouts over the ends of a track never overlap: only one nearer than all so far tells anything.
  for (const [stretch, way] of outermost) {
    const { line, from, to } = stretch;
    if ((way === 1 ? line.path.length - to : from) > least + END_SLACK) continue;
    const distance = overEnd(layout, stretch, way, least);
    if (distance === undefined) continue;
    least = Math.min(least, distance);
    measured.push({ ...at(stretch), value: distance });
  }
  return measured;
});

/** Distance from a stretch to the next turnout that way, up to `most`. */
function overEnd(layout: Layout, stretch: TurnoutStretch, way: 1 | -1, most: Millimetres): Millimetres | undefined {
  const looked = way === 1 ? lookedOn : lookedBack;
  const contexts = lineContexts(layout);
  const all = turnoutStretches(layout);
  const same = ({ key, context, own }: LookedAlong): boolean => contexts.get(key) === context && all.get(key) === own;
  const last = looked.get(stretch);
  if (last && last.nodes === layout.network.nodes && last.most >= most && last.along.every(same))
    return last.distance !== undefined && last.distance <= most ? last.distance : undefined;
  const { line, from, to, thing } = stretch;
  const followed: LineKey[] = [];
  const ahead = turnoutAhead(layout, line, way === 1 ? to : from, way, most, thing, followed);
  const distance = ahead?.stretch && ahead.distance;
  const along = followed.map((key) => ({ key, context: contexts.get(key), own: all.get(key) }));
  looked.set(stretch, { nodes: layout.network.nodes, most, along, distance });
  return distance;
}

/** A line that was looked along, as it was then. */
interface LookedAlong {
  readonly key: LineKey;
  readonly context: LineContext | undefined;
  readonly own: readonly TurnoutStretch[] | undefined;
}

interface Looked {
  readonly nodes: Layout["network"]["nodes"];
  readonly most: Millimetres;
  readonly along: readonly LookedAlong[];
  readonly distance: Millimetres | undefined;
}
const lookedOn = new WeakMap<TurnoutStretch, Looked>();
const lookedBack = new WeakMap<TurnoutStretch, Looked>();

interface AlongLine {
  readonly rooms: readonly Measured[];
  readonly first: TurnoutStretch | undefined;
  /** The one that reaches farthest. */
  readonly last: TurnoutStretch | undefined;
}

/** From every turnout of one line to the next. */
const alongLine = rememberBeside((own: readonly TurnoutStretch[], gauge: Millimetres): AlongLine => {
  const rooms: Measured[] = [];
  const add = (stretch: TurnoutStretch, value: Millimetres, note?: string): void => {
    rooms.push({ ...at(stretch), value, ...(note !== undefined && { note }) });
  };
  const [first] = own;
  let last = first;
  let behind: TurnoutStretch[] = [];
  for (const next of own) {
    const overlapped = behind.filter(({ to }) => to > next.from + END_SLACK);
    for (const before of overlapped) {
      if (before.thing === next.thing || isThreeWay(before, next, gauge)) continue;
      add(next, next.from - Math.min(before.to, next.to), `lies on ${before.thing.split(".")[1]}`);
    }
    if (last && last !== next && overlapped.length === 0) add(next, Math.max(0, next.from - last.to));
    behind = [...overlapped, next];
    if (last && next.to > last.to) last = next;
  }
  return { rooms, first, last };
});

const at = ({ line, from, to, onHost, thing }: TurnoutStretch): Pick<Measured, "line" | "s" | "thing"> => ({
  line,
  s: onHost?.at ?? (from + to) / 2,
  thing,
});

/** Whether two turnouts are one of three ways, or lapped so little that the second's points lie in the first's switch. */
function isThreeWay({ onHost: a }: TurnoutStretch, { onHost: b }: TurnoutStretch, gauge: Millimetres): boolean {
  if (!a || !b || a.direction !== b.direction || a.hand === b.hand || a.hand === "wye" || b.hand === "wye")
    return false;
  const first = (a.at - b.at) * a.direction <= 0 ? a : b;
  return Math.abs(a.at - b.at) <= switchOf(first, gauge);
}

const switchOf = ({ number }: PlacedTurnout, gauge: Millimetres): Millimetres =>
  turnoutDimensions(gauge, number).switchLength;
