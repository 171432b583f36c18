/** How much track lies beyond a place: what an engine, or a cut of cars, can be pulled out onto. */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { besideAtEnd, reversed, type Run, sectionLengths, sectionOf, sectionsOf } from "../layout/sections.js";
import { legFouling } from "./fouling-point.js";

/** Runs looked at; beyond so many the longest so far is told. */
const MOST_LOOKS = 300;

/**
 * The longest way on from the beginning of a run without reversing, over sections that may be used; no more than `most`.
 * Where it comes to others that may not be used, it ends at the fouling point with them.
 */
export function wayOut(
  layout: Layout,
  first: Run,
  most: Millimetres,
  mayUse: (section: number) => boolean,
): Millimetres {
  const sections = sectionsOf(layout.network);
  const lengths = sectionLengths(layout.network);
  let looks = 0;
  let best: Millimetres = 0;
  const onWay = new Set<number>();
  const visit = (run: Run, before: Millimetres): void => {
    const section = sectionOf(run);
    if (looks++ > MOST_LOOKS || best >= most || onWay.has(section) || !mayUse(section)) return;
    onWay.add(section);
    const length = before + (lengths[section] ?? 0);
    const next = (sections.next[run] ?? []).filter((one) => mayUse(sectionOf(one)));
    const shared = next.length < (sections.next[run] ?? []).length && besideAtEnd(sections, run).length > 0;
    const fouled = shared ? (legFouling(layout, reversed(run)) ?? lengths[section] ?? 0) : 0;
    best = Math.min(most, Math.max(best, length - Math.min(fouled, lengths[section] ?? 0)));
    for (const one of next) visit(one, length);
    onWay.delete(section);
  };
  visit(first, 0);
  return best;
}
