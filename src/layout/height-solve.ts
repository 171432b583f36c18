/**
 * Heights that balance: each free node lies so that the sum of rise squared over length is least, which makes the
 * network one of resistors with heights for potentials. Solved directly, by taking out one node after another: a node
 * becomes links between its neighbours (the star-mesh transformation: links g1, g2, ... become links gi gj / sum g),
 * fewest neighbours first, so that spurs and plain track go before anything fills up.
 *
 * Always holds: every height lies between the least and the greatest pin that reaches it; at every free node the
 * grades of its links balance; a link that carries nothing is exactly level. Nothing is ever subtracted from a
 * conductance, so short and long links side by side cost no accuracy.
 */
import type { Millimetres } from "../geometry/units.js";

/** A stretch of constant grade between two nodes, by their numbers; longer than nothing. */
export interface Link {
  readonly a: number;
  readonly b: number;
  readonly length: Millimetres;
}

/**
 * Heights of the nodes 0 to count - 1, mm. `pinned` holds a height for every pinned node and NaN for the free ones.
 * NaN for a node that no pin reaches. Links from a node to itself carry nothing.
 */
export function solveHeights(count: number, links: readonly Link[], pinned: Float64Array): Float64Array {
  const mesh = new Mesh(pinned);
  for (const { a, b, length } of links) mesh.link(a, b, 1 / length);
  return mesh.solve(count);
}

class Mesh {
  /** Free neighbours of each free node, and the conductance to each. */
  private readonly near: number[][] = [];
  private readonly weight: number[][] = [];
  /** All pins a node is linked to, as one: their conductance together and their mean height. */
  private readonly pinWeight: Float64Array;
  private readonly pinHeight: Float64Array;

  constructor(private readonly pinned: Float64Array) {
    this.pinWeight = new Float64Array(pinned.length);
    this.pinHeight = new Float64Array(pinned.length);
    for (let i = 0; i < pinned.length; i++) {
      this.near.push([]);
      this.weight.push([]);
    }
  }

  link(a: number, b: number, weight: number): void {
    if (a === b) return;
    const atA = this.pinned[a] ?? Number.NaN;
    const atB = this.pinned[b] ?? Number.NaN;
    if (!Number.isNaN(atA)) {
      if (Number.isNaN(atB)) this.linkToPin(b, weight, atA);
    } else if (!Number.isNaN(atB)) this.linkToPin(a, weight, atB);
    else {
      this.add(a, b, weight);
      this.add(b, a, weight);
    }
  }

  private linkToPin(node: number, weight: number, height: Millimetres): void {
    const before = this.pinWeight[node] ?? 0;
    const mean = this.pinHeight[node] ?? 0;
    this.pinWeight[node] = before + weight;
    this.pinHeight[node] = before > 0 ? mean + ((height - mean) * weight) / (before + weight) : height;
  }

  private add(from: number, to: number, weight: number): void {
    const near = this.near[from];
    const weights = this.weight[from];
    if (!near || !weights) return;
    const i = near.indexOf(to);
    if (i < 0) {
      near.push(to);
      weights.push(weight);
    } else weights[i] = (weights[i] ?? 0) + weight;
  }

  solve(count: number): Float64Array {
    const order = this.takeOut(count);
    const heights = Float64Array.from(this.pinned);
    for (let i = order.length - 1; i >= 0; i--) {
      const node = order[i] ?? 0;
      heights[node] = this.balanced(node, heights);
    }
    return heights;
  }

  /** Takes all free nodes out, one with the fewest neighbours at a time; each keeps the links it had when it went. */
  private takeOut(count: number): number[] {
    const order: number[] = [];
    const gone = new Uint8Array(count);
    /** Index + 1 of a neighbour in the row in hand. */
    const slot = new Int32Array(count);
    const byDegree: number[][] = [];
    let least = 0;
    const queue = (node: number): void => {
      const degree = this.near[node]?.length ?? 0;
      while (byDegree.length <= degree) byDegree.push([]);
      byDegree[degree]?.push(node);
      if (degree < least) least = degree;
    };
    for (let node = count - 1; node >= 0; node--) if (Number.isNaN(this.pinned[node] ?? 0)) queue(node);
    while (least < byDegree.length) {
      const node = byDegree[least]?.pop();
      if (node === undefined) least++;
      else if (!gone[node] && this.near[node]?.length === least) {
        gone[node] = 1;
        order.push(node);
        this.starToMesh(node, slot);
        for (const neighbour of this.near[node] ?? []) queue(neighbour);
      }
    }
    return order;
  }

  private starToMesh(node: number, slot: Int32Array): void {
    const star = this.near[node] ?? [];
    const weights = this.weight[node] ?? [];
    const toPins = this.pinWeight[node] ?? 0;
    const total = weights.reduce((sum, g) => sum + g, toPins);
    for (const [i, from] of star.entries()) {
      const share = (weights[i] ?? 0) / total;
      if (toPins > 0) this.linkToPin(from, share * toPins, this.pinHeight[node] ?? 0);
      const near = this.near[from] ?? [];
      const row = this.weight[from] ?? [];
      const out = near.indexOf(node);
      near[out] = near.at(-1) ?? 0;
      row[out] = row.at(-1) ?? 0;
      near.pop();
      row.pop();
      for (let k = 0; k < near.length; k++) slot[near[k] ?? 0] = k + 1;
      for (const [j, to] of star.entries()) {
        if (j === i) continue;
        const at = slot[to] ?? 0;
        if (at > 0) row[at - 1] = (row[at - 1] ?? 0) + share * (weights[j] ?? 0);
        else {
          near.push(to);
          row.push(share * (weights[j] ?? 0));
        }
      }
      for (const neighbour of near) slot[neighbour] = 0;
    }
  }

  /** The height at which a node's links balance, reckoned from one neighbour so that level stays exactly level. */
  private balanced(node: number, heights: Float64Array): Millimetres {
    const star = this.near[node] ?? [];
    const weights = this.weight[node] ?? [];
    let total = this.pinWeight[node] ?? 0;
    const base = total > 0 ? (this.pinHeight[node] ?? 0) : (heights[star[0] ?? -1] ?? Number.NaN);
    let lift = 0;
    for (let i = 0; i < star.length; i++) {
      const weight = weights[i] ?? 0;
      lift += weight * ((heights[star[i] ?? 0] ?? 0) - base);
      total += weight;
    }
    return total > 0 ? base + lift / total : base;
  }
}
