/** What lies on the other side of a line's ends. */
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { remember } from "./rule.js";

export interface JoinedEnd {
  readonly end: "start" | "end";
  readonly other: Line;
  readonly otherEnd: "start" | "end";
}

/** Lines joined end to end with this one; the routes of a turnout are joined to what leaves them, not to their host. */
export function joinedEnds(layout: Layout, line: Line): JoinedEnd[] {
  const edges = layout.network.byLine.get(line.key) ?? [];
  const [first, last] = [edges[0], edges.at(-1)];
  const ends: JoinedEnd[] = [];
  for (const [end, edge] of [
    ["start", first],
    ["end", last],
  ] as const) {
    if (!edge) continue;
    const { node: key, side } = end === "start" ? edge.a : edge.b;
    const node = layout.network.nodes.get(key);
    for (const index of node?.sides[side === 0 ? 1 : 0] ?? []) {
      const across = layout.network.edges[index];
      const other = across && layout.lines.get(across.line);
      if (!across || !other) continue;
      const otherEnd = across.a.node === key && across.a.side !== side && across.from === 0 ? "start" : "end";
      const reaches =
        otherEnd === "start" || (across.b.node === key && across.b.side !== side && across.to === other.path.length);
      if (reaches) ends.push({ end, other, otherEnd });
    }
  }
  return ends;
}

/** Curvature at both ends of a line as seen leaving the line there: at its start, looking back along it. */
export const endCurvatures = remember((line: Line): { start: number; end: number } => ({
  start: -(line.path.segments[0]?.k0 ?? 0),
  end: line.path.segments.at(-1)?.k1 ?? 0,
}));
