/** What lies on the other side of a line's ends. */
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { NetworkEdge } from "../layout/network.js";
import { perLine } from "./per-line.js";
import { remember } from "./remember.js";

export interface JoinedEnd {
  readonly end: "start" | "end";
  readonly other: Line;
  readonly otherEnd: "start" | "end";
}

/** Lines joined end to end with this one; the routes of a turnout are joined to what leaves them, not to their host. */
export const joinedEnds = perLine((layout, line): readonly JoinedEnd[] => find(layout, line.key));

function find(layout: Layout, key: LineKey): JoinedEnd[] {
  const { network, lines } = layout;
  const ends: JoinedEnd[] = [];
  for (const end of ["start", "end"] as const) {
    const edge = network.byLine.get(key)?.at(end === "start" ? 0 : -1);
    if (!edge) continue;
    const { node, side } = end === "start" ? edge.a : edge.b;
    const far = side === 0 ? 1 : 0;
    for (const index of network.nodes.get(node)?.sides[far] ?? []) {
      const across = network.edges[index];
      const other = across && lines.get(across.line);
      if (!across || !other) continue;
      if (isLineEnd(layout, across, "start") && across.a.node === node && across.a.side === far)
        ends.push({ end, other, otherEnd: "start" });
      else if (isLineEnd(layout, across, "end") && across.b.node === node && across.b.side === far)
        ends.push({ end, other, otherEnd: "end" });
    }
  }
  return ends;
}

/** Whether an edge is the first or the last of its line, so that this end of it is the line's. */
export function isLineEnd(layout: Layout, edge: NetworkEdge, end: "start" | "end"): boolean {
  return layout.network.byLine.get(edge.line)?.at(end === "start" ? 0 : -1) === edge;
}

/** Curvature at both ends of a line as seen leaving the line there: at its start, looking back along it. */
export const endCurvatures = remember((line: Line): { start: number; end: number } => ({
  start: -(line.path.segments[0]?.k0 ?? 0),
  end: line.path.segments.at(-1)?.k1 ?? 0,
}));
