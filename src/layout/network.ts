/**
 * The network: stretches of line between nodes that have two sides. A train that comes in on one side of a node leaves
 * on the other; it cannot reverse through one.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Id } from "../plan/schema.js";
import type { LineKey } from "./line.js";

export type NodeKey = string;

export interface NetworkNode {
  readonly key: NodeKey;
  /**
   * end: a line ends here and nothing follows. joint: two lines meet. points: a turnout's points, its routes together on one side.
   * heel: where a turnout's plane ends on its host, and where two tracks cross in a slip. pin: a pinned height on plain
   * track. turntable: the approach on one side, the stalls on the other; a train goes from one to the other over the
   * bridge, which is no edge, and what stands on the bridge can be turned.
   */
  readonly kind: "end" | "joint" | "points" | "heel" | "pin" | "turntable";
  /** Edges by side; an edge with both ends here stands twice. */
  readonly sides: readonly [readonly number[], readonly number[]];
  /** A turnout is one plane: this node's height is that of another node (the heel on the host). */
  readonly level?: NodeKey;
}

export interface NetworkEdge {
  readonly index: number;
  readonly line: LineKey;
  /** Distances along the line; from < to. */
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly length: Millimetres;
  /** Nodes at `from` and at `to`, and the side of the node the edge is on. */
  readonly a: { readonly node: NodeKey; readonly side: 0 | 1 };
  readonly b: { readonly node: NodeKey; readonly side: 0 | 1 };
  /** Diverging route of a turnout: takes its heights from the host's plane and carries no weight in the solve. */
  readonly plane?: Id;
}

export interface Network {
  readonly nodes: ReadonlyMap<NodeKey, NetworkNode>;
  readonly edges: readonly NetworkEdge[];
  /** Edges of each line, in order along it. */
  readonly byLine: ReadonlyMap<LineKey, readonly NetworkEdge[]>;
  /** Pinned heights of nodes, mm above the floor. Kept apart, so that a pin raised leaves the nodes as they are. */
  readonly pinned: ReadonlyMap<NodeKey, Millimetres>;
}
