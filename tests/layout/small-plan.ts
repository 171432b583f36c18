/** Plans for tests, written in a line or two: tracks, turnouts and pins over an empty HO room. */
import type { Layout } from "../../src/layout/layout.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Line, LineKey } from "../../src/layout/line.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Anchor, Leg, Plan, Track, Turnout } from "../../src/plan/schema.js";

export const HO_GAUGE = 16.5;

export const BARE = emptyPlan({ title: "Test", width: 8000, depth: 6000, scale: "HO", units: "metric", body: "NMRA" });

export const at = (x: number, y: number, heading = 0): Anchor => ({ pose: { x, y, heading } });
export const endOf = (track: string): Anchor => ({ track, end: "end" });
export const startOf = (track: string): Anchor => ({ track, end: "start" });
export const from = (turnout: string, route?: "left" | "right"): Anchor => ({ turnout, ...(route && { route }) });

export const straight = (length: number): Leg => ({ straight: length });
export const curve = (radius: number, angle: number, hand: "left" | "right" = "left", easement = 0): Leg => ({
  curve: { radius, angle, hand, easement },
});
export const join = (to: Anchor, radius = 600, more: Partial<Extract<Leg, { join: unknown }>["join"]> = {}): Leg => ({
  join: { to, radius, easement: 0, ...more },
});

export const track = (start: Anchor, legs: readonly Leg[], more: Partial<Track> = {}): Track => ({
  class: "main",
  deck: "lower",
  start,
  legs,
  ...more,
});

export const turnout = (on: string, place: number | undefined, more: Partial<Turnout> = {}): Turnout => ({
  on,
  ...(place !== undefined && { at: place }),
  facing: "with",
  hand: "left",
  number: 6,
  ...more,
});

export const wye = (on: string, facing: "with" | "against" = "with"): Turnout => ({
  on,
  facing,
  hand: "wye",
  number: 6,
});

export const planOf = (records: Partial<Plan>): Plan => ({ ...BARE, ...records });
export const layoutOf = (records: Partial<Plan>): Layout => deriveLayout(planOf(records));

export function lineAt(layout: Layout, key: LineKey): Line {
  const line = layout.lines.get(key);
  if (!line) throw new Error(`no line ${key}; findings: ${JSON.stringify(layout.findings)}`);
  return line;
}

/** Every order of a few records. */
export function orders<T>(records: Readonly<Record<string, T>>): Record<string, T>[] {
  const entries = Object.entries(records);
  if (entries.length < 2) return [{ ...records }];
  return entries.flatMap(([id, record], i) =>
    orders(Object.fromEntries(entries.filter((_, j) => j !== i))).map((rest) => ({ [id]: record, ...rest })),
  );
}
