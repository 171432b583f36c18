/**
 * The compound ladder: at twice the frog angle F to its bodies. A turnout of the ladder, and last the ladder itself by a
 * curve, leads to a branch at F; on it a turnout leads to one body, and the branch by a curve to the next.
 *
 * Always holds: bodies lie the spacing apart from one another; with an odd number the last branch is a body itself.
 */
import type { Millimetres } from "../../geometry/units.js";
import type { Anchor, Leg } from "../../plan/schema.js";
import type { Body } from "./bodies.js";
import type { Building } from "./building.js";
import type { LadderPlan, LadderStart } from "./ladder.js";

/** The ladder, its branches and their turnouts; x of the bodies counts from abreast of the first corner. */
export function compoundBodies(
  building: Building,
  how: LadderPlan,
  { from, corner: first }: Pick<LadderStart, "from" | "corner">,
  tracks: number,
): Body[] {
  const { size, bend, spacing, hand, name, deck, class: trackClass } = how;
  const { angle, number } = size;
  const pairs = Math.ceil(tracks / 2);
  const step = (2 * spacing) / Math.sin(2 * angle);
  const ladder = building.add("tracks", name, {
    name,
    class: trackClass,
    deck,
    start: from,
    legs: [{ straight: first + (pairs - 1) * step - bend.tangent }],
  });
  /** From a branch's corner on the ladder to the corner of its own turnout. */
  const toBranch = Math.max(size.behind, bend.tangent) + size.joint + size.corner;
  const turnoutOn = (on: string, at: Millimetres): Anchor => ({
    turnout: building.add("turnouts", name, { on, at, facing: "with", hand, number }),
  });
  const bodies: Body[] = [];
  for (let pair = 0; pair < pairs; pair++) {
    const isLast = pair === pairs - 1;
    const start: Anchor = isLast ? { track: ladder, end: "end" } : turnoutOn(ladder, first + pair * step - size.corner);
    // What the branch begins with, how long that is, and how far beyond the corner it ends.
    const begins: readonly Leg[] = isLast ? [bend.leg] : [];
    const beginsLength = isLast ? bend.length : 0;
    const beyond = isLast ? bend.tangent : size.behind;
    const x = (2 * spacing * pair) / Math.tan(2 * angle) + toBranch * Math.cos(angle);
    const single = isLast && tracks % 2 === 1;
    const length = toBranch - beyond - bend.tangent + (single ? 0 : spacing / Math.sin(angle));
    const branch = building.add("tracks", `${name} branch`, {
      class: trackClass,
      deck,
      start,
      legs: [...begins, { straight: length }],
    });
    const curved = (at: Millimetres): Body => ({
      start: { track: branch, end: "end" },
      before: [bend.leg],
      beforeLength: bend.length,
      x: at + bend.tangent,
    });
    if (single) {
      bodies.push(curved(x));
      continue;
    }
    const turnout = turnoutOn(branch, beginsLength + toBranch - beyond - size.corner);
    bodies.push({ start: turnout, before: [], beforeLength: 0, x: x + size.behind });
    bodies.push(curved(x + spacing / Math.tan(angle)));
  }
  return bodies;
}
