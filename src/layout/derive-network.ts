/**
 * From lines to the network: every line is cut where something happens on it, and cuts that are one place become one
 * node. A cut's side 0 is the way back along its line, side 1 the way on; where two lines meet head to head one of them
 * is turned round, which the union of cuts carries along as a parity.
 *
 * Always holds: the edges of a line cover it without gap or overlap; a train that passes a node changes sides.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan } from "../plan/schema.js";
import { deriveJoints } from "./joints.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import type { Network, NetworkEdge, NetworkNode, NodeKey } from "./network.js";
import { recordsInHand } from "./options.js";
import { SidedUnion } from "./sided-union.js";
import type { Trackwork } from "./trackwork.js";

/** Cuts nearer than this are one: a tenth of what a saw or a rail joint can tell apart. */
const ONE_PLACE: Millimetres = 0.05;
/** Pins that differ by less say the same. */
const SAME_HEIGHT: Millimetres = 0.01;
/** A pin typed a little past the end of its track still belongs to the end. */
const END_SLACK: Millimetres = 0.5;

interface Cut {
  readonly key: NodeKey;
  readonly s: Millimetres;
  readonly kind: NetworkNode["kind"];
}

interface Draft {
  readonly cuts: Map<LineKey, Cut[]>;
  readonly union: SidedUnion;
  readonly level: Map<NodeKey, NodeKey>;
  readonly plane: Map<LineKey, Id>;
  readonly pinned: Map<NodeKey, Millimetres>;
  readonly kinds: Map<NodeKey, NetworkNode["kind"]>;
  readonly findings: Finding[];
}

export function deriveNetwork(plan: Plan, trackwork: Trackwork): { network: Network; findings: readonly Finding[] } {
  const draft: Draft = {
    cuts: new Map(),
    union: new SidedUnion(),
    level: new Map(),
    plane: new Map(),
    pinned: new Map(),
    kinds: new Map(),
    findings: [],
  };
  for (const line of trackwork.lines.values()) {
    cut(draft, line.key, endKey(line.key, "start"), 0, "end");
    cut(draft, line.key, endKey(line.key, "end"), line.path.length, "end");
  }
  for (const { a, b } of deriveJoints(plan, trackwork)) {
    draft.union.join(endKey(a.line, a.end), endKey(b.line, b.end), a.end === b.end);
  }
  for (const turnout of trackwork.turnouts.values()) cutTurnout(draft, turnout, trackwork.lines);
  for (const [id, pin] of recordsInHand(plan, plan.pins)) cutPin(draft, plan, id, pin, trackwork.lines);
  return { network: assemble(draft, trackwork.lines, plan), findings: draft.findings };
}

const endKey = (line: LineKey, end: "start" | "end"): NodeKey => `${line}#${end}`;

function cut(draft: Draft, line: LineKey, key: NodeKey, s: Millimetres, kind: NetworkNode["kind"]): void {
  const cuts = draft.cuts.get(line);
  if (cuts) cuts.push({ key, s, kind });
  else draft.cuts.set(line, [{ key, s, kind }]);
  draft.kinds.set(key, kind);
}

function cutTurnout(draft: Draft, turnout: PlacedTurnout, lines: ReadonlyMap<LineKey, Line>): void {
  const host = lines.get(turnout.host);
  if (!host) return;
  const { id, direction, routes } = turnout;
  const points: NodeKey = `points:${id}`;
  cut(draft, turnout.host, points, turnout.departs, "points");
  for (const route of routes) draft.union.join(points, endKey(route.line, "start"), direction === -1);
  if (turnout.hand === "wye") {
    const [first, second] = routes;
    if (!first || !second) return;
    // A wye is a plane as well: both its ends lie at one height, and one of its routes carries the weight of both.
    draft.level.set(endKey(second.line, "end"), endKey(first.line, "end"));
    draft.plane.set(second.line, id);
    return;
  }
  const heel: NodeKey = `heel:${id}`;
  cut(draft, turnout.host, heel, turnout.heel, "heel");
  for (const route of routes) {
    draft.level.set(endKey(route.line, "end"), heel);
    draft.plane.set(route.line, id);
  }
}

function cutPin(draft: Draft, plan: Plan, id: Id, pin: Plan["pins"][string], lines: ReadonlyMap<LineKey, Line>): void {
  const line = lines.get(`track:${pin.track}`);
  const note = (kind: Finding["kind"], text: string): void => {
    const deck = plan.tracks[pin.track]?.deck ?? "";
    const at = line ? poseAt(line.path, pin.at) : { x: 0, y: 0 };
    draft.findings.push({ kind, thing: `pins.${id}`, deck, point: { x: at.x, y: at.y }, note: text });
  };
  if (!line) return note("anchor-missing", `there is no track ${pin.track} to pin`);
  if (pin.at > line.path.length + END_SLACK) {
    return note("pin-off-track", `track ${pin.track} is only ${Math.round(line.path.length)} mm long`);
  }
  const height = pin.height ?? (pin.deck === undefined ? undefined : plan.decks[pin.deck]?.height);
  if (height === undefined) return note("anchor-missing", `there is no deck ${pin.deck}`);
  const key: NodeKey = `pin:${id}`;
  cut(draft, line.key, key, Math.min(pin.at, line.path.length), "pin");
  draft.pinned.set(key, height);
}

function pinsConflict(
  key: NodeKey,
  other: Millimetres,
  pinned: Millimetres,
  plan: Plan,
  lines: ReadonlyMap<LineKey, Line>,
): Finding {
  const id = key.slice("pin:".length);
  const pin = plan.pins[id];
  const line = lines.get(`track:${pin?.track ?? ""}`);
  const at = line && pin ? poseAt(line.path, pin.at) : { x: 0, y: 0 };
  const note = `pinned at ${pinned} mm where another pin says ${other} mm`;
  return { kind: "pins-conflict", thing: `pins.${id}`, deck: line?.deck ?? "", point: { x: at.x, y: at.y }, note };
}

interface NodeDraft {
  kind: NetworkNode["kind"];
  sides: [number[], number[]];
  pins: Millimetres[];
  level?: NodeKey;
}

/** A node that is several things at once is named after the first of these. */
const RANK: readonly NetworkNode["kind"][] = ["points", "heel", "joint", "pin", "end"];

function assemble(draft: Draft, lines: ReadonlyMap<LineKey, Line>, plan: Plan): Network {
  const { union } = draft;
  for (const cuts of draft.cuts.values()) {
    cuts.sort((a, b) => a.s - b.s || (a.key < b.key ? -1 : 1));
    for (let i = 1; i < cuts.length; i++) {
      const [a, b] = [cuts[i - 1], cuts[i]];
      if (a && b && b.s - a.s < ONE_PLACE) union.join(a.key, b.key, false);
    }
  }
  const nodes = new Map<NodeKey, NodeDraft>();
  const nodeOf = (key: NodeKey): NodeDraft => {
    const root = union.find(key).root;
    let node = nodes.get(root);
    if (!node) nodes.set(root, (node = { kind: "end", sides: [[], []], pins: [] }));
    return node;
  };
  for (const [key, kind] of draft.kinds) {
    const node = nodeOf(key);
    if (RANK.indexOf(kind) < RANK.indexOf(node.kind)) node.kind = kind;
    const pinned = draft.pinned.get(key);
    if (pinned !== undefined) {
      const other = node.pins.find((height) => Math.abs(height - pinned) > SAME_HEIGHT);
      if (other !== undefined) draft.findings.push(pinsConflict(key, other, pinned, plan, lines));
      node.pins.push(pinned);
    }
    const level = draft.level.get(key);
    if (level !== undefined) node.level = union.find(level).root;
  }
  const edges: NetworkEdge[] = [];
  const byLine = new Map<LineKey, NetworkEdge[]>();
  for (const key of lines.keys()) byLine.set(key, cutEdges(key, draft, nodeOf, edges));
  const finished = new Map<NodeKey, NetworkNode>();
  for (const [key, node] of nodes) finished.set(key, finishNode(key, node));
  return { nodes: finished, edges, byLine };
}

function cutEdges(
  line: LineKey,
  draft: Draft,
  nodeOf: (key: NodeKey) => NodeDraft,
  edges: NetworkEdge[],
): NetworkEdge[] {
  const own: NetworkEdge[] = [];
  const cuts = draft.cuts.get(line) ?? [];
  const plane = draft.plane.get(line);
  let from = cuts[0];
  for (const to of cuts.slice(1)) {
    if (!from || to.s - from.s < ONE_PLACE) continue;
    const a = draft.union.find(from.key);
    const b = draft.union.find(to.key);
    const sideA = a.turned ? 0 : 1;
    const sideB = b.turned ? 1 : 0;
    const edge: NetworkEdge = {
      index: edges.length,
      line,
      from: from.s,
      to: to.s,
      length: to.s - from.s,
      a: { node: a.root, side: sideA },
      b: { node: b.root, side: sideB },
      ...(plane !== undefined && { plane }),
    };
    nodeOf(from.key).sides[sideA].push(edge.index);
    nodeOf(to.key).sides[sideB].push(edge.index);
    edges.push(edge);
    own.push(edge);
    from = to;
  }
  return own;
}

function finishNode(key: NodeKey, node: NodeDraft): NetworkNode {
  const [zero, one] = node.sides;
  const plain = node.kind === "end" && zero.length > 0 && one.length > 0 ? "joint" : node.kind;
  const pinned = node.pins[0];
  return {
    key,
    kind: plain,
    sides: [zero, one],
    ...(pinned !== undefined && { pinned }),
    ...(node.level !== undefined && node.level !== key && { level: node.level }),
  };
}
