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

/** Lines joined end to end with this one; the routes of a turnout are joined to what leaves them, not to their host. */
export const joinedEnds = (layout: Layout, line: Line): readonly JoinedEnd[] => allJoined(layout).get(line.key) ?? NONE;

const NONE: readonly JoinedEnd[] = [];

interface LineEnd {
  readonly line: Line;
  readonly end: "start" | "end";
}

/** The ends of lines that come to a node, by the side they come in on. */
type EndsAt = readonly [LineEnd[], LineEnd[]];

const allJoined = remember((layout: Layout): ReadonlyMap<LineKey, readonly JoinedEnd[]> => {
  const nodes = new Map<NodeKey, EndsAt>();
  const arrive = (line: Line, end: "start" | "end", { node, side }: NetworkEdge["a"]): void => {
    let ends = nodes.get(node);
    if (!ends) nodes.set(node, (ends = [[], []]));
    ends[side].push({ line, end });
  };
  for (const [key, edges] of layout.network.byLine) {
    const line = layout.lines.get(key);
    const [first, last] = [edges[0], edges.at(-1)];
    if (!line || !first || !last) continue;
    arrive(line, "start", first.a);
    arrive(line, "end", last.b);
  }
  const joined = new Map<LineKey, JoinedEnd[]>();
  const add = ({ line, end }: LineEnd, { line: other, end: otherEnd }: LineEnd): void => {
    const own = joined.get(line.key);
    if (own) own.push({ end, other, otherEnd });
    else joined.set(line.key, [{ end, other, otherEnd }]);
  };
  for (const [before, after] of nodes.values()) {
    for (const a of before) {
      for (const b of after) {
        add(a, b);
        add(b, a);
      }
    }
  }
  return joined;
});

/** Whether an edge is the first or the last of its line, so that this end of it is the line's. */
export function isLineEnd(layout: Layout, edge: NetworkEdge, end: "start" | "end"): boolean {
  return layout.network.byLine.get(edge.line)?.at(end === "start" ? 0 : -1) === edge;
}

/** Curvature at both ends of a line as seen leaving the line there: at its start, looking back along it. */
export const endCurvatures = remember((line: Line): { start: number; end: number } => ({
  start: -(line.path.segments[0]?.k0 ?? 0),
  end: line.path.segments.at(-1)?.k1 ?? 0,
}));
