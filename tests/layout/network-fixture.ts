/** Networks for tests, written as lines with the nodes along them. */
import { makePath } from "../../src/geometry/path.js";
import { straight } from "../../src/geometry/segment.js";
import type { HeightsInput } from "../../src/layout/heights.js";
import type { Line, LineKey } from "../../src/layout/line.js";
import type { NetworkEdge, NetworkNode, NodeKey } from "../../src/layout/network.js";

export interface LineSpec {
  /**
   * Distance and node, in order along the line. The line comes in on the node's side 0 and leaves by side 1; with a
   * `~` before the node's name it is the other way round.
   */
  readonly stops: readonly (readonly [number, string])[];
  /** A turnout's diverging route that carries no weight. */
  readonly plane?: string;
  readonly deck?: string;
}

export interface NodeSpec {
  readonly pinned?: number;
  readonly level?: string;
}

export interface NetworkSpec {
  readonly lines: Readonly<Record<string, LineSpec>>;
  readonly nodes?: Readonly<Record<string, NodeSpec>>;
  readonly decks?: Readonly<Record<string, number>>;
  readonly verticalCurve?: number;
}

const NO_SAMPLES = { s: [], x: [], y: [], heading: [], curvature: [] };

function lineOf(key: LineKey, spec: LineSpec): Line {
  const length = spec.stops.at(-1)?.[0] ?? 0;
  const [kind, id] = key.split(":");
  const samples = Object.fromEntries(Object.keys(NO_SAMPLES).map((name) => [name, new Float64Array(0)]));
  return {
    key,
    kind: kind === "turnout" ? "turnout" : "track",
    id: id ?? "",
    class: "main",
    deck: spec.deck ?? "lower",
    path: makePath({ x: 0, y: 0, heading: 0 }, [straight(length)]),
    samples: { count: 0, ...samples } as Line["samples"],
  };
}

/** `reuse` gives the lines of an earlier network, taken over where they have the same length and deck. */
export function networkOf(spec: NetworkSpec, reuse?: ReadonlyMap<LineKey, Line>): HeightsInput {
  const lines = new Map<LineKey, Line>();
  const sides = new Map<NodeKey, [number[], number[]]>();
  const edges: NetworkEdge[] = [];
  const byLine = new Map<LineKey, NetworkEdge[]>();
  const attach = (name: string, side: 0 | 1, index: number): { node: NodeKey; side: 0 | 1 } => {
    const node = name.replace("~", "");
    const on = name.startsWith("~") ? ((1 - side) as 0 | 1) : side;
    const both = sides.get(node) ?? [[], []];
    sides.set(node, both);
    both[on].push(index);
    return { node, side: on };
  };
  for (const [name, lineSpec] of Object.entries(spec.lines)) {
    const key = name as LineKey;
    const fresh = lineOf(key, lineSpec);
    const before = reuse?.get(key);
    lines.set(key, before && before.deck === fresh.deck && before.path.length === fresh.path.length ? before : fresh);
    const own: NetworkEdge[] = [];
    lineSpec.stops.slice(1).forEach(([to, end], i) => {
      const [from, start] = lineSpec.stops[i] ?? [0, ""];
      const index = edges.length;
      const edge: NetworkEdge = {
        index,
        line: key,
        from,
        to,
        length: to - from,
        a: attach(start, 1, index),
        b: attach(end, 0, index),
        ...(lineSpec.plane !== undefined && { plane: lineSpec.plane }),
      };
      edges.push(edge);
      own.push(edge);
    });
    byLine.set(key, own);
  }
  const nodes = new Map<NodeKey, NetworkNode>();
  const pinned = new Map<NodeKey, number>();
  for (const [key, both] of sides) {
    const joined = both[0].length > 0 && both[1].length > 0;
    const { pinned: height, ...node } = spec.nodes?.[key] ?? {};
    nodes.set(key, { key, kind: joined ? "joint" : "end", sides: both, ...node });
    if (height !== undefined) pinned.set(key, height);
  }
  const decks = Object.entries({ lower: 900, upper: 1300, ...spec.decks }).map(
    ([id, height]) => [id, { name: id, kind: "scenic", height, thickness: 60 }] as const,
  );
  return {
    network: { nodes, edges, byLine, pinned },
    lines,
    decks: Object.fromEntries(decks),
    verticalCurve: spec.verticalCurve ?? 0,
  };
}

/** A main with a turnout at 1000 (points) to 1200 (heel) that a branch of 1500 mm leaves from, dead at its far end. */
export const SPUR_ON_A_GRADE: NetworkSpec = {
  lines: {
    "track:main": {
      stops: [
        [0, "west"],
        [1000, "points"],
        [1200, "heel"],
        [3000, "east"],
      ],
    },
    "turnout:t": {
      stops: [
        [0, "points"],
        [201, "diverging"],
      ],
      plane: "t",
    },
    "track:spur": {
      stops: [
        [0, "diverging"],
        [1500, "buffer"],
      ],
    },
  },
  nodes: { west: { pinned: 900 }, east: { pinned: 960 }, diverging: { level: "heel" } },
};
