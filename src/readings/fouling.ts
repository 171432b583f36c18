/**
 * Where lines lie close because they belong together: to both sides of a joint, and from a turnout's points to where its
 * routes have parted. Spacing is not asked there; beyond, it is.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { LineKey, LinePlace } from "../layout/line.js";
import type { NetworkNode } from "../layout/network.js";
import { limitsOf } from "./rule.js";

interface Zone {
  readonly node: number;
  readonly from: Millimetres;
  readonly to: Millimetres;
}

export interface Fouling {
  /** Whether two places are near one another along the track, so that they must be close in plan. */
  together(a: LinePlace, b: LinePlace): boolean;
}

/**
 * Zones round every node: `near` mm along the track, and from points as far as the routes may take to part by `near`:
 * the turnout itself, N times the spacing at the frog number, and the curve that turns the branch parallel.
 */
export function foulingZones(layout: Layout, near: Millimetres): Fouling {
  const zones = new Map<LineKey, Zone[]>();
  let index = 0;
  const pointsReach = turnoutReaches(layout, near);
  for (const node of layout.network.nodes.values()) {
    if (node.kind === "end" || node.kind === "pin") continue;
    spread(layout, node, index++, pointsReach.get(node.key) ?? near, zones);
  }
  return {
    together(a, b) {
      for (const za of zones.get(a.line) ?? []) {
        if (a.s < za.from || a.s > za.to) continue;
        if (zones.get(b.line)?.some((zb) => zb.node === za.node && b.s >= zb.from && b.s <= zb.to)) return true;
      }
      return false;
    },
  };
}

function turnoutReaches(layout: Layout, near: Millimetres): Map<string, Millimetres> {
  const reaches = new Map<string, Millimetres>();
  for (const turnout of layout.turnouts.values()) {
    const route = turnout.routes[0];
    const line = route && layout.lines.get(route.line);
    if (!line) continue;
    const first = layout.network.byLine.get(line.key)?.[0];
    if (!first) continue;
    const curve = limitsOf(layout.plan, line.class).radius.value * turnout.angle;
    const reach = line.path.length + turnout.number * near + curve;
    reaches.set(first.a.node, Math.max(reach, reaches.get(first.a.node) ?? 0));
  }
  return reaches;
}

/** Marks everything within `reach` of a node along the track, whichever way. */
function spread(
  layout: Layout,
  node: NetworkNode,
  index: number,
  reach: Millimetres,
  zones: Map<LineKey, Zone[]>,
): void {
  const { network } = layout;
  const seen = new Map<number, Millimetres>();
  const queue: { node: NetworkNode; left: Millimetres }[] = [{ node, left: reach }];
  for (let step = queue.pop(); step; step = queue.pop()) {
    for (const edgeIndex of [...step.node.sides[0], ...step.node.sides[1]]) {
      const edge = network.edges[edgeIndex];
      if (!edge || (seen.get(edgeIndex) ?? 0) >= step.left) continue;
      seen.set(edgeIndex, step.left);
      const length = Math.min(step.left, edge.length);
      const ends = [edge.a, edge.b] as const;
      ends.forEach(({ node: key }, at) => {
        if (key !== step.node.key) return;
        const zone = at === 0 ? { from: edge.from, to: edge.from + length } : { from: edge.to - length, to: edge.to };
        const own = zones.get(edge.line);
        if (own) own.push({ node: index, ...zone });
        else zones.set(edge.line, [{ node: index, ...zone }]);
        const far = network.nodes.get(ends[at === 0 ? 1 : 0].node);
        if (far && step.left > edge.length) queue.push({ node: far, left: step.left - edge.length });
      });
    }
  }
}
