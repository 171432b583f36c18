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
import { assembleNetwork, type CutLine } from "./assemble-network.js";
import { deriveJoints } from "./joints.js";
import type { Finding } from "./layout.js";
import type { LineKey, PlacedTurnout } from "./line.js";
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
  readonly level: Map<NodeKey, NodeKey>;
  readonly pinned: Map<NodeKey, Millimetres>;
  readonly findings: Finding[];
}

export function deriveNetwork(plan: Plan, trackwork: Trackwork): { network: Network; findings: readonly Finding[] } {
  const draft: Draft = {
    plan,
    trackwork,
    lines: new Map(),
    union: new SidedUnion(),
    level: new Map(),
    pinned: new Map(),
    findings: [],
  };
  for (const { key, path } of trackwork.lines.values()) {
    draft.lines.set(key, { key, length: path.length, start: endKey(key, "start"), end: endKey(key, "end"), cuts: [] });
  }
  for (const { a, b } of deriveJoints(plan, trackwork)) {
    draft.union.join(endKey(a.line, a.end), endKey(b.line, b.end), a.end === b.end);
  }
  for (const turnout of trackwork.turnouts.values()) cutAtTurnout(draft, turnout);
  for (const [id, pin] of recordsInHand(plan, plan.pins)) cutAtPin(draft, id, pin);
  const { network, pinsTogether } = assembleNetwork(draft);
  for (const keys of pinsTogether) reportConflicts(draft, keys);
  return { network, findings: draft.findings };
}

const endKey = (line: LineKey, end: "start" | "end"): NodeKey => `${line}#${end}`;
const PIN = "pin:";

function cutAtTurnout({ lines, union, level }: Draft, turnout: PlacedTurnout): void {
  const { id, direction, routes } = turnout;
  const host = lines.get(turnout.host);
  if (!host) return;
  const points: NodeKey = `points:${id}`;
  host.cuts.push({ key: points, s: turnout.departs, kind: "points" });
  for (const route of routes) union.join(points, endKey(route.line, "start"), direction === -1);
  const [first, second] = routes;
  if (second) {
    // A wye is a plane as well: both its ends lie at one height, and one of its routes carries the weight of both.
    if (first) level.set(endKey(second.line, "end"), endKey(first.line, "end"));
    markPlane(lines.get(second.line), id);
    return;
  }
  const heel: NodeKey = `heel:${id}`;
  host.cuts.push({ key: heel, s: turnout.heel, kind: "heel" });
  if (!first) return;
  level.set(endKey(first.line, "end"), heel);
  markPlane(lines.get(first.line), id);
}

function markPlane(line: CutLine | undefined, id: Id): void {
  if (line) line.plane = id;
}

function cutAtPin({ plan, lines, pinned, findings, trackwork }: Draft, id: Id, pin: Pin): void {
  const line = lines.get(`track:${pin.track}`);
  const fault = (kind: Finding["kind"], note: string): void => {
    findings.push({ kind, thing: `pins.${id}`, ...pinPlace(pin, plan, trackwork), note });
  };
  if (!line) return fault("anchor-missing", `there is no track ${pin.track} to pin`);
  if (pin.at > line.length + END_SLACK) {
    return fault("pin-off-track", `track ${pin.track} is only ${Math.round(line.length)} mm long`);
  }
  const height = pin.height ?? (pin.deck === undefined ? undefined : plan.decks[pin.deck]?.height);
  if (height === undefined) return fault("anchor-missing", `there is no deck ${pin.deck}`);
  line.cuts.push({ key: PIN + id, s: Math.min(pin.at, line.length), kind: "pin" });
  pinned.set(PIN + id, height);
}

function pinPlace(pin: Pin, plan: Plan, { lines }: Trackwork): Pick<Finding, "deck" | "point"> {
  const line = lines.get(`track:${pin.track}`);
  const { x, y } = line ? poseAt(line.path, pin.at) : { x: 0, y: 0 };
  return { deck: plan.tracks[pin.track]?.deck ?? "", point: { x, y } };
}

function reportConflicts({ plan, trackwork, pinned, findings }: Draft, keys: readonly NodeKey[]): void {
  const [first = "", ...others] = keys;
  const held = pinned.get(first) ?? 0;
  for (const key of others) {
    const height = pinned.get(key) ?? 0;
    if (Math.abs(height - held) <= SAME_HEIGHT) continue;
    const id = key.slice(PIN.length);
    const pin = plan.pins[id];
    if (!pin) continue;
    const note = `pinned at ${height} mm where another pin says ${held} mm`;
    findings.push({ kind: "pins-conflict", thing: `pins.${id}`, ...pinPlace(pin, plan, trackwork), note });
  }
}
