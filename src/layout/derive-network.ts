/**
 * From lines to the network: every line is cut where something happens on it, at points, heels and pins, and its ends
 * are made one with what they are joined to. Where two lines meet head to head one of them is turned round, which the
 * union of places carries along.
 *
 * Always holds: a train that passes a node changes sides; a turnout's routes leave its points on one side; pins that
 * disagree at one place, or lie nowhere, are findings, and the first pin of a place holds.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Pin, Plan } from "../plan/schema.js";
import { assembleNetwork, type Cut, type CutLine } from "./assemble-network.js";
import { deriveJoints, type LineEnd } from "./joints.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import type { Network, NodeKey } from "./network.js";
import { recordsInHand } from "./options.js";
import { SidedUnion } from "./sided-union.js";
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

export function deriveNetwork(plan: Plan, trackwork: Trackwork): { network: Network; findings: readonly Finding[] } {
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
  for (const { a, b } of deriveJoints(plan, trackwork)) {
    const [one, other] = [placeOf(draft, a), placeOf(draft, b)];
    if (one !== undefined && other !== undefined) union.join(one, other, a.end === b.end);
  }
  for (const turnout of trackwork.turnouts.values()) cutAtTurnout(draft, turnout);
  for (const [id, pin] of recordsInHand(plan, plan.pins)) cutAtPin(draft, id, pin);
  const { network, pinsTogether } = assembleNetwork([...lines.values()], union);
  for (const pins of pinsTogether) reportConflicts(draft, pins);
  return { network, findings: draft.findings };
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
  const height = pin.height ?? (pin.deck === undefined ? undefined : plan.decks[pin.deck]?.height);
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
