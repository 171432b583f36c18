/**
 * What is asked of the search for a climb, and what it answers. Figures are millimetres, percent, degrees where named so.
 */
import type { Area } from "../geometry/areas.js";
import type { Degrees, Millimetres, Percent } from "../geometry/units.js";
import type { Edit } from "../plan/edit.js";
import type { Anchor, Id, Side, Track, TrackClass } from "../plan/schema.js";

/** The free end of a track, or of a turnout's diverging route. */
export type FreeEnd = Extract<Anchor, { readonly track: Id } | { readonly turnout: Id }>;

/**
 * A place on a track where a turnout may go, `at` being where its points would lie; a route that begins or ends there
 * brings the turnout along. Which way it faces and the side it leaves to are tried where they are left out.
 */
export interface TurnoutPlace {
  readonly track: Id;
  readonly at: Millimetres;
  readonly facing?: "with" | "against";
  readonly hand?: Side;
}

/** Where a climb leaves or arrives. */
export type ClimbEnd = FreeEnd | TurnoutPlace;

export const isTurnoutPlace = (end: ClimbEnd): end is TurnoutPlace => "at" in end;

/** What routes are sorted by; left out, by what a builder likes: little turning, few reversals, no length beyond need. */
export const RANKINGS = [
  "least-grade",
  "least-hidden",
  "most-visible-run",
  "easiest-reach",
  "least-new-bench",
] as const;
export type Ranking = (typeof RANKINGS)[number];

export interface ClimbRequest {
  /** The lower end. */
  readonly from: ClimbEnd;
  /** The upper end. */
  readonly to: ClimbEnd;
  readonly class: TrackClass;
  /** Ground without a bench that may be built on; a route that needs it brings the bench along. */
  readonly allow?: readonly Area[];
  /** Overrules of the class's limits. */
  readonly grade?: Percent;
  readonly radius?: Millimetres;
  /** At most so many routes; 6 where left out. */
  readonly most?: number;
  readonly rankBy?: Ranking;
  /** Cars the owner's engine takes on level straight track; with it the figures tell what it takes up the climb. */
  readonly engineCars?: number;
  /** A level stretch on the way, for a siding or a turnout pad: so much of it between the vertical curves. */
  readonly level?: { readonly length: Millimetres };
}

export interface ClimbFigures {
  readonly run: Millimetres;
  readonly rise: Millimetres;
  /** Steepest grade of the route's own track. */
  readonly ruling: Percent;
  /** With the drag of its curves. */
  readonly felt: Percent;
  /** Least height of its railhead over its own railhead below; undefined where it never passes over itself. */
  readonly gap: Millimetres | undefined;
  readonly hidden: Millimetres;
  /** All turning, whichever way. */
  readonly curvature: Degrees;
  readonly curves: number;
  /** Changes from a left to a right curve or back. */
  readonly reversals: number;
  /** Undefined where it is straight throughout. */
  readonly leastRadius: Millimetres | undefined;
  /** Bench that has to be added, mm2. */
  readonly newBench: number;
  /** How far in from where people stand its farthest place lies, as the reading of reach measures it; undefined where nobody can stand anywhere. */
  readonly reach?: Millimetres | undefined;
  /** Width of the narrowest way to where people work, with the benches it adds; undefined where there is none. */
  readonly aisleLeft?: Millimetres | undefined;
  /** Cars the engine can take up it; undefined where it is not known what the engine takes on the level. */
  readonly cars?: number | undefined;
  /** The level stretch that was asked for, as distances along the route. */
  readonly level?: { readonly from: Millimetres; readonly to: Millimetres } | undefined;
}

export interface ClimbRoute {
  readonly track: Id;
  readonly legs: Track["legs"];
  /** Adds the track and its height pins (and benches) to the plan that was asked about. */
  readonly edit: Extract<Edit, { readonly ok: true }>;
  readonly figures: ClimbFigures;
  /** What the search likes least comes last: turning, reversals, curves, length beyond need. */
  readonly cost: number;
}

/** The limit that was eased, and how far, for a route to be found. */
export interface Relaxation {
  readonly what: "grade" | "radius" | "rise";
  readonly value: number;
  readonly unit: "percent" | "mm";
}

export interface Shortfall {
  /** Least run that gains the rise at the limit, easing into and out of the grade included. */
  readonly needed: Millimetres;
  readonly grade: Percent;
  /** Longest way found that keeps clear of itself, whatever it gains; undefined where no way leads there at all. */
  readonly longest: Millimetres | undefined;
  /** Each found by running the search with it. */
  readonly fits: readonly Relaxation[];
}

export type ClimbStep =
  | { readonly kind: "progress"; readonly stage: string; readonly looked: number; readonly found: number }
  | { readonly kind: "route"; readonly route: ClimbRoute }
  /** The last: all routes, best first; none, and then by how much. */
  | { readonly kind: "answer"; readonly routes: readonly ClimbRoute[]; readonly shortfall?: Shortfall }
  | { readonly kind: "refused"; readonly why: string };
