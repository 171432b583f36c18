/** Walks over a network as a train would, for tests that compare it with other accounts of the same railway. */
import type { Network, NetworkEdge, NodeKey } from "../../src/layout/network.js";

/** An edge run one way: forwards from its node a to its node b, or backwards. */
export interface Run {
  readonly edge: number;
  readonly forwards: boolean;
}

export const runName = ({ edge, forwards }: Run): string => `${edge}${forwards ? "+" : "-"}`;

function edgeAt(network: Network, index: number): NetworkEdge {
  const edge = network.edges[index];
  if (!edge) throw new Error(`no edge ${index}`);
  return edge;
}

export function runsOnwards(network: Network, { edge, forwards }: Run): Run[] {
  const run = edgeAt(network, edge);
  const arrives = forwards ? run.b : run.a;
  const leaving = arrives.side === 0 ? 1 : 0;
  const runs: Run[] = [];
  for (const index of new Set(network.nodes.get(arrives.node)?.sides[leaving])) {
    const { a, b } = edgeAt(network, index);
    if (a.node === arrives.node && a.side === leaving) runs.push({ edge: index, forwards: true });
    if (b.node === arrives.node && b.side === leaving) runs.push({ edge: index, forwards: false });
  }
  return runs;
}

/** Every run a train can come to, from one and by way of others, itself not counted unless it comes round. */
export function runsReached(network: Network, from: Run): Set<string> {
  const reached = new Set<string>();
  const open = runsOnwards(network, from);
  for (let run = open.pop(); run; run = open.pop()) {
    if (reached.has(runName(run))) continue;
    reached.add(runName(run));
    open.push(...runsOnwards(network, run));
  }
  return reached;
}

/** What every network must be: returns what is wrong with this one. */
export function networkFaults(network: Network, lengths: ReadonlyMap<string, number>): string[] {
  const faults: string[] = [];
  const ends = new Map<NodeKey, [number[], number[]]>();
  const end = (node: NodeKey, side: 0 | 1, index: number): void => {
    const sides = ends.get(node) ?? [[], []];
    sides[side].push(index);
    ends.set(node, sides);
  };
  network.edges.forEach((edge, i) => {
    if (edge.index !== i) faults.push(`edge ${i} says it is ${edge.index}`);
    if (!(edge.length > 0) || edge.length !== edge.to - edge.from) faults.push(`edge ${i} is ${edge.length} long`);
    end(edge.a.node, edge.a.side, i);
    end(edge.b.node, edge.b.side, i);
  });
  for (const [line, length] of lengths) {
    let s = 0;
    for (const edge of network.byLine.get(line as `track:${string}`) ?? []) {
      if (edge.from !== s) faults.push(`${line}: gap from ${s} to ${edge.from}`);
      s = edge.to;
    }
    if (s !== length) faults.push(`${line}: covered to ${s} of ${length}`);
  }
  for (const [key, node] of network.nodes) {
    if (node.key !== key) faults.push(`node ${key} says it is ${node.key}`);
    if (JSON.stringify(node.sides) !== JSON.stringify(ends.get(key))) faults.push(`sides of ${key}`);
    if (node.level !== undefined && !network.nodes.has(node.level)) faults.push(`${key} is level with nothing`);
  }
  return faults;
}
