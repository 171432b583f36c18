/** The climb sheet: its laws, its limits, and that a climb laid by its figures reads as it says. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ClimbSheet, climbSheet, climbSums, type ClimbWishes } from "../../src/climb/climb-sheet.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, CAR, Draft, left, LOWER, straight } from "../readings/fixture.js";

const draft = Draft.plan().standards({ curveDrag: 800, verticalCurve: 200, benchEdge: 30, wall: 50 });
const { plan } = draft.limits({ radius: 600, grade: 2.5, feltGrade: 4 });

function sheetOf(wishes: ClimbWishes, of: Plan = plan): ClimbSheet {
  const result = climbSheet(of, "main", wishes);
  if (!result.ok) throw new Error(result.message);
  return result.sheet;
}
const verdicts = (sheet: ClimbSheet) => Object.fromEntries(sheet.checks.map(({ id, verdict }) => [id, verdict]));

describe("a climb laid by its figures", () => {
  it.each<[what: string, wishes: ClimbWishes]>([
    ["three turns and a half", { rise: 280, grade: 2, radius: 640 }],
    ["two turns, steep", { rise: 320, grade: 3, radius: 800 }],
    ["a little over one turn, both vertical curves in its gap", { rise: 110, grade: 2.5, radius: 600 }],
    ["half a turn", { rise: 50, grade: 2, radius: 700 }],
  ])("reads as the sheet says: %s", (_, wishes) => {
    const { sums } = sheetOf(wishes);
    const lead = (sums.run - sums.climbing) / 2;
    const head = straight(Math.max(lead, 400));
    const laid = draft
      .deck("upper", LOWER + wishes.rise)
      .track("helix", at(4000, 2000), [head, left(wishes.radius, 360 * sums.turns), head])
      .pin("start", "helix", 0, LOWER)
      .pin("foot", "helix", "straight" in head ? head.straight : 0, LOWER)
      .pin("head", "helix", ("straight" in head ? head.straight : 0) + sums.climbing, LOWER + wishes.rise)
      .pin("end", "helix", 2 * ("straight" in head ? head.straight : 0) + sums.climbing, LOWER + wishes.rise);
    expect(laid.reading("grade:main")?.value).toBeCloseTo(wishes.grade, 6);
    expect(laid.reading("felt-grade:main")?.value).toBeCloseTo(sums.felt, 6);
    expect(laid.reading("vertical-curve")?.value).toBeCloseTo(200, 6);
    const curves = laid.layout.profiles.get("track:helix")?.curves ?? [];
    expect(curves.map(({ length }) => length)).toEqual([
      expect.closeTo(sums.verticalCurve, 6),
      expect.closeTo(sums.verticalCurve, 6),
    ]);
    const over = laid.reading("over-track:track")?.value;
    if (sums.turns <= 1) expect([over, sums.gap]).toEqual([undefined, undefined]);
    // The layout looks at places along the line, not at every one.
    else expect(Math.abs((over ?? 0) - (sums.gap ?? 0))).toBeLessThan(0.25);
  });
});

const wishes = fc.record({
  rise: fc.double({ min: 5, max: 1500, noNaN: true }),
  grade: fc.double({ min: 0.5, max: 6, noNaN: true }),
  radius: fc.double({ min: 250, max: 2000, noNaN: true }),
});

describe("laws", () => {
  it("what goes up is the grade's, and half a vertical curve lies beyond each break", () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const { sums, profile } = sheetOf(wish);
        expect((sums.climbing * sums.grade) / 100).toBeCloseTo(sums.rise, 6);
        expect(sums.run - sums.climbing).toBeCloseTo(sums.verticalCurve, 6);
        expect(sums.turns * sums.perTurn).toBeCloseTo(sums.rise, 6);
        expect(profile.stations.at(-1)).toBeCloseTo(sums.run, 6);
        expect(profile.heights.at(-1)).toBeCloseTo(sums.rise, 9);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("more rise is never less run, a steeper grade never more turns, a wider circle never less gap", () => {
    fc.assert(
      fc.property(wishes, fc.double({ min: 1, max: 1.5, noNaN: true }), (wish, more) => {
        const sums = climbSums(plan, wish);
        expect(climbSums(plan, { ...wish, rise: wish.rise * more }).run).toBeGreaterThanOrEqual(sums.run);
        expect(climbSums(plan, { ...wish, grade: wish.grade * more }).turns).toBeLessThanOrEqual(sums.turns);
        const wider = climbSums(plan, { ...wish, rise: 10_000, radius: wish.radius * more });
        const { gap = 0 } = climbSums(plan, { ...wish, rise: 10_000 });
        expect(wider.gap ?? 0).toBeGreaterThanOrEqual(gap - 1e-9);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  it("at the least grade and at the least radius of a stack the gap is just what is asked for", () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const { stacks } = sheetOf(wish);
        const asked = 80;
        const high = { ...wish, rise: 9000 };
        const wide = climbSums(plan, { ...high, radius: stacks.radius ?? Number.NaN });
        expect(wide.gap).toBeCloseTo(asked, 6);
        if (stacks.grade !== undefined) {
          expect(climbSums(plan, { ...high, grade: stacks.grade }).gap).toBeCloseTo(asked, 6);
        }
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it("the steepest grade keeps both limits, and no steeper one does", () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const { steepest } = sheetOf(wish);
        if (steepest < 0.2) return;
        const at2 = verdicts(sheetOf({ ...wish, grade: steepest }));
        expect([at2["grade"], at2["felt-grade"]]).not.toContain("fails");
        const beyond = verdicts(sheetOf({ ...wish, grade: steepest * 1.001 }));
        expect([beyond["grade"], beyond["felt-grade"]]).toContain("fails");
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});

describe("limits", () => {
  it("holds every figure against the class's limit, with its source", () => {
    // 2 % on 640: felt 2 + 800 / 640 = 3.25. A turn gains 80.42, less 30 of structure. The way in runs within 58 + 8.96 mm
    // of the circle, half of roadbed and car and the throw, for 640 acos(640 / 707) = 280.6 mm of arc, 5.61 mm of rise.
    const { checks } = sheetOf({ rise: 280, grade: 2, radius: 640 });
    const figures = checks.map(({ id, value, limit, verdict }) => [id, Number(value?.toFixed(2)), limit, verdict]);
    expect(figures).toEqual([
      ["grade", 2, 2.5, "clear"],
      ["felt-grade", 3.25, 4, "clear"],
      ["radius", 640, 600, "clear"],
      ["over-track", 44.81, 80, "fails"],
      ["aisle", 1204, 609.6, "clear"],
    ]);
    expect(checks.every(({ source }) => source !== "")).toBe(true);
  });

  it("calls a helix nobody can stand in tight, and a climb too short for its vertical curves failing", () => {
    expect(verdicts(sheetOf({ rise: 400, grade: 2.5, radius: 320 }))).toMatchObject({
      radius: "fails",
      aisle: "tight",
    });
    // 3 % asks for 600 mm of vertical curve at either end; 12 mm of rise are 400 mm of track.
    expect(verdicts(sheetOf({ rise: 12, grade: 3, radius: 900 }))).toMatchObject({ "vertical-curve": "fails" });
  });

  it("reckons the ground by the longest car's throw", () => {
    // On 600 a car of 300 over trucks of 210 throws 210²/8R = 9.2 in, (300²-210²)/8R = 9.5 out, nearly.
    const { pad } = sheetOf({ rise: 280, grade: 2, radius: 600 });
    const out = Math.hypot(Math.sqrt(600 ** 2 - 105 ** 2), 150) - 600;
    const inward = 600 - Math.sqrt(600 ** 2 - 105 ** 2);
    expect(pad.clear).toBeCloseTo(2 * (600 + 50 + out), 6);
    // Half the roadbed, 38, is more than 30 to the edge and than half a car and its throw.
    expect(pad.bench).toBeCloseTo(2 * (600 + 38), 6);
    expect(pad.hole).toBeCloseTo(2 * (600 - Math.max(38, CAR.width / 2 + inward)), 6);
  });

  it.each<[field: string, wishes: Partial<ClimbWishes>, message: RegExp]>([
    ["rise", { rise: 0 }, /more than nothing/],
    ["rise", { rise: 20_000 }, /no room is that high/],
    ["rise", { rise: Number.NaN }, /more than nothing/],
    ["grade", { grade: 0.01 }, /level/],
    ["grade", { grade: -2 }, /level/],
    ["grade", { grade: 40 }, /rack/],
    ["radius", { radius: 100 }, /longest car/],
    ["radius", { radius: Number.POSITIVE_INFINITY }, /straight/],
  ])("refuses a %s of %j", (field, wish, message) => {
    const result = climbSheet(plan, "main", { rise: 400, grade: 2, radius: 610, ...wish });
    expect(result).toMatchObject({ ok: false, field });
    expect(result.ok ? "" : result.message).toMatch(message);
  });

  it("says where no grade lets turns lie over one another", () => {
    const small = emptyPlan({ title: "", width: 4000, depth: 3000, scale: "O", body: "NMRA", units: "imperial" });
    const { stacks } = sheetOf({ rise: 500, grade: 2, radius: 260 }, small);
    expect(stacks.grade).toBeUndefined();
    expect(stacks.radius).toBeGreaterThan(260);
  });
});
