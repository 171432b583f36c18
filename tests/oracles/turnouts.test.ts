/** Turnouts against published tables and worked examples. T-numbers are those of the data file; each entry cites its source. */
import { describe, expect, test } from "vitest";
import { toDegrees, toRadians } from "../../src/geometry/units.js";
import { inches } from "../../src/standards/cited.js";
import {
  closureRadius,
  frogAngle,
  frogNumber,
  largestLeadRadius,
  leadOf,
  RP_12_31_CLOSURE,
  RP_12_3_CLOSURE,
  RP_12_7_ROWS,
  type SwitchParts,
  turnoutDimensions,
} from "../../src/standards/turnouts.js";
import { angle, fraction } from "./fraction.js";
import data from "./data/turnouts.json" with { type: "json" };

const MINUTE = 1 / 60;

describe("T1: frog angle by number", () => {
  test.each(Object.entries(data.T1.published))("No. %s is %s (NMRA RP-12.7, read)", (number, printed) => {
    expect(Math.abs(toDegrees(frogAngle(Number(number))) - angle(printed))).toBeLessThan(MINUTE / 2);
  });
  const { known: _known, ...computed } = data.T1.by_formula;
  test.each(Object.entries(computed))("No. %s is %s (derived from the catalogue's formula)", (number, printed) => {
    expect(Math.abs(toDegrees(frogAngle(Number(number))) - angle(printed))).toBeLessThan(0.01 / 3600);
    expect(frogNumber(toRadians(angle(printed)))).toBeCloseTo(Number(number), 4);
  });
});

describe("T2: NMRA RP-12.7, 9 mm gauge (read)", () => {
  const rows = Object.entries(data.T2.frog);
  test.each(rows)("No. %s: the table", (name, row) => {
    const number = Number(name);
    const turnout = turnoutDimensions(data.T2.gauge_mm, number);
    expect(turnout).toMatchObject({
      number,
      lead: row.lead_to_theoretical_pf_mm,
      intersectionToFrog: row.pf_to_icl_mm,
      frogToe: row.frog_toe_length_mm,
      frogHeel: row.frog_heel_length_mm,
      closureRadius: row.closure_radius_mm,
      known: "read",
    });
    expect(turnout.frogToe + turnout.frogHeel).toBe(row.frog_overall_mm);
    expect(Math.abs(toDegrees(turnout.angle) - angle(row.frog_angle))).toBeLessThan(MINUTE / 2);
    const parts = RP_12_7_ROWS.find((each) => each.number === number);
    expect(parts).toMatchObject({ switchLength: row.rail_length_point_mm, heelSpread: row.heel_spread_mm });
    expect(parts?.heelAngle).toBeCloseTo(angle(row.heel_angle), 9);
  });
  test.each(rows)("No. %s: the formulas (T5, US Army TI 850-02) give its lead, closure and radius", (name, row) => {
    const parts: SwitchParts = {
      gauge: 9,
      frogAngle: frogAngle(Number(name)),
      heelAngle: toRadians(angle(row.heel_angle)),
      heelSpread: row.heel_spread_mm,
      switchLength: row.rail_length_point_mm,
      toe: row.frog_toe_length_mm,
    };
    // The sheet is rounded to half millimetres, three of which add up in the lead.
    expect(Math.abs(leadOf(parts) - row.lead_to_theoretical_pf_mm)).toBeLessThan(0.75);
    expect(
      Math.abs(leadOf(parts) - parts.switchLength - parts.toe * Math.cos(parts.frogAngle) - row.closure_straight_mm),
    ).toBeLessThan(0.75);
    // The radius follows from a small difference of cosines, so the sheet's rounding weighs more.
    expect(Math.abs(closureRadius(parts) / row.closure_radius_mm - 1)).toBeLessThan(0.01);
    // Length of the closure rail along its curve.
    expect(Math.abs(closureRadius(parts) * (parts.frogAngle - parts.heelAngle) - row.closure_curved_mm)).toBeLessThan(
      0.75,
    );
    // Spreads of frog toe and heel as the printed lengths and angle give them.
    expect(Math.abs(parts.toe / Number(name) - row.toe_spread_mm)).toBeLessThan(0.06);
    expect(Math.abs(row.frog_heel_length_mm / Number(name) - row.frog_heel_spread_mm)).toBeLessThan(0.11);
  });
});

describe("T3: HO (NMRA RP-12.3 and RP-12.31, read second hand)", () => {
  test.each(Object.entries(data.T3.closure_radius_in))("closure radius of No. %s is %d in", (number, radius) => {
    expect(RP_12_3_CLOSURE[Number(number)]).toBe(radius);
    const turnout = turnoutDimensions(16.5, Number(number));
    expect(turnout.closureRadius).toBeCloseTo(inches(radius), 6);
    expect(turnout.closure.known).toBe("read second hand");
  });
  test("the later sheet's radii", () => {
    expect(RP_12_31_CLOSURE).toEqual(data.T3.later_closure_radius_in);
  });
  test.each(["4", "5", "6", "7"] as const)(
    "RP-12.7 scaled to HO's gauge comes within 6 percent of HO's own closure radius, No. %s",
    (number) => {
      const scaled = (data.T2.frog[number].closure_radius_mm * 16.5) / 9;
      expect(Math.abs(scaled / inches(data.T3.closure_radius_in[number]) - 1)).toBeLessThan(0.06);
    },
  );
  test.each(["4", "5", "6"] as const)(
    "lead of No. %s, derived from RP-12.7, within 7 percent of RP-12.3's as remembered (memory)",
    (number) => {
      const remembered = inches(fraction(data.T3.lead_in[number]));
      expect(Math.abs(turnoutDimensions(16.5, Number(number)).lead / remembered - 1)).toBeLessThan(0.07);
      expect(turnoutDimensions(16.5, Number(number)).known).toBe("derived");
    },
  );
});

test("T4: stub switch of a railroad field book (read): angle, lead, radius, middle frog", () => {
  const { given, published, tolerance } = data.T4;
  const F = toRadians(angle(given.frog_angle));
  const S = Math.asin(given.throw / given.switch_rail);
  expect(Math.abs(toDegrees(S) - angle(published.S))).toBeLessThan(MINUTE / 2);
  const parts: SwitchParts = {
    gauge: given.gauge,
    frogAngle: F,
    heelAngle: S,
    heelSpread: given.throw,
    switchLength: 0,
    toe: 0,
  };
  const radius = closureRadius(parts);
  expect(Math.abs(radius - published.R_outer)).toBeLessThan(tolerance * 2);
  // The book's lead is the chord of the lead rail; ours lies along the track.
  const chord = leadOf(parts) / Math.cos((F + S) / 2);
  expect(Math.abs(chord - published.lead_heel_to_frog)).toBeLessThan(tolerance);
  const middle = 2 * Math.acos(Math.cos(F) + given.gauge / (2 * radius));
  expect(Math.abs(toDegrees(middle) - angle(published.middle_frog))).toBeLessThan(MINUTE / 2 + 1e-6);
  const toMiddle = (given.gauge / 2 - given.throw) / Math.sin((middle / 2 + S) / 2);
  expect(Math.abs(toMiddle - published.toe_to_middle_frog)).toBeLessThan(tolerance);
});

test("T7: 1 in 12 turnout of the Indian railways' worksheet (read): radius and lead", () => {
  const { given, published, tolerance } = data.T7;
  const a = toRadians(angle(given.alpha));
  const b = toRadians(angle(given.beta));
  const parts = { gauge: given.G, frogAngle: a, heelAngle: b, heelSpread: given.t, toe: given.w };
  expect(Math.abs(closureRadius({ ...parts, switchLength: 0 }) - published.R)).toBeLessThan(tolerance);
  // The worksheet's lead runs from the switch's heel, so its adopted switch length is taken off.
  expect(Math.abs(leadOf({ ...parts, switchLength: -published.switch_length_adopted }) - published.lead)).toBeLessThan(
    tolerance,
  );
  const R = published.R_adopted;
  const L = R * Math.sin(b);
  const Y = given.G - given.w * Math.sin(a) - R * (1 - Math.cos(a));
  const rise = given.d - Y;
  expect(Math.abs(L - published.L)).toBeLessThan(tolerance);
  expect(Math.abs(Y - published.Y)).toBeLessThan(tolerance);
  expect(Math.abs(Math.sqrt(2 * R * rise - rise * rise) - L - published.switch_length)).toBeLessThan(tolerance);
});

test("T9: straight of a crossover between parallel tracks (read); that book's number is the cotangent of the angle", () => {
  const { given, published, tolerance } = data.T9;
  for (const [name, row] of Object.entries(published)) {
    const cot = Number(name.replace("1 in ", ""));
    // Our numbers are half the cotangent of half the angle.
    const F = Math.atan(1 / cot);
    const number = frogNumber(F);
    const straight = (given.D - given.G) / Math.tan(F) - given.G / Math.sin(F);
    expect(Math.abs(straight - row.ST)).toBeLessThan(tolerance);
    expect(Math.abs(straight + 4 * given.G * cot - row.OL)).toBeLessThan(tolerance);
    expect(frogAngle(number)).toBeCloseTo(F, 12);
  }
});

test("T11: a diamond's side and diagonals (formulas read), from where its gauge lines cross", () => {
  const { gauge, cot } = data.T11.given;
  const F = frogAngle(frogNumber(Math.atan(1 / cot)));
  // Gauge lines y = ±g/2, and the same turned by F about the middle.
  const corner = (u: 1 | -1, v: 1 | -1) => {
    const y = (u * gauge) / 2;
    return { x: (y * Math.cos(F) - (v * gauge) / 2) / Math.sin(F), y };
  };
  const apart = (p: { x: number; y: number }, q: { x: number; y: number }) => Math.hypot(p.x - q.x, p.y - q.y);
  expect(apart(corner(1, 1), corner(1, -1))).toBeCloseTo(gauge / Math.sin(F), 9);
  expect(apart(corner(1, -1), corner(-1, 1))).toBeCloseTo(gauge / Math.sin(F / 2), 9);
  expect(apart(corner(1, 1), corner(-1, -1))).toBeCloseTo(gauge / Math.cos(F / 2), 9);
});

test.each(Object.entries(data.T13.spacing_along_ladder))(
  "T13: turnouts of a No. %s ladder stand %d ft apart (derived)",
  (number, spacing) => {
    expect(data.T13.track_spacing / Math.sin(frogAngle(Number(number)))).toBeCloseTo(spacing, 2);
  },
);

test("T15: the simple lead rule (read): R = 2gN² and lead 2gN are the lead curve of a frog without a toe", () => {
  const { given, published } = data.T15;
  const radius = largestLeadRadius(given.gauge, given.number, 0);
  expect(radius).toBe(published.radius);
  const tangent = radius * Math.tan(frogAngle(given.number) / 2);
  expect(given.number * given.gauge + tangent).toBeCloseTo(published.lead, 9);
});
