/**
 * All labels of a view. Each is tried where it reads best, then further off; one that finds no room is left out, never
 * shrunk. The order of asking is the order of importance: verdict flags, names of places, grades, radii, turnouts, heights,
 * lengths of sidings, and last the names of pale decks. What stands in a place of its own (the room's names, dimensions) is taken
 * as it is.
 *
 * Always holds: no two labels of those that were given a place overlap; none of them lies over track in hand.
 */
import type { Box } from "../geometry/bounds.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Reading } from "../readings/reading.js";
import { lineBox } from "../layout/line-boxes.js";
import { boxesOverlap } from "./boxes.js";
import type { Label, Labelling, Paper } from "./label.js";
import { dimensionLabels } from "./label-dimensions.js";
import { flagLabels } from "./label-flags.js";
import { gradeLabels } from "./label-grades.js";
import { groundOf } from "./label-ground.js";
import { heightLabels } from "./label-heights.js";
import { placeLabels } from "./label-places.js";
import { radiusLabels } from "./label-radii.js";
import { roomLabels } from "./label-room.js";
import { sidingLabels } from "./label-sidings.js";
import { turnoutLabels } from "./label-turnouts.js";

export interface LabelWishes {
  /** px to a mm of the sheet. */
  readonly scale: number;
  /** How far track is drawn to either side of its centre line, mm; 0 where left out. */
  readonly halfTrack?: Millimetres;
  /** Decks drawn in ink, that in hand first, and those that are pale. */
  readonly inHand: readonly Id[];
  readonly pale: readonly Id[];
  readonly readings: readonly Reading[];
  readonly units: Plan["units"];
  /** Heights of the railhead along the track, which a screen shows in the profile. */
  readonly heights?: boolean;
  /** The part of the sheet labels are wanted of; all where left out. */
  readonly region?: Box;
}

/** All labels at once. */
export const labelsOf = (layout: Layout, wishes: LabelWishes): Label[] =>
  [...labelling(layout, wishes)].filter((label) => label !== undefined);

/** The same one after another, in steps short enough to draw a frame between them. */
export function* labelling(layout: Layout, wishes: LabelWishes): Labelling {
  const { inHand, pale, readings, units, region } = wishes;
  const { plan } = layout;
  const paper: Paper = { scale: wishes.scale, halfTrack: (wishes.halfTrack ?? 0) * wishes.scale };
  const ground = yield* groundOf(paper, layout, { inHand, pale }, region);
  const hand = new Set(inHand);
  const lines = [...layout.lines.values()].filter(
    (line) => hand.has(line.deck) && (!region || boxesOverlap(lineBox(line), region)),
  );
  const hosts = new Set(lines.map((line) => line.key));
  const turnouts = [...layout.turnouts.values()].filter(({ host }) => hosts.has(host));
  yield* roomLabels(paper, plan, ground);
  yield* flagLabels(paper, ground, inHand, readings, region);
  for (const [i, deck] of inHand.entries()) yield* placeLabels(paper, ground, deckless(plan, i > 0), deck, false);
  yield* gradeLabels(paper, ground, layout, lines);
  yield* radiusLabels(paper, ground, lines, units);
  yield* turnoutLabels(paper, ground, layout, turnouts);
  if (wishes.heights) yield* heightLabels(paper, ground, layout, lines, units);
  yield* sidingLabels(paper, ground, layout, readings, hosts);
  for (const deck of pale) yield* placeLabels(paper, ground, plan, deck, true);
  yield* dimensionLabels(paper, plan, units);
}

/** The plan without labels of no deck, where those were told with another deck already. */
const deckless = (plan: Plan, told: boolean): Plan =>
  told
    ? { ...plan, labels: Object.fromEntries(Object.entries(plan.labels).filter(([, { deck }]) => deck !== undefined)) }
    : plan;
