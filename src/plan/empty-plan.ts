/** A plan with nothing in it yet but a rectangular room, one lower deck and the limits of its scale. */
import type { Millimetres } from "../geometry/units.js";
import { CEILING, DECK_THICKNESS, LOWER_DECK } from "../standards/decks.js";
import { type Body, type Scale, type ScaleName, standardScale } from "../standards/scales.js";
import { presetStandards } from "./presets.js";
import { FORMAT, type Plan, VERSION } from "./schema.js";

/** The usual ceiling to the very foot, for who measures in feet: not 8 ft and a sixteenth, mm. */
const EIGHT_FEET = 8 * 304.8;

export interface EmptyPlanWishes {
  readonly title: string;
  /** Room along x and along y, above 0. */
  readonly width: Millimetres;
  readonly depth: Millimetres;
  readonly scale: Scale | ScaleName;
  /** Whose limits, where the scale is given by name: NMRA's for imperial units, NEM's for metric ones, where left out. */
  readonly body?: Body;
  readonly units: Plan["units"];
}

export function emptyPlan({ title, width, depth, scale, body, units }: EmptyPlanWishes): Plan {
  const own = typeof scale === "string" ? standardScale(scale, body ?? (units === "imperial" ? "NMRA" : "NEM")) : scale;
  return {
    format: FORMAT,
    version: VERSION,
    title,
    units,
    scale: { name: own.name, ratio: own.ratio, gauge: own.gauge },
    standards: presetStandards(own),
    room: {
      outline: [
        { x: 0, y: 0 },
        { x: width, y: 0 },
        { x: width, y: depth },
        { x: 0, y: depth },
      ],
      ceiling: units === "imperial" ? EIGHT_FEET : CEILING.value,
      openings: {},
      obstacles: {},
    },
    decks: {
      lower: { name: "Lower deck", kind: "scenic", height: LOWER_DECK.value, thickness: DECK_THICKNESS.value },
    },
    benches: {},
    backdrops: {},
    gates: {},
    tracks: {},
    templates: {},
    turnouts: {},
    slips: {},
    turntables: {},
    pins: {},
    labels: {},
    accepted: {},
    options: {},
  };
}
