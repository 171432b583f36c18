/**
 * Which points of a published certificate a plan meets: the civil engineering certificate of the NMRA's achievement
 * program, its requirements for the plan. They are told from memory, not read: hold them against the current statement
 * before you apply. What no reading tells is left to the owner's eye.
 *
 * Always holds: the same points in the same order whatever the plan; a point is met by what a reading found, never by a
 * name.
 */
import { recordsInHand } from "../layout/options.js";
import type { Plan } from "../plan/schema.js";
import type { Reading, ReadingId } from "./reading.js";

export const CIVIL_SOURCE =
  "NMRA achievement program, civil engineer: requirements for the plan, from memory; hold them against the current text";

export const CIVIL_POINTS = [
  "passing-siding",
  "switching-locations",
  "turning",
  "two-trains",
  "terminal",
  "engine-facilities",
  "overall-size",
  "scale",
  "elevations",
  "radii",
  "turnout-sizes",
] as const;
export type CivilPoint = (typeof CIVIL_POINTS)[number];

export interface CertificatePoint {
  readonly id: CivilPoint;
  readonly label: string;
  /** Undefined where no reading tells. */
  readonly met: boolean | undefined;
  /** What was found, in a few words. */
  readonly found: string;
}

/** Places where cars are spotted, besides yards and the like (from memory). */
const LOCATIONS = 4;
/** A yard of one track sorts nothing. */
const YARD_TRACKS = 2;

const figure = (reading: Reading | undefined, name: string): number => reading?.figures?.[name]?.value ?? 0;
const some = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`;

/** Every point, from the readings of the plan; takes nothing anew. */
export function civilCertificate(plan: Plan, readings: readonly Reading[]): CertificatePoint[] {
  const of = (id: ReadingId): Reading[] => readings.filter((reading) => reading.id === id);
  const sidings = of("siding").filter(({ verdict, value = 0 }) => value > 0 && verdict !== "fails");
  const short = of("siding").length - sidings.length;
  const [spur] = of("spur");
  const spots = (spur?.places ?? []).filter(({ value = 0 }) => value > 0).length;
  const [runs] = of("runs");
  const turns = figure(runs, "places to turn");
  const together = figure(runs, "at once, no turnout thrown");
  const yards = of("yard").map((yard) => figure(yard, "tracks"));
  const most = Math.max(0, ...yards);
  const laid = of("length").some(({ value = 0 }) => value > 0);
  const radii = of("radius").filter(({ value }) => value !== undefined);
  const sizes = of("turnout-size").filter(({ value }) => value !== undefined);
  const pinned = recordsInHand(plan, plan.pins).length;
  const passes = sidings.length > 0;
  return [
    {
      id: "passing-siding",
      label: "A passing siding on the main",
      met: passes,
      found: passes
        ? `${some(sidings.length, "siding", "sidings")} that ${sidings.length === 1 ? "takes" : "take"} a train`
        : short > 0
          ? "no siding takes the plan's train"
          : "no double-ended siding",
    },
    {
      id: "switching-locations",
      label: "Four switching locations besides yards",
      met: spots >= LOCATIONS,
      found: spots > 0 ? `${some(spots, "spur", "spurs")} with room for cars` : "no spur with room for a car",
    },
    {
      id: "turning",
      label: "Turning of engines: wye, turntable or loop",
      met: turns > 0,
      found: turns > 0 ? some(turns, "place to turn", "places to turn") : "nothing turns",
    },
    {
      id: "two-trains",
      label: "Two trains run at once",
      met: together > 1 || passes,
      found:
        together > 1
          ? `${together} circuits at once, no turnout thrown`
          : passes
            ? "they meet at a siding"
            : "one circuit at most, and nowhere to meet",
    },
    {
      id: "terminal",
      label: "A terminal or yard for cars",
      met: most >= YARD_TRACKS,
      found: most > 0 ? `largest yard: ${some(most, "track", "tracks")}` : "no yard",
    },
    {
      id: "engine-facilities",
      label: "Storage and service of engines",
      met: undefined,
      found: "no reading tells; look for yourself",
    },
    { id: "overall-size", label: "Overall size on the drawing", met: laid, found: drawn(laid, "in the title block") },
    {
      id: "scale",
      label: "Scale on the drawing",
      met: laid,
      found: drawn(laid, `${plan.scale.name}, with the drawing's own`),
    },
    {
      id: "elevations",
      label: "Elevations of track on the drawing",
      met: laid && pinned > 0,
      found:
        laid && pinned === 0 ? "no height is pinned yet" : drawn(laid, some(pinned, "height pinned", "heights pinned")),
    },
    {
      id: "radii",
      label: "Radii of curves on the drawing",
      met: radii.length > 0,
      found: radii.length > 0 ? "beside the curves and in the schedule" : "no curve",
    },
    {
      id: "turnout-sizes",
      label: "Sizes of turnouts on the drawing",
      met: sizes.length > 0,
      found: sizes.length > 0 ? "beside the turnouts and in the schedule" : "no turnout",
    },
  ];
}

const drawn = (laid: boolean, where: string): string => (laid ? where : "no track yet");
