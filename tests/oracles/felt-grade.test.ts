/**
 * The grade a train feels, against published curve resistance and the hobby's own figures. How each is known stands
 * beside it.
 */
import { describe, expect, test } from "vitest";
import { presetStandards } from "../../src/plan/presets.js";
import { type ScaleName, standardScale } from "../../src/standards/scales.js";
import { at, left, LOWER, plan, straight } from "../readings/fixture.js";

const FOOT = 304.8;
const INCH = 25.4;
const HO = 87.1;

/** US Army Transportation School, subcourse TR0603, Railway planning (read in a search excerpt): para. 2.7 and 2.8. */
const POUNDS_PER_TON_AND_PERCENT = 20;
const POUNDS_PER_TON_AND_DEGREE = 0.8;
/** The same as a grade; also ASME JRC2013 (abstract read): c = 0.04 % per degree. */
const PERCENT_PER_DEGREE = POUNDS_PER_TON_AND_DEGREE / POUNDS_PER_TON_AND_PERCENT;

/** Radius in feet of a degree of curve by chords of 100 ft, R = 50 / sin(D / 2): railway practice, as in US track handbooks. */
const feetOf = (degrees: number): number => 50 / Math.sin((degrees * Math.PI) / 360);

/** Drag of the prototype's curves at a scale, percent times millimetres of model radius; a degree is nearly 5729.65 ft over R. */
const prototypeDrag = (ratio: number): number => (PERCENT_PER_DEGREE * 5729.65 * FOOT) / ratio;

/** A track of one curve of `radius` mm that rises evenly by `percent`, in a plan with this drag. */
const felt = (percent: number, radius: number, drag: number): number | undefined => {
  const length = (radius * Math.PI) / 6;
  return plan()
    .standards({ curveDrag: drag })
    .track("main", at(1000, 1000), [left(radius, 30)])
    .pin("p", "main", 0, LOWER)
    .pin("q", "main", length, LOWER + (percent / 100) * length)
    .reading("felt-grade:main")?.value;
};

describe("published curve resistance", () => {
  test("20 lb a ton for 1 % and 0.8 lb a ton for 1 degree make 0.04 % a degree", () => {
    expect(PERCENT_PER_DEGREE).toBeCloseTo(0.04, 12);
  });

  // Worked example of grade compensation (read, from an examination): ruling 1 in 200 = 0.5 %, 5 degrees, 0.04 % a
  // degree: 0.2 % compensation, 0.3 % allowed, 1 in 333.
  test("a curve of 5 degrees on a grade compensated to 0.3 % feels like the ruling 0.5 %", () => {
    const radius = (feetOf(5) * FOOT) / HO;
    const value = felt(0.3, radius, prototypeDrag(HO));
    // A degree by chords is not quite 5729.65 / R: 0.03 % less at 5 degrees.
    expect(Math.abs((value ?? 0) - 0.5)).toBeLessThan(1e-4);
    expect(Math.round(100 / 0.3)).toBe(333);
  });

  test.each([1, 2, 4, 8, 12, 20])("a level curve of %d degrees drags like 0.04 % a degree, to 1 %", (degrees) => {
    const value = felt(0, (feetOf(degrees) * FOOT) / HO, prototypeDrag(HO)) ?? 0;
    expect(value / (PERCENT_PER_DEGREE * degrees)).toBeGreaterThan(0.99);
    expect(value / (PERCENT_PER_DEGREE * degrees)).toBeLessThan(1.0001);
  });

  // W. L. Webb, The Economics of Railroad Construction, art. 180 (read in a search excerpt): 0.04 to 0.05 % a degree on
  // the average, 0.02 to 0.03 for fast trains, 0.1 at stopping places.
  test.each<ScaleName>(["Z", "N", "TT", "HO", "S", "O"])(
    "the drag of a new plan in %s lies between 0.04 and 0.05 % a degree",
    (name) => {
      const scale = standardScale(name, "NMRA");
      const perDegree = (presetStandards(scale).curveDrag.value * scale.ratio) / (5729.65 * FOOT);
      expect(perDegree).toBeGreaterThan(0.04);
      expect(perDegree).toBeLessThan(0.05);
    },
  );
});

describe("the hobby's figures (common practice, no source)", () => {
  const drag = presetStandards("HO").curveDrag.value;

  test.each([18, 24, 30, 36, 48])("a curve of %d in radius in HO drags 32 / R %%", (inches) => {
    expect(felt(0, inches * INCH, drag)).toBeCloseTo(32 / inches, 4);
  });

  test("32 / R in HO is 1.3 % more than the prototype's 0.04 % a degree scaled down", () => {
    expect(drag / prototypeDrag(HO)).toBeCloseTo(1.0135, 3);
  });

  // 4 in of rise a turn, grades as the hobby prints them, to 0.01 %.
  test.each([
    [24, 2.65],
    [30, 2.12],
    [36, 1.77],
  ])("a helix of %d in radius rising 4 in a turn is %d %%", (inches, percent) => {
    const radius = inches * INCH;
    const helix = plan()
      .standards({ curveDrag: drag })
      .deck("upper", LOWER + 12 * INCH)
      .track("helix", at(4000, 2000), [left(radius, 1080)], { deck: "lower" })
      .track("top", { track: "helix", end: "end" }, [straight(200)], { deck: "upper" })
      .pin("p", "helix", 0, "lower")
      .pin("q", "top", 0, "upper");
    const climb = helix.reading("climb:lower/upper");
    expect(climb?.figures?.ruling?.value).toBeCloseTo(percent, 2);
    expect(climb?.figures?.mean?.value).toBeCloseTo(percent, 2);
    expect(climb?.figures?.felt?.value).toBeCloseTo(percent + 32 / inches, 2);
    expect(climb?.figures?.rise?.value).toBeCloseTo(12 * INCH, 9);
    expect(climb?.figures?.run?.value).toBeCloseTo(3 * 2 * Math.PI * radius, 3);
  });

  test("18 in of rise at 2 % is a run of 900 in", () => {
    const climb = plan()
      .deck("upper", LOWER + 18 * INCH)
      .track("line", at(500, 500), [straight(900 * INCH)])
      .track("top", { track: "line", end: "end" }, [straight(200)], { deck: "upper" })
      .pin("p", "line", 0, "lower")
      .pin("q", "top", 0, "upper")
      .reading("climb:lower/upper");
    expect(climb?.value).toBeCloseTo(2, 9);
    expect(climb?.figures?.run?.value).toBeCloseTo(900 * INCH, 6);
  });
});
