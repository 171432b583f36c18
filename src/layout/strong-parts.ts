/**
 * Parts of the network in which a train can get from everywhere to everywhere without reversing: what circuits lie in.
 * R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1, 1972.
 *
 * Always holds: every run is in exactly one part; a part's runs are in order; a part comes after every part that can be
 * reached from it.
 */
import type { Run, Sections } from "./sections.js";

export interface StrongParts {
  /** Parts a train can circle in. */
  readonly parts: readonly (readonly Run[])[];
  /** Index among these of the part of each run that is in one. */
  readonly partOf: readonly (number | undefined)[];
  /** All runs, each after all those that can be reached from it and do not lead back to it. */
  readonly lastFirst: readonly Run[];
}

const known = new WeakMap<Sections, StrongParts>();

export function strongParts(sections: Sections): StrongParts {
  let parts = known.get(sections);
  if (!parts) known.set(sections, (parts = findParts(sections)));
  return parts;
}

function findParts({ next }: Sections): StrongParts {
  const count = next.length;
  const number = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  const onStack = new Uint8Array(count);
  const stack: Run[] = [];
  const parts: Run[][] = [];
  const partOf: (number | undefined)[] = Array.from({ length: count }, () => undefined);
  const lastFirst: Run[] = [];
  let counter = 0;
  for (let root = 0; root < count; root++) {
    if (number[root] !== -1) continue;
    // Its own stack of visits: lines of a thousand sections would exhaust the program's.
    const visits: { readonly run: Run; at: number }[] = [];
    const enter = (run: Run): void => {
      number[run] = low[run] = counter++;
      stack.push(run);
      onStack[run] = 1;
      visits.push({ run, at: 0 });
    };
    enter(root);
    for (let visit = visits.at(-1); visit; visit = visits.at(-1)) {
      const { run } = visit;
      const to = next[run]?.[visit.at++];
      if (to !== undefined) {
        if (number[to] === -1) enter(to);
        else if (onStack[to]) low[run] = Math.min(low[run] ?? 0, number[to] ?? 0);
        continue;
      }
      visits.pop();
      const before = visits.at(-1)?.run;
      if (before !== undefined) low[before] = Math.min(low[before] ?? 0, low[run] ?? 0);
      if (low[run] !== number[run]) continue;
      const part = stack.splice(stack.lastIndexOf(run)).sort((a, b) => a - b);
      for (const one of part) onStack[one] = 0;
      lastFirst.push(...part);
      if (part.length === 1 && !next[run]?.includes(run)) continue;
      for (const one of part) partOf[one] = parts.length;
      parts.push(part);
    }
  }
  return { parts, partOf, lastFirst };
}
