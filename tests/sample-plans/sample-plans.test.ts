/** The plans that come with the program are whole, keep every limit or say why not, and are what they are described as. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import { readPlan } from "../../src/plan/read.js";
import { writePlan } from "../../src/plan/write.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";

const FOLDER = new URL("../../sample-plans/", import.meta.url);

interface Described {
  readonly units: "imperial" | "metric";
  readonly decks: number;
  readonly turnouts: number;
  readonly pins: number;
  /** Track whose one curve turns furthest, and how many full turns are in it. */
  readonly turns: { readonly track: string; readonly full: number };
  /** Rise between scenic decks, mm; none on one deck. */
  readonly climb?: { readonly scope: string; readonly rise: number };
}

/** Counted by hand. */
const DESCRIBED: Readonly<Record<string, Described>> = {
  // Runaround 2, mill, team track, creamery.
  "first-shelf.plan.json": {
    units: "imperial",
    decks: 1,
    turnouts: 5,
    pins: 0,
    turns: { track: "main", full: 0 },
  },
  // Three loops of 2; two yard roads, ferry, quarry, shed, goods road. 2040 degrees are five turns and two thirds.
  "isle-of-kettle.plan.json": {
    units: "metric",
    decks: 2,
    turnouts: 12,
    pins: 3,
    turns: { track: "helix", full: 5 },
    climb: { scope: "lower/upper", rise: 325 },
  },
  // Four hidden loops, the passing siding and two crossovers of 2 each; yard 6, shed, junction, quarry. 41 in to 55 in.
  "larkmoor-and-summit.plan.json": {
    units: "imperial",
    decks: 3,
    turnouts: 23,
    pins: 3,
    turns: { track: "climb", full: 1 },
    climb: { scope: "lower/upper", rise: 14 * 25.4 },
  },
};

const files = readdirSync(FOLDER).filter((file) => file.endsWith(".plan.json"));

test("every sample plan is described here", () => {
  expect(files.sort()).toEqual(Object.keys(DESCRIBED).sort());
});

const samples = files.map((file) => {
  const text = readFileSync(new URL(file, FOLDER), "utf8");
  const read = readPlan(text, file);
  if (!read.ok) throw new Error(`${file} cannot be read`);
  const layout = deriveLayout(read.plan);
  return { file, text, ...read, layout, readings: takeReadings(read.plan, layout), described: DESCRIBED[file] };
});

describe.each(samples)("$file", ({ text, plan, report, layout, readings, described }) => {
  test("reads without a problem and is written as it stands", () => {
    expect(report.problems).toEqual([]);
    expect(report.setAside).toEqual([]);
    expect(writePlan(plan)).toBe(text);
  });

  test("everything in it is laid", () => {
    expect(layout.findings).toEqual([]);
    const lines = Object.keys(plan.tracks).length + Object.keys(plan.turnouts).length;
    expect(layout.lines.size).toBe(lines);
  });

  test("keeps every limit, or says why it is lived with", () => {
    const told = readings.map((reading) => [readingKey(reading), reading.verdict, reading.places[0]?.thing] as const);
    expect(told.filter(([, verdict]) => verdict === "fails")).toEqual([]);
    const lived = told.filter(([key, verdict]) => verdict === "tight" && (plan.accepted[key]?.reason ?? "") === "");
    expect(lived).toEqual([]);
    // Nothing is accepted that is clear by now.
    expect(Object.keys(plan.accepted).filter((key) => !told.some(([k, v]) => k === key && v === "tight"))).toEqual([]);
  });

  test("is what it is described as", () => {
    expect(plan.units).toBe(described?.units);
    expect(Object.keys(plan.decks)).toHaveLength(described?.decks ?? Number.NaN);
    expect(Object.keys(plan.turnouts)).toHaveLength(described?.turnouts ?? Number.NaN);
    expect(Object.keys(plan.pins)).toHaveLength(described?.pins ?? Number.NaN);
    const angles = Object.entries(plan.tracks).map(([track, { legs }]) => ({
      track,
      full: Math.floor(Math.max(0, ...legs.map((leg) => ("curve" in leg ? leg.curve.angle : 0))) / 360),
      angle: Math.max(0, ...legs.map((leg) => ("curve" in leg ? leg.curve.angle : 0))),
    }));
    const furthest = angles.reduce((a, b) => (b.angle > a.angle ? b : a));
    expect({ track: furthest.track, full: furthest.full }).toEqual(described?.turns);
    const climbs = readings.filter(({ id, value }) => id === "climb" && value !== undefined);
    expect(climbs.map(({ scope, figures }) => ({ scope, rise: figures?.["rise"]?.value }))).toEqual(
      described?.climb ? [{ scope: described.climb.scope, rise: expect.closeTo(described.climb.rise, 6) }] : [],
    );
  });

  test("says what it is and where to be careful", () => {
    expect(plan.notes).toMatch(/local codes/i);
    for (const { reason } of overruled(plan.standards)) expect(reason?.length).toBeGreaterThan(10);
  });
});

/** Settings that the owner gave a reason for, however deep. */
function overruled(value: unknown): { readonly reason?: string }[] {
  if (typeof value !== "object" || value === null) return [];
  const own = "reason" in value && typeof value.reason === "string" ? [{ reason: value.reason }] : [];
  return [...own, ...Object.values(value).flatMap(overruled)];
}

const sampleOf = (file: string) => {
  const sample = samples.find((s) => s.file === file);
  if (!sample) throw new Error(`${file} is not there`);
  return sample;
};

test("Isle of Kettle: the helix is as long and as steep as by hand", () => {
  const { layout, readings } = sampleOf("isle-of-kettle.plan.json");
  // Straights 320 and 140; an eased turn is the radius times the angle, and one easement more: 430 x 2040 pi / 180 + 200.
  expect(layout.lines.get("track:helix")?.path.length).toBeCloseTo(320 + 140 + (430 * 2040 * Math.PI) / 180 + 200, 3);
  // Pins at 100 and 15910 mm, 325 mm apart in height.
  const ruling = readings.find(({ id }) => id === "climb")?.value;
  expect(ruling).toBeCloseTo((100 * 325) / (15910 - 100), 6);
  // A lap of 2 pi x 430 mm rises by the grade; 18 mm of structure carry it, and ends of easements are a little shorter.
  const lap = (2 * Math.PI * 430 * (ruling ?? 0)) / 100;
  const clear = readings.find(({ id, scope }) => id === "over-track" && scope === "track")?.value;
  expect(clear).toBeLessThanOrEqual(lap - 18);
  expect(clear).toBeGreaterThan(lap - 18 - 1.5);
});

test("First shelf: level, and its runaround parallel to the main", () => {
  const { plan, layout } = sampleOf("first-shelf.plan.json");
  for (const { heights } of layout.profiles.values()) expect(new Set(heights)).toEqual(new Set([1219.2]));
  // The long side of the spacing: the turnout's own leg from where its routes meet to its joint, 1.37 x 5 x 16.5; the
  // straight behind it; the tangent of the curve, R tan(F/2). F = 2 atan(1/10) for a No. 5, so sin F = 20/101.
  const runaround = layout.lines.get("track:runaround")?.samples;
  const start = plan.tracks["main"]?.start;
  const main = start && "pose" in start ? start.pose.y : Number.NaN;
  const furthest = main - Math.min(...(runaround?.y ?? []).slice(0, runaround?.count));
  expect(furthest).toBeCloseTo((20 / 101) * (113.025 + 88.9 + 60.96), 3);
});

/**
 * Sidings between fouling points, by hand. A siding of R mm back curves, S mm off its main, is clear as far into them as
 * the spacing less the reach of cars is worth the centres C less the 0.1 mm that is kept: spare = S - C + 0.1.
 * Where the plan's centres allow for the throws that is x with R (1 - cos(x / R)) = spare; else, half of a car's trucks
 * still in the curve and half out of it, (x + h)^2 = 4 R spare with h half the truck centres. Between the curves lies
 * the straight. S from where the routes of the end turnouts meet: 1.37 N gauge, the straight before the curve, and the
 * curve's tangent R tan(F/2), times sin F.
 */
const FROG_6 = 2 * Math.atan(1 / 12);
const FROG_5 = 2 * Math.atan(1 / 10);
const spaced = (frog: number, tail: number, straight: number, radius: number): number =>
  Math.sin(frog) * (tail + straight + radius * Math.tan(frog / 2));
const allowed = (radius: number, spare: number): number => radius * Math.acos(1 - spare / radius);
const thrown = (radius: number, spare: number, trucks: number): number => Math.sqrt(4 * radius * spare) - trucks / 2;

// 1.37 x 6 x 9 and 73.9 mm before a curve of 400 mm: 30.0 mm off; centres 28 mm.
const kettle = 2 * allowed(400, spaced(FROG_6, 73.98, 73.9, 400) - 28 + 0.1);
// 1.37 x 5 x 16.5 and 88.9 mm before a curve of 609.6 mm: 52.05 mm off; centres 46.04 mm, a car of 133.35 mm truck centres.
const shelf = 2 * thrown(609.6, spaced(FROG_5, 113.025, 88.9, 609.6) - 46.0375 + 0.1, 133.35);
// Laid 54 mm off from 4203.26 to 6803.42 along the main; truck centres 208.2 mm.
const summit = 2 * thrown(900, 54 - 46.0375 + 0.1, 208.2);

test.each([
  ["first-shelf.plan.json", "runaround", 419.29 + shelf, 3],
  ["isle-of-kettle.plan.json", "harbour-loop", 997.91 + kettle, 14],
  ["isle-of-kettle.plan.json", "midpot-loop", 817.91 + kettle, 11],
  ["isle-of-kettle.plan.json", "trivet-loop", 927.91 + kettle, 13],
  ["larkmoor-and-summit.plan.json", "summit-siding", 6803.4237 - 4203.2571 + summit, 17],
] as const)("%s: the siding %s is as long as by hand", (file, scope, clear, cars) => {
  const { readings } = sampleOf(file);
  const found = readings.find(({ id, scope: own }) => id === "siding" && own === scope);
  // Nearly C^2 / 8R: throws by hand are those of the parabola.
  expect(Math.abs((found?.figures?.["clear length"]?.value ?? 0) - clear)).toBeLessThan(5);
  expect(found?.figures?.["average cars"]?.value).toBe(cars);
  expect(found?.verdict).toBe("clear");
  expect(readings.filter(({ id }) => id === "siding")).toHaveLength(file.startsWith("isle") ? 3 : 1);
});

test("Larkmoor & Summit: circuits and staging by hand", () => {
  const { readings } = sampleOf("larkmoor-and-summit.plan.json");
  // The inner main and its three loops are four ways round; the outer main and its loop two; and over both crossovers
  // the outer's two again, by a piece of the inner. An engine turns on the turntable.
  const runs = readings.find(({ id }) => id === "runs");
  expect(runs?.value).toBe(8);
  expect(runs?.figures).toMatchObject({ "at once, no turnout thrown": { value: 2 }, "places to turn": { value: 1 } });
  // Of four loops two are as long as the train.
  const staging = readings.find(({ id }) => id === "staging");
  expect(staging).toMatchObject({ value: 2, figures: { tracks: { value: 4 } } });
});
