import { describe, expect, test } from "vitest";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { presetStandards } from "../../src/plan/presets.js";
import { planSchema, standardsSchema, TRACK_CLASSES } from "../../src/plan/schema.js";
import { KNOWN } from "../../src/standards/cited.js";
import { BODIES, scalesOf } from "../../src/standards/scales.js";

const everyScale = BODIES.flatMap((body) => scalesOf(body).map((scale) => [body, scale.name, scale] as const));

/** Every setting within a value, by path. */
function settings(value: unknown, path = ""): [string, { value: unknown; source: string }][] {
  if (typeof value !== "object" || value === null) return [];
  if ("value" in value && "source" in value) return [[path, value as { value: unknown; source: string }]];
  return Object.entries(value).flatMap(([key, inner]) => settings(inner, path === "" ? key : `${path}.${key}`));
}

describe.each(everyScale)("%s %s", (body, _name, scale) => {
  const standards = presetStandards(scale);

  test("the schema takes the preset and the empty plan as they are", () => {
    expect(standardsSchema.parse(standards)).toEqual(standards);
    const plan = emptyPlan({ title: "Spare room", width: 4000, depth: 3000, scale, units: "metric" });
    expect(planSchema.parse(plan)).toEqual(plan);
    expect(plan.scale).toEqual({ name: scale.name, ratio: scale.ratio, gauge: scale.gauge });
    expect(plan.standards.body).toBe(body);
  });

  test("every setting says how it is known", () => {
    const all = settings(standards);
    // NEM alone says how far throws may use up the track centres.
    expect(all.map(([path]) => path).includes("curveSlack")).toBe(body === "NEM");
    expect(all).toHaveLength((body === "NEM" ? 25 : 24) + 7 * TRACK_CLASSES.length);
    const known = new RegExp(KNOWN.join("|"));
    expect(all.filter(([, { source }]) => !known.test(source))).toEqual([]);
  });

  test("no value carries the crumbs of binary fractions", () => {
    const numbers = settings(standards).flatMap(([path, { value }]) =>
      (JSON.stringify(value).match(/-?\d+(\.\d+)?/g) ?? []).map((each) => [path, each]),
    );
    expect(numbers.filter(([, digits = ""]) => digits.length > 10)).toEqual([]);
    expect(settings(standards).filter(([, { source }]) => /\d\.\d{7}/.test(source))).toEqual([]);
  });

  test("classes: seven, the main's radius above branch's and yard's, yards level, easements on lines only", () => {
    const { main, branch, siding, lead, yard, spur, staging } = standards.classes;
    const [m, b, y] = [main.radius.value, branch?.radius.value ?? Number.NaN, yard?.radius.value ?? Number.NaN];
    expect(m).toBeGreaterThan(b);
    expect(m).toBeGreaterThan(y);
    for (const level of [lead, yard, spur, staging]) expect(level?.grade.value).toBeLessThanOrEqual(0.3);
    for (const line of [main, branch]) expect(line?.easement.value).toBeGreaterThan(0);
    for (const slow of [siding, lead, yard, spur, staging]) expect(slow?.easement.value).toBe(0);
    for (const limits of [main, branch, siding, lead, yard, spur, staging]) {
      expect(limits?.feltGrade.value).toBeGreaterThan(limits?.grade.value ?? Number.NaN);
      expect(limits?.centres.value).toBeGreaterThan(standards.longestCar.value.width);
    }
  });

  test("the longest car passes under the over-track clearance and beside the wall", () => {
    const car = standards.longestCar.value;
    expect(car.height).toBeLessThan(standards.overTrack.value);
    expect(car.width / 2).toBeLessThan(standards.wall.value);
    expect(car.overCouplers).toBeGreaterThan(car.length);
    expect(car.truckCentres).toBeLessThan(car.length);
  });
});

describe("HO, NMRA, in inches", () => {
  const { classes, ...rest } = presetStandards("HO");
  const inch = (value = Number.NaN) => value / 25.4;
  test.each([
    ["main's radius", inch(classes.main.radius.value), 30],
    ["main's easement", inch(classes.main.easement.value), 18],
    ["branch's radius", inch(classes.branch?.radius.value), 26],
    ["yard's radius", inch(classes.yard?.radius.value), 24],
    ["longest car", inch(rest.longestCar.value.overCouplers), 12],
    ["average car", inch(rest.averageCar.value), 6],
    ["vertical curve", inch(rest.verticalCurve.value), 12],
    ["curve drag", inch(rest.curveDrag.value), 32],
    ["bench edge", inch(rest.benchEdge.value), 1.25],
    ["wall", inch(rest.wall.value), 2],
    ["deck separation", inch(rest.deckSeparation.value), 14],
    ["staging separation", inch(rest.stagingSeparation?.value), 8],
    ["main's felt grade", classes.main.feltGrade.value, 3.1],
    ["branch's felt grade", classes.branch?.feltGrade.value, 3.7],
    ["tight", rest.tight.value, 5],
  ])("%s", (_name, value, expected) => {
    expect(value).toBeCloseTo(expected, 9);
  });
});

describe("emptyPlan", () => {
  test.each([
    ["imperial", undefined, "NMRA", "HO"],
    ["metric", undefined, "NEM", "H0"],
    ["metric", "NMRA", "NMRA", "HO"],
  ] as const)("%s units, body %s: limits of %s, scale %s", (units, body, expected, name) => {
    const plan = emptyPlan({
      title: "",
      width: 1,
      depth: 1,
      scale: "HO",
      units,
      ...(body === undefined ? {} : { body }),
    });
    expect(plan.standards.body).toBe(expected);
    expect(plan.scale.name).toBe(name);
  });

  test("the room runs anticlockwise from the origin", () => {
    const { outline, ceiling } = emptyPlan({ title: "", width: 5000, depth: 3000, scale: "N", units: "metric" }).room;
    const doubled = outline.reduce((sum, p, i) => {
      const q = outline[(i + 1) % outline.length] ?? p;
      return sum + p.x * q.y - q.x * p.y;
    }, 0);
    expect(doubled / 2).toBe(15_000_000);
    expect(outline[0]).toEqual({ x: 0, y: 0 });
    expect(ceiling).toBe(2440);
  });
});
