/** The layout: what follows from a plan. Pure values, derived afresh or from the previous layout of a plan like it. */
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Line, LineKey, LinePlace, PlacedTurnout } from "./line.js";
import type { Meeting } from "./meetings.js";
import type { Network } from "./network.js";
import type { Profile } from "./profile.js";
import type { PlacedSlip } from "./slip.js";
import type { Space } from "./space.js";
import type { PlacedTurntable } from "./turntable.js";

/** Something that could not be derived as the plan asks; the `joint` reading reports it. */
export interface Finding {
  readonly kind:
    | "leg-unsolved"
    | "anchor-missing"
    | "anchor-circular"
    | "turnout-off-track"
    | "turnout-unknown"
    | "pin-off-track"
    | "pins-conflict"
    | "beside-gap"
    | "shape-invalid"
    | "slip-unfit"
    | "turntable-unfit";
  /** Collection and id in the plan, as `tracks.larkmoor-main`, with the leg where there is one: `tracks.x.legs.2`. */
  readonly thing: string;
  readonly deck: Id;
  readonly point: Point;
  readonly note: string;
  /** Where an unsolved leg should have led, to be drawn dashed. */
  readonly target?: Point;
}

/** How much was computed anew; the rest was taken from the previous layout. */
export interface DerivedCounts {
  readonly lines: number;
  readonly profiles: number;
  readonly meetings: number;
  readonly decks: number;
}

/** Centre lines that cross on one level. */
export interface Crossing {
  readonly a: LinePlace;
  readonly b: LinePlace;
  readonly point: Point;
  /** Angle between the lines, radians within (0, pi/2]. */
  readonly angle: number;
  readonly deck: Id;
}

/** A hidden stretch: marked so by the owner, or on a staging deck. */
export interface HiddenStretch {
  readonly line: LineKey;
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly why: "marked" | "staging";
}

export interface Layout {
  readonly plan: Plan;
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly turnouts: ReadonlyMap<Id, PlacedTurnout>;
  readonly slips: ReadonlyMap<Id, PlacedSlip>;
  readonly turntables: ReadonlyMap<Id, PlacedTurntable>;
  readonly network: Network;
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly space: Space;
  /** Pairs of lines (or a line with itself) that come near one another, on one level or one over the other; derived when first asked for. */
  readonly meetings: readonly Meeting[];
  /** Derived when first asked for. */
  readonly crossings: readonly Crossing[];
  readonly hidden: readonly HiddenStretch[];
  readonly findings: readonly Finding[];
  readonly derived: DerivedCounts;
}
