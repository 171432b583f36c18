/**
 * Where a train can be turned: rounds of the network that bring it back onto its track the other way about. Where it
 * reverses once on the round, that is a reversing loop; three times, a wye.
 *
 * Always holds: a network has such a round exactly where some section run one way is joined, by runs and reversals, with
 * the same section run the other way; a network that hangs together as it did has the same rounds.
 */
import type { Network, NodeKey } from "./network.js";
import { type Section, type SectionEnd, type Sections, sectionsOf } from "./sections.js";

export interface TurningPlace {
  readonly kind: "loop" | "wye";
  /** Sections of the round. */
  readonly round: readonly number[];
}

const known = new WeakMap<Sections, readonly TurningPlace[]>();

export function turningPlaces(network: Network): readonly TurningPlace[] {
  const sections = sectionsOf(network);
  let places = known.get(sections);
  if (!places) known.set(sections, (places = findPlaces(sections)));
  return places;
}

/** A node as it was reached: over which section, from where, and whether it stands turned against the first. */
interface Reached {
  readonly turned: boolean;
  readonly over: number | undefined;
  readonly from: NodeKey | undefined;
  readonly depth: number;
}

/** Whether a section joins its nodes head to head: both by their side 0, or both by their side 1. */
const headToHead = ({ a, b }: Section): boolean => a.side === b.side;

/** Where ways come together and nothing lies beyond, no train passes, nor can it reverse: every end there is one by itself. */
function apartAtEnds({ sections, leaving }: Sections): Section[] {
  const end = (own: SectionEnd, name: string): SectionEnd => {
    const sides = leaving.get(own.node);
    return sides && sides[0].length > 0 && sides[1].length > 0 ? own : { ...own, node: `${own.node} ${name}` };
  };
  return sections.map((section, i) => ({ ...section, a: end(section.a, `${i}a`), b: end(section.b, `${i}b`) }));
}

function findPlaces(network: Sections): TurningPlace[] {
  const sections = apartAtEnds(network);
  const at = new Map<NodeKey, number[]>();
  sections.forEach(({ a, b }, i) => {
    for (const node of new Set([a.node, b.node])) at.set(node, [...(at.get(node) ?? []), i]);
  });
  const reached = new Map<NodeKey, Reached>();
  const spanning = new Set<number>();
  for (const root of [...at.keys()].sort()) {
    if (reached.has(root)) continue;
    reached.set(root, { turned: false, over: undefined, from: undefined, depth: 0 });
    const queue = [root];
    for (const node of queue) {
      const here = reached.get(node);
      for (const i of at.get(node) ?? []) {
        const section = sections[i];
        if (!section || !here) continue;
        const there = section.a.node === node ? section.b.node : section.a.node;
        if (reached.has(there)) continue;
        const turned = here.turned !== headToHead(section);
        reached.set(there, { turned, over: i, from: node, depth: here.depth + 1 });
        spanning.add(i);
        queue.push(there);
      }
    }
  }
  return sections.flatMap((section, i): TurningPlace[] => {
    if (spanning.has(i)) return [];
    const [a, b] = [reached.get(section.a.node), reached.get(section.b.node)];
    if (!a || !b || (a.turned !== b.turned) === headToHead(section)) return [];
    const round = roundOver(reached, section, i);
    return [{ kind: reversals(sections, round) > 1 ? "wye" : "loop", round }];
  });
}

/** The round a section closes with the ways by which its ends were reached. */
function roundOver(reached: ReadonlyMap<NodeKey, Reached>, section: Section, index: number): number[] {
  const toA: number[] = [];
  const toB: number[] = [];
  let [a, b] = [section.a.node, section.b.node];
  while (a !== b) {
    const [ra, rb] = [reached.get(a), reached.get(b)];
    if (!ra || !rb) break;
    if (ra.depth >= rb.depth && ra.from !== undefined && ra.over !== undefined) {
      toA.push(ra.over);
      a = ra.from;
    } else if (rb.from !== undefined && rb.over !== undefined) {
      toB.push(rb.over);
      b = rb.from;
    } else break;
  }
  return [index, ...toB, ...toA.reverse()];
}

/** Nodes of a round that it comes to and leaves by one side. */
function reversals(sections: readonly Section[], round: readonly number[]): number {
  const only = round.length === 1 ? sections[round[0] ?? 0] : undefined;
  if (only) return only.a.side === only.b.side ? 1 : 0;
  const sides = new Map<NodeKey, number[]>();
  for (const i of round) {
    const section = sections[i];
    for (const end of section ? [section.a, section.b] : [])
      sides.set(end.node, [...(sides.get(end.node) ?? []), end.side]);
  }
  return [...sides.values()].filter(([one, other]) => one === other).length;
}
