/**
 * Someone standing in a section: what they see of the decks on either side, by the shadows that bodies cast from the eye
 * onto the decks' backs, and how far they reach.
 *
 * Always holds: what is seen and what is hidden of a back make up the whole of it; an eye below a railhead sees nothing
 * of the deck's track.
 */
import { gapsBetween, type Stretch, uniteStretches } from "../geometry/cut-area.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Operator, Plan } from "../plan/schema.js";
import { reachAt, settingOf } from "../plan/settings.js";
import { STANDING_ADULT } from "../standards/people.js";
import { ON_DECK } from "./on-deck.js";
import type { DeckBody, Section } from "./section.js";

/** The back of a deck as it is looked at from an aisle: its backdrop, a wall, or where the deck ends. */
export interface BackView {
  readonly deck: Id;
  /** Where the deck's fascia and its back are. */
  readonly front: Millimetres;
  readonly back: Millimetres;
  /** Heights of the back that are looked at: from the railhead to the backdrop's top, or the underside of the deck above. */
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly seen: readonly Stretch[];
  readonly hidden: readonly Stretch[];
}

/** How far someone reaches in over a deck. */
export interface Reach {
  readonly deck: Id;
  /** The edge of the aisle, from which it is measured, and the way in. */
  readonly edge: Millimetres;
  readonly way: 1 | -1;
  readonly height: Millimetres;
  readonly reach: Millimetres;
  /** How far in the deck goes from the edge of the aisle. */
  readonly depth: Millimetres;
}

/** Where people can stand: floor wide enough, widest first. */
export const aislesOf = ({ floor }: Section): Stretch[] =>
  floor
    .filter(({ from, to }) => to - from >= STANDING_ADULT.value.depth)
    .sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from);

/** The floor someone stands on at a place of the cut, or the widest there is; undefined where there is none. */
export function aisleAt(section: Section, at?: Millimetres): Stretch | undefined {
  const aisles = aislesOf(section);
  return at === undefined ? aisles[0] : aisles.find(({ from, to }) => at >= from && at <= to);
}

/** Who stands in a section, and where along it. */
export interface Standing {
  readonly operator: Operator;
  readonly at: Millimetres;
}

/** The plan's operators. */
export const operatorsOf = (plan: Plan): readonly Operator[] => settingOf(plan, "operators").value;

/** Someone standing at a place, or in the middle of the widest aisle; undefined where nobody can. */
export function standIn(section: Section, operator: Operator, at?: Millimetres): Standing | undefined {
  const aisle = aisleAt(section, at);
  return aisle && { operator, at: at ?? (aisle.from + aisle.to) / 2 };
}

/** What the operator's eye sees, standing at a place. Decks beyond the next aisle are not looked at. */
export function viewsFrom(plan: Plan, section: Section, operator: Operator, at: Millimetres): BackView[] {
  return ([1, -1] as const).flatMap((way) => {
    const group = besideAisle(section, at, way);
    return nearestOfEachDeck(group, way)
      .filter(({ deck }) => plan.decks[deck]?.kind === "scenic")
      .map((body) => viewOf(section, body, group, operator.eye, at, way));
  });
}

function viewOf(
  section: Section,
  body: DeckBody,
  group: readonly DeckBody[],
  eye: Millimetres,
  at: Millimetres,
  way: 1 | -1,
): BackView {
  const ahead = (x: Millimetres): Millimetres => way * (x - at);
  const near = way === 1 ? body.from : body.to;
  const far = way === 1 ? body.to : body.from;
  const own = section.backdrops
    .filter((b) => b.deck === body.deck && ahead(b.at) > ahead(near) && ahead(b.at) <= ahead(far) + ON_DECK)
    .sort((a, b) => ahead(a.at) - ahead(b.at))[0];
  const back = own?.at ?? far;
  const span = { from: Math.min(near, back), to: Math.max(near, back) };
  const above = group
    .filter((o) => o.bottom > body.top && o.from < span.to && o.to > span.from)
    .reduce((low, o) => Math.min(low, o.bottom), section.ceiling);
  const whole = { from: body.top, to: Math.max(body.top, Math.min(own?.top ?? above, above)) };
  const shadows = [...group, ...section.obstacles].flatMap((o) => shadowOf(o, eye, at, back) ?? []);
  const hidden = uniteStretches(shadows).flatMap((s) => {
    const [from, to] = [Math.max(s.from, whole.from), Math.min(s.to, whole.to)];
    return to > from ? [{ from, to }] : [];
  });
  return { deck: body.deck, front: near, back, ...whole, seen: gapsBetween(whole, hidden), hidden };
}

/** Heights of an upright line that a body hides from an eye; undefined where it lies beyond the line or behind the eye. */
function shadowOf(
  body: Stretch & { readonly bottom: Millimetres; readonly top: Millimetres },
  eye: Millimetres,
  at: Millimetres,
  line: Millimetres,
): Stretch | undefined {
  const way = line >= at ? 1 : -1;
  const ends = [way * (body.from - at), way * (body.to - at)].sort((a, b) => a - b) as [number, number];
  const whole = way * (line - at);
  const from = Math.max(ends[0], 1);
  const to = Math.min(ends[1], whole);
  if (to <= from) return undefined;
  const heights = [from, to].flatMap((x) => [body.bottom, body.top].map((h) => eye + ((h - eye) * whole) / x));
  return { from: Math.min(...heights), to: Math.max(...heights) };
}

/** Bodies beside the aisle one stands in, up to the next aisle. */
function besideAisle(section: Section, at: Millimetres, way: 1 | -1): DeckBody[] {
  const here = aisleAt(section, at);
  const edge = here ? (way === 1 ? here.to : here.from) : at;
  const room = section.room.find(({ from, to }) => at >= from && at <= to);
  const next = aislesOf(section)
    .filter((aisle) => aisle !== here && way * (aisle.from - at) > 0)
    .map(({ from, to }) => (way === 1 ? from : to))
    .sort((a, b) => way * (a - b))[0];
  const end = next ?? (way === 1 ? (room?.to ?? section.length) : (room?.from ?? 0));
  const [from, to] = way === 1 ? [edge, end] : [end, edge];
  return section.decks.filter((body) => body.from >= from - ON_DECK && body.to <= to + ON_DECK);
}

function nearestOfEachDeck(group: readonly DeckBody[], way: 1 | -1): DeckBody[] {
  const first = new Map<Id, DeckBody>();
  for (const body of group) {
    const known = first.get(body.deck);
    if (!known || way * (body.from - known.from) < 0) first.set(body.deck, body);
  }
  return [...first.values()].sort((a, b) => a.top - b.top);
}

/** Reach in from both edges of the aisle one stands in, over every deck beside it. */
export function reachesFrom(plan: Plan, section: Section, at: Millimetres): Reach[] {
  const aisle = aisleAt(section, at);
  if (!aisle) return [];
  const rows = settingOf(plan, "reach").value;
  const less = settingOf(plan, "reachUnder").value;
  return ([1, -1] as const).flatMap((way) => {
    const group = besideAisle(section, at, way);
    return nearestOfEachDeck(group, way).map((body) => {
      const under = group.some((o) => o.bottom >= body.top && o.from < body.to && o.to > body.from);
      const depth = way === 1 ? body.to - aisle.to : aisle.from - body.from;
      const reach = Math.max(0, reachAt(rows, body.top) - (under ? less : 0));
      return { deck: body.deck, edge: way === 1 ? aisle.to : aisle.from, way, height: body.top, reach, depth };
    });
  });
}
