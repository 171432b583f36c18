/**
 * From lines to the network: every line is cut where something happens on it, at points, heels and pins, and its ends
 * are made one with what they are joined to. Where two lines meet head to head one of them is turned round, which the
 * union of places carries along.
 *
 * Always holds: a train that passes a node changes sides; a turnout's routes leave its points on one side; pins that
 * disagree at one place, or lie nowhere, are findings, and the first pin of a place holds; derived from a previous
 * network it equals one derived afresh.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Pin, Plan, Track } from "../plan/schema.js";
import { assembleNetwork, type Cut, type CutLine, movedCuts } from "./assemble-network.js";
import { deriveJoints, type Joint, type LineEnd } from "./joints.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import type { Network, NodeKey } from "./network.js";
import { inOption, recordsInHand } from "./options.js";
import { SidedUnion } from "./sided-union.js";
import type { PlacedSlip } from "./slip.js";
import type { Trackwork } from "./trackwork.js";
import { END_SLACK } from "./turnout-on-host.js";

/** Pins that differ by less say the same. */
const SAME_HEIGHT: Millimetres = 0.01;

interface Draft {
  readonly plan: Plan;
  readonly trackwork: Trackwork;
  readonly lines: Map<LineKey, CutLine>;
  readonly union: SidedUnion;
  readonly findings: Finding[];
}

export interface DerivedNetwork {
  readonly network: Network;
  readonly findings: readonly Finding[];
  /** What it was derived from, for the next derivation. */
  readonly plan: Plan;
  readonly trackwork: Trackwork;
  readonly joints: readonly Joint[];
  readonly lines: ReadonlyMap<LineKey, CutLine>;
  readonly union: SidedUnion;
  /** Whether no two pins are at one place. */
  readonly pinsApart: boolean;
}

export function deriveNetwork(plan: Plan, trackwork: Trackwork, previous?: DerivedNetwork): DerivedNetwork {
  const joints = previous && sameAnchors(previous, plan, trackwork) ? previous.joints : deriveJoints(plan, trackwork);
  const before = previous && sameHold(previous, plan, trackwork, joints) ? previous : undefined;
  return (before && onlyMoved(before, plan, trackwork)) ?? networkAfresh(plan, trackwork, joints);
}

function networkAfresh(plan: Plan, trackwork: Trackwork, joints: readonly Joint[]): DerivedNetwork {
  const union = new SidedUnion();
  const lines = new Map<LineKey, CutLine>();
  for (const line of trackwork.lines.values()) {
    const { start, end } = endNames(line);
    lines.set(line.key, {
      key: line.key,
      length: line.path.length,
      start: union.add(start),
      end: union.add(end),
      cuts: [],
    });
  }
  const draft: Draft = { plan, trackwork, lines, union, findings: [] };
  for (const { a, b } of joints) {
    const [one, other] = [placeOf(draft, a), placeOf(draft, b)];
    if (one !== undefined && other !== undefined) union.join(one, other, a.end === b.end);
  }
  for (const turnout of trackwork.turnouts.values()) cutAtTurnout(draft, turnout);
  for (const slip of trackwork.slips.values()) cutAtSlip(draft, slip);
  for (const [id, pin] of recordsInHand(plan, plan.pins)) cutAtPin(draft, id, pin);
  const pits = [...trackwork.turntables.values()].flatMap(({ approach }) => placeOf(draft, approach) ?? []);
  const { network, pinsTogether } = assembleNetwork([...lines.values()], union, pits);
  for (const pins of pinsTogether) reportConflicts(draft, pins);
  const pinsApart = pinsTogether.length === 0;
  return { network, findings: draft.findings, plan, trackwork, joints, lines, union, pinsApart };
}

/** Whether the same lines hang together by the same joints and turnouts and bear the same pins, wherever and however high they lie. */
function sameHold(before: DerivedNetwork, plan: Plan, trackwork: Trackwork, joints: readonly Joint[]): boolean {
  return (
    before.findings.length === 0 &&
    (before.plan.pins === plan.pins || (before.pinsApart && samePins(before.plan.pins, plan.pins))) &&
    before.plan.decks === plan.decks &&
    before.plan.option === plan.option &&
    (before.joints === joints ||
      (before.joints.length === joints.length && joints.every((joint, i) => sameJoint(joint, before.joints[i])))) &&
    sameKeys(before.trackwork.lines, trackwork.lines) &&
    sameKeys(before.trackwork.turnouts, trackwork.turnouts) &&
    sameKeys(before.trackwork.slips, trackwork.slips) &&
    sameKeys(before.trackwork.turntables, trackwork.turntables) &&
    [...trackwork.turntables].every(([id, { approach }]) => {
      const was = before.trackwork.turntables.get(id)?.approach;
      return was?.line === approach.line && was.end === approach.end;
    })
  );
}

/** Whether every track begins and ends at what it began and ended at, so that the joints are those that were. */
function sameAnchors(before: DerivedNetwork, plan: Plan, trackwork: Trackwork): boolean {
  const was = before.trackwork;
  if (was.findings.length + trackwork.findings.length > 0) return false;
  if (before.plan.option !== plan.option || was.turntables !== trackwork.turntables) return false;
  if (!sameKeys(was.lines, trackwork.lines) || !sameKeys(was.turnouts, trackwork.turnouts)) return false;
  for (const [id, turnout] of trackwork.turnouts) {
    const other = was.turnouts.get(id);
    if (other !== turnout && other?.hand !== turnout.hand) return false;
  }
  const { tracks } = before.plan;
  if (tracks === plan.tracks) return true;
  let count = 0;
  for (const id in plan.tracks) {
    count++;
    const [a, b] = [tracks[id], plan.tracks[id]];
    if (a !== b && (!a || !b || a.start !== b.start || a.option !== b.option || !sameArrival(a, b))) return false;
  }
  return count === Object.keys(tracks).length;
}

function sameArrival(a: Track, b: Track): boolean {
  const [x, y] = [a.legs.at(-1), b.legs.at(-1)];
  const to = (leg: typeof x): unknown => (leg && "join" in leg ? leg.join.to : undefined);
  return to(x) === to(y);
}

/** The same pins on the same tracks, in the same order. */
function samePins(before: Plan["pins"], after: Plan["pins"]): boolean {
  const ids = Object.keys(after);
  const was = Object.keys(before);
  return (
    ids.length === was.length &&
    ids.every((id, i) => {
      const [a, b] = [before[id], after[id]];
      return id === was[i] && a?.track === b?.track && a?.option === b?.option;
    })
  );
}

const sameJoint = ({ a, b }: Joint, other: Joint | undefined): boolean =>
  other !== undefined &&
  a.line === other.a.line &&
  a.end === other.a.end &&
  b.line === other.b.line &&
  b.end === other.b.end;

function sameKeys(a: ReadonlyMap<string, unknown>, b: ReadonlyMap<string, unknown>): boolean {
  if (a === b) return true;
  if (a.size !== b.size) return false;
  const others = b.keys();
  for (const key of a.keys()) if (key !== others.next().value) return false;
  return true;
}

const sameTurnout = (a: PlacedTurnout, b: PlacedTurnout): boolean =>
  a.host === b.host && a.direction === b.direction && a.hand === b.hand;

/** Whether two slips lead from the same tracks to the same tracks, the same ways along them. */
const sameSlip = (a: PlacedSlip, b: PlacedSlip): boolean =>
  a.on.line === b.on.line &&
  a.across.line === b.across.line &&
  a.routes.length === b.routes.length &&
  a.routes.every(({ line, startWay, endWay }, i) => {
    const other = b.routes[i];
    return line === other?.line && startWay === other.startWay && endWay === other.endWay;
  });

/** The network of before with lines of other lengths and cuts elsewhere; undefined where more than that changed. */
function onlyMoved(before: DerivedNetwork, plan: Plan, trackwork: Trackwork): DerivedNetwork | undefined {
  const changed = new Set<LineKey>();
  for (const [key, line] of trackwork.lines) {
    const was = before.trackwork.lines.get(key);
    if (was !== line && was?.path.length !== line.path.length) changed.add(key);
  }
  for (const [id, turnout] of trackwork.turnouts) {
    const was = before.trackwork.turnouts.get(id);
    if (was === turnout) continue;
    if (!was || !sameTurnout(was, turnout)) return undefined;
    if (was.departs !== turnout.departs || was.heel !== turnout.heel) changed.add(turnout.host);
  }
  for (const [id, slip] of trackwork.slips) {
    const was = before.trackwork.slips.get(id);
    if (was === slip) continue;
    if (!was || !sameSlip(was, slip)) return undefined;
    changed.add(slip.on.line).add(slip.across.line);
  }
  const pins = before.plan.pins === plan.pins ? [] : changedPins(before.plan.pins, plan.pins);
  for (const [, was, is] of pins) if (was.at !== is.at) changed.add(`track:${is.track}`);
  const lines = new Map(before.lines);
  const moved: { readonly before: CutLine; readonly after: CutLine }[] = [];
  for (const key of changed) {
    const was = before.lines.get(key);
    const length = trackwork.lines.get(key)?.path.length;
    if (!was || length === undefined) return undefined;
    const cuts: Cut[] = [];
    for (const cut of was.cuts) {
      const s = cutNow(before.union.nameOf(cut.place), plan, trackwork);
      // A pin beyond the end is a finding, which deriving afresh tells.
      if (s === undefined || s > length) return undefined;
      cuts.push({ ...cut, s });
    }
    const after: CutLine = { ...was, length, cuts };
    lines.set(key, after);
    moved.push({ before: was, after });
  }
  const { union, joints, findings, pinsApart } = before;
  const held = moved.length === 0 ? before.network : movedCuts(before.network, moved, union);
  const network = held && pins.length > 0 ? repinned(held, pins, { plan, lines, union }) : held;
  return network && { network, findings, plan, trackwork, joints, lines, union, pinsApart };
}

type ChangedPin = readonly [id: Id, was: Pin, is: Pin];

function changedPins(before: Plan["pins"], after: Plan["pins"]): ChangedPin[] {
  return Object.entries(after).flatMap(([id, is]): ChangedPin[] => {
    const was = before[id];
    return was && was !== is ? [[id, was, is]] : [];
  });
}

/** The network with some pins at other heights; undefined where a pin has none, or stands nowhere. */
function repinned(
  network: Network,
  pins: readonly ChangedPin[],
  { plan, lines, union }: Pick<DerivedNetwork, "plan" | "lines" | "union">,
): Network | undefined {
  const heights = new Map(network.pinned);
  for (const [id, , pin] of pins) {
    if (!inOption(plan, pin)) continue;
    const cut = lines.get(`track:${pin.track}`)?.cuts.find(({ place }) => union.nameOf(place) === PIN + id);
    const key = cut && union.nameOf(union.root(cut.place));
    const pinned = pinnedHeight(plan, pin);
    if (key === undefined || !heights.has(key) || pinned === undefined) return undefined;
    heights.set(key, pinned);
  }
  const same = [...heights].every(([key, height]) => network.pinned.get(key) === height);
  return same ? network : { ...network, pinned: heights };
}

const pinnedHeight = ({ decks }: Plan, { height, deck }: Pin): Millimetres | undefined =>
  height ?? (deck === undefined ? undefined : decks[deck]?.height);

/** Where a cut lies now, by its name. */
function cutNow(name: NodeKey, plan: Plan, { turnouts, slips }: Trackwork): Millimetres | undefined {
  const [kind, id = "", part, end] = name.split(":");
  if (kind === "pin") return plan.pins[id]?.at;
  if (kind === "slip") {
    const slip = slips.get(id);
    if (part === "on" || part === "across") return slip?.[part].s;
    const route = slip?.routes.find(({ side }) => side === part);
    return end === "start" ? route?.start.s : route?.end.s;
  }
  return kind === "points" ? turnouts.get(id)?.departs : turnouts.get(id)?.heel;
}

/** Names of a line's ends, made once: the same text again is found faster than its like. */
const namesOfEnds = new WeakMap<Line, { readonly start: NodeKey; readonly end: NodeKey }>();
function endNames(line: Line): { readonly start: NodeKey; readonly end: NodeKey } {
  let names = namesOfEnds.get(line);
  if (!names) namesOfEnds.set(line, (names = { start: `${line.key}#start`, end: `${line.key}#end` }));
  return names;
}

const placeOf = ({ lines }: Draft, { line, end }: LineEnd): number | undefined => lines.get(line)?.[end];

const PIN = "pin:";

function cutAtTurnout({ lines, union }: Draft, turnout: PlacedTurnout): void {
  const { id, direction, routes } = turnout;
  const host = lines.get(turnout.host);
  if (!host) return;
  const points = union.add(`points:${id}`);
  host.cuts.push({ place: points, s: turnout.departs, kind: "points" });
  const [first, second] = routes.map((route) => lines.get(route.line));
  for (const route of [first, second]) if (route) union.join(points, route.start, direction === -1);
  if (turnout.hand === "wye") {
    // A wye is a plane as well: both its ends lie at one height, and one of its routes carries the weight of both.
    if (first && second) {
      second.endLevel = first.end;
      second.plane = id;
    }
    return;
  }
  const heel = union.add(`heel:${id}`);
  host.cuts.push({ place: heel, s: turnout.heel, kind: "heel" });
  if (!first) return;
  first.endLevel = heel;
  first.plane = id;
}

/**
 * The tracks of a slip lie at one height where they cross. Its routes leave them as a turnout's leave its host, and what
 * comes in at one end of a slip goes out at the other.
 */
function cutAtSlip({ lines, union }: Draft, { id, on, across, routes }: PlacedSlip): void {
  const host = lines.get(on.line);
  const other = lines.get(across.line);
  if (!host || !other) return;
  const middle = union.add(`slip:${id}:on`);
  host.cuts.push({ place: middle, s: on.s, kind: "heel" });
  other.cuts.push({ place: union.add(`slip:${id}:across`), s: across.s, kind: "heel", level: middle });
  for (const { side, line, start, startWay, end, endWay } of routes) {
    const route = lines.get(line);
    if (!route) continue;
    for (const [name, track, place, way] of [
      ["start", host, start, startWay],
      ["end", other, end, endWay],
    ] as const) {
      const points = union.add(`slip:${id}:${side}:${name}`);
      track.cuts.push({ place: points, s: place.s, kind: "points" });
      union.join(points, route[name], way === -1);
    }
  }
}

function cutAtPin(draft: Draft, id: Id, pin: Pin): void {
  const { plan, lines, union, findings } = draft;
  const line = lines.get(`track:${pin.track}`);
  const fault = (kind: Finding["kind"], note: string): void => {
    findings.push({ kind, thing: `pins.${id}`, ...pinPlace(pin, draft), note });
  };
  if (!line) return fault("anchor-missing", `there is no track ${pin.track} to pin`);
  if (pin.at > line.length + END_SLACK) {
    return fault("pin-off-track", `track ${pin.track} is only ${Math.round(line.length)} mm long`);
  }
  const height = pinnedHeight(plan, pin);
  if (height === undefined) return fault("anchor-missing", `there is no deck ${pin.deck}`);
  line.cuts.push({ place: union.add(PIN + id), s: Math.min(pin.at, line.length), kind: "pin", pinned: height });
}

function pinPlace(pin: Pin, { plan, trackwork }: Draft): Pick<Finding, "deck" | "point"> {
  const line = trackwork.lines.get(`track:${pin.track}`);
  const { x, y } = line ? poseAt(line.path, pin.at) : { x: 0, y: 0 };
  return { deck: plan.tracks[pin.track]?.deck ?? "", point: { x, y } };
}

function reportConflicts(draft: Draft, [first, ...others]: readonly Cut[]): void {
  const held = first?.pinned ?? 0;
  for (const { place, pinned = held } of others) {
    if (Math.abs(pinned - held) <= SAME_HEIGHT) continue;
    const id = draft.union.nameOf(place).slice(PIN.length);
    const pin = draft.plan.pins[id];
    if (!pin) continue;
    const note = `pinned at ${pinned} mm where another pin says ${held} mm`;
    draft.findings.push({ kind: "pins-conflict", thing: `pins.${id}`, ...pinPlace(pin, draft), note });
  }
}
