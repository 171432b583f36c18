/**
 * A line: one centre line of the layout with a name of its own. Every track is a line; so is the diverging route of a
 * turnout (a wye has two) and each curve of a slip, since no track owns it. Everything measured is measured on lines.
 */
import type { Path } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Side, TrackClass } from "../plan/schema.js";

/**
 * `track:ID`, `turnout:ID`, or for a wye `turnout:ID:left` and `turnout:ID:right`; `slip:ID:left` and `slip:ID:right` by
 * the side of the track the slip lies on.
 */
export type LineKey = `track:${string}` | `turnout:${string}` | `slip:${string}`;

/** Points along a line, evenly enough that chords stay within 0.05 mm of it; one array per quantity. */
export interface Samples {
  readonly count: number;
  readonly s: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly heading: Float64Array;
  readonly curvature: Float64Array;
}

export interface Line {
  readonly key: LineKey;
  readonly kind: "track" | "turnout" | "slip";
  /** Id of the track, turnout or slip in the plan. */
  readonly id: Id;
  readonly class: TrackClass;
  readonly deck: Id;
  readonly path: Path;
  readonly samples: Samples;
}

/** A place on a line. */
export interface LinePlace {
  readonly line: LineKey;
  readonly s: Millimetres;
}

/** Lines of turnouts lie on their host for `offset` before the points: host distance = hostStart + direction * s. */
export interface PlacedTurnout {
  readonly id: Id;
  readonly host: LineKey;
  /** Distance of the points along the host. */
  readonly at: Millimetres;
  /** +1 where a train going the host's way meets the points, else -1. */
  readonly direction: 1 | -1;
  readonly hand: "left" | "right" | "wye";
  /** Frog number; for a measured template the number that fits its angle. */
  readonly number: number;
  /** Where the diverging routes part from the host and where the turnout ends on it, as distances along the host; equal for a wye. */
  readonly departs: Millimetres;
  readonly heel: Millimetres;
  /** The joint end before the points, as a distance along the host. */
  readonly joint: Millimetres;
  /** Lead curve's own radius (before the host's curvature is added). */
  readonly radius: Millimetres;
  /** Frog angle, radians. */
  readonly angle: number;
  /** Line of each diverging route: one for left and right hands, two for a wye. */
  readonly routes: readonly { readonly side: Side; readonly line: LineKey }[];
}
