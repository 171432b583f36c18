/** What lies on the other side of a line's ends. */
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { NetworkEdge, NodeKey } from "../layout/network.js";
import { remember } from "./remember.js";

export interface JoinedEnd {
  readonly end: "start" | "end";
  readonly other: Line;
  readonly otherEnd: "start" | "end";
}

/**
 * Lines joined end to end with this one; the routes of a turnout are joined to what leaves them, not to their host, and
 * what meets across the pit of a turntable is not joined.
 * The same list as long as these lines stay.
 */
export function joinedEnds(layout: Layout, line: Line): readonly JoinedEnd[] {
  const keys = joinedKeys(layout).get(line.key);
  if (!keys) return NONE;
  const last = lastEnds.get(line);
  const same = last?.length === keys.length && keys.every((key, i) => sameEnd(layout, key, last[i]));
  if (last && same) return last;
  const ends = keys.flatMap(({ end, other: key, otherEnd }) => {
    const other = layout.lines.get(key);
    return other ? [{ end, other, otherEnd }] : [];
  });
  lastEnds.set(line, ends);
  return ends;
}

const NONE: readonly JoinedEnd[] = [];
const lastEnds = new WeakMap<Line, readonly JoinedEnd[]>();

const sameEnd = (layout: Layout, key: JoinedKey, end: JoinedEnd | undefined): boolean =>
  end?.end === key.end && end.otherEnd === key.otherEnd && end.other === layout.lines.get(key.other);

/** A joined end by the names of the lines. */
interface JoinedKey {
  readonly end: "start" | "end";
  readonly other: LineKey;
  readonly otherEnd: "start" | "end";
}

interface LineEnd {
  readonly line: LineKey;
  readonly end: "start" | "end";
}

/** The ends of lines that come to a node, by the side they come in on. */
type EndsAt = readonly [LineEnd[], LineEnd[]];

type JoinedKeys = ReadonlyMap<LineKey, readonly JoinedKey[]>;

/** By the network's nodes, which stay the same object while it hangs together as it did. */
const keysOf = new WeakMap<Layout["network"]["nodes"], JoinedKeys>();

function joinedKeys({ network }: Layout): JoinedKeys {
  const known = keysOf.get(network.nodes);
  if (known) return known;
  const nodes = new Map<NodeKey, EndsAt>();
  const arrive = (line: LineKey, end: "start" | "end", { node, side }: NetworkEdge["a"]): void => {
    let ends = nodes.get(node);
    if (!ends) nodes.set(node, (ends = [[], []]));
    ends[side].push({ line, end });
  };
  for (const [key, edges] of network.byLine) {
    const [first, last] = [edges[0], edges.at(-1)];
    if (!first || !last) continue;
    arrive(key, "start", first.a);
    arrive(key, "end", last.b);
  }
  const joined = new Map<LineKey, JoinedKey[]>();
  const add = ({ line, end }: LineEnd, { line: other, end: otherEnd }: LineEnd): void => {
    const own = joined.get(line);
    if (own) own.push({ end, other, otherEnd });
    else joined.set(line, [{ end, other, otherEnd }]);
  };
  for (const [key, [before, after]] of nodes) {
    if (network.nodes.get(key)?.kind === "turntable") continue;
    for (const a of before) {
      for (const b of after) {
        add(a, b);
        add(b, a);
      }
    }
  }
  keysOf.set(network.nodes, joined);
  return joined;
}

/** Whether an edge is the first or the last of its line, so that this end of it is the line's. */
export function isLineEnd({ byLine }: Layout["network"], edge: NetworkEdge, end: "start" | "end"): boolean {
  return byLine.get(edge.line)?.at(end === "start" ? 0 : -1) === edge;
}

/** Curvature at both ends of a line as seen leaving the line there: at its start, looking back along it. */
export const endCurvatures = remember((line: Line): { start: number; end: number } => ({
  start: -(line.path.segments[0]?.k0 ?? 0),
  end: line.path.segments.at(-1)?.k1 ?? 0,
}));
