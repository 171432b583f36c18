/**
 * Plans in a few words, for tests of readings: an HO plan with NMRA limits in a bare room of 8 m by 6 m whose lower deck
 * is at 1000 mm, and whatever is added to it. Limits that a test relies on are set by the test, in round millimetres.
 */
import type { Point } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type {
  Anchor,
  ClassLimits,
  Deck,
  Gate,
  Leg,
  Obstacle,
  Opening,
  Plan,
  Standards,
  Track,
  Turnout,
} from "../../src/plan/schema.js";
import type { Reading } from "../../src/readings/reading.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";

export const LOWER = 1000;

/** The longest car of the fixture: round figures, so that throws can be worked out by hand. */
export const CAR = { length: 300, truckCentres: 210, width: 40, height: 60, overCouplers: 310 } as const;

export const at = (x: number, y: number, heading = 0): Anchor => ({ pose: { x, y, heading } });
export const endOf = (track: string): Anchor => ({ track, end: "end" });
export const startOf = (track: string): Anchor => ({ track, end: "start" });
export const from = (turnout: string): Anchor => ({ turnout });

type Easement = number | { readonly in: number; readonly out: number };

export const straight = (length: number): Leg => ({ straight: length });
export const left = (radius: number, angle: number, easement: Easement = 0): Leg => ({
  curve: { radius, angle, hand: "left", easement },
});
export const right = (radius: number, angle: number, easement: Easement = 0): Leg => ({
  curve: { radius, angle, hand: "right", easement },
});
export const join = (to: Anchor, radius: number, easement = 0): Leg => ({ join: { to, radius, easement } });

export const box = (x0: number, y0: number, x1: number, y1: number): Point[] => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];

type Limits = { readonly [K in keyof ClassLimits]?: number };
type Figures = { readonly [K in keyof Standards]?: NonNullable<Standards[K]> extends { value: infer V } ? V : never };
type TrackWishes = Partial<Pick<Track, "class" | "deck" | "hidden">>;
type TurnoutWishes = Pick<Turnout, "on" | "hand"> & Partial<Turnout>;

const set = <T>(value: T): { value: T; source: string } => ({ value, source: "set by the test" });

/** Limits nothing in the tests comes near unless it sets its own. */
const EASY: Limits = { radius: 300, easement: 0, grade: 5, feltGrade: 10, reverseStraight: 0, centres: 50 };

export class Draft {
  private constructor(readonly plan: Plan) {}

  static plan(wishes: { readonly body?: "NMRA" | "NEM" } = {}): Draft {
    const units = wishes.body === "NEM" ? "metric" : "imperial";
    const empty = emptyPlan({ title: "Fixture", width: 8000, depth: 6000, scale: "HO", units });
    const lower = { name: "Lower", kind: "scenic", height: LOWER, thickness: 80 } as const;
    return new Draft({ ...empty, decks: { lower } })
      .standards({ longestCar: CAR, verticalCurve: 0, tight: 5, roadbedWidth: 76, trackStructure: 30, overTrack: 80 })
      .limits(EASY);
  }

  private with(change: Partial<Plan>): Draft {
    return new Draft({ ...this.plan, ...change });
  }

  /** Settings by value; their source is the test. */
  standards(figures: Figures): Draft {
    const settings = Object.entries(figures).map(([key, value]) => [key, set(value)]);
    return this.with({ standards: { ...this.plan.standards, ...Object.fromEntries(settings) } });
  }

  /** Limits of one class, or of the main and with it of all classes. */
  limits(figures: Limits, trackClass?: Track["class"]): Draft {
    const { standards } = this.plan;
    const before = standards.classes[trackClass ?? "main"] ?? standards.classes.main;
    const settings = Object.entries(figures).map(([key, value]) => [key, set(value)]);
    const own: ClassLimits = { ...before, ...Object.fromEntries(settings) };
    const classes = trackClass ? { ...standards.classes, [trackClass]: own } : { main: own };
    return this.with({ standards: { ...standards, classes } });
  }

  deck(id: string, height: number, wishes: Partial<Deck> = {}): Draft {
    const deck: Deck = { name: id, kind: "scenic", thickness: 80, ...wishes, height };
    return this.with({ decks: { ...this.plan.decks, [id]: deck } });
  }

  bench(id: string, outline: readonly Point[], deck = "lower"): Draft {
    return this.with({ benches: { ...this.plan.benches, [id]: { deck, shape: { outline: [...outline] } } } });
  }

  gate(id: string, outline: readonly Point[], deck = "lower", wishes: Partial<Gate> = {}): Draft {
    const gate: Gate = { deck, kind: "lift-out", ...wishes, outline: [...outline] };
    return this.with({ gates: { ...this.plan.gates, [id]: gate } });
  }

  backdrop(id: string, line: readonly Point[], height = 300, deck = "lower"): Draft {
    return this.with({ backdrops: { ...this.plan.backdrops, [id]: { deck, line: [...line], height } } });
  }

  obstacle(id: string, outline: readonly Point[], heights: Pick<Obstacle, "from" | "to"> = {}): Draft {
    const { room } = this.plan;
    const obstacle = { outline: [...outline], ...heights };
    return this.with({ room: { ...room, obstacles: { ...room.obstacles, [id]: obstacle } } });
  }

  /** A door or window in wall `wall` of the room: 0 along the bottom, then anticlockwise. */
  opening(id: string, opening: Opening): Draft {
    const { room } = this.plan;
    return this.with({ room: { ...room, openings: { ...room.openings, [id]: opening } } });
  }

  track(id: string, start: Anchor, legs: readonly Leg[], wishes: TrackWishes = {}): Draft {
    const track: Track = { class: "main", deck: "lower", ...wishes, start, legs: [...legs] };
    return this.with({ tracks: { ...this.plan.tracks, [id]: track } });
  }

  turnout(id: string, { facing = "with", number = 6, ...wishes }: TurnoutWishes): Draft {
    return this.with({ turnouts: { ...this.plan.turnouts, [id]: { facing, number, ...wishes } } });
  }

  pin(id: string, track: string, along: number, height: number | string): Draft {
    const where = { track, at: along };
    const pin = typeof height === "string" ? { ...where, deck: height } : { ...where, height };
    return this.with({ pins: { ...this.plan.pins, [id]: pin } });
  }

  get layout(): Layout {
    return deriveLayout(this.plan);
  }

  get readings(): Reading[] {
    return takeReadings(this.plan, this.layout);
  }

  /** The reading of a key, `id` or `id:scope`; undefined where the rule gives none. */
  reading(key: string): Reading | undefined {
    return this.readings.find((reading) => readingKey(reading) === key);
  }
}

export const plan = (wishes: { readonly body?: "NMRA" | "NEM" } = {}): Draft => Draft.plan(wishes);
