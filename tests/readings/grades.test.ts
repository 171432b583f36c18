/** What is read of heights along the track: grade, felt grade, vertical curves, climbs between decks. */
import { describe, expect, test } from "vitest";
import { at, endOf, from, LOWER, left, plan, straight } from "./fixture.js";

/** 2000 mm of straight that rises by `rise`. */
const ramp = (rise: number) =>
  plan()
    .limits({ grade: 2, feltGrade: 3 })
    .standards({ curveDrag: 800 })
    .track("main", at(1000, 1000), [straight(2000)])
    .pin("p", "main", 0, LOWER)
    .pin("q", "main", 2000, LOWER + rise);

describe("grade", () => {
  test.each([
    [30, 1.5, "clear"],
    [38.2, 1.91, "tight"],
    [40, 2, "tight"],
    [40.2, 2.01, "fails"],
    [-50, 2.5, "fails"],
  ] as const)("a rise of %d mm in 2000 mm is %d %%, %s", (rise, value, verdict) => {
    const reading = ramp(rise).reading("grade:main");
    expect(reading?.value).toBeCloseTo(value, 9);
    expect(reading).toMatchObject({ verdict, unit: "percent", limit: 2, bound: "most" });
    expect(reading?.places).toMatchObject([
      { thing: "tracks.main", deck: "lower", s: 1000, point: { x: 2000, y: 1000 } },
    ]);
  });

  test("of a loop without pins is level, and there is none without track", () => {
    const loop = plan().track("loop", at(3000, 2000), [
      left(600, 300),
      { join: { to: { track: "loop", end: "start" }, radius: 600, easement: 0 } },
    ]);
    expect(loop.reading("grade:main")).toMatchObject({ value: 0, verdict: "clear" });
    expect(plan().readings.filter((r) => r.id === "grade" || r.id === "felt-grade")).toEqual([]);
  });

  test("a limit of 0 is kept by level track", () => {
    expect(ramp(0).limits({ grade: 0, feltGrade: 0 }).reading("grade:main")?.verdict).toBe("clear");
    expect(ramp(0).limits({ grade: 0, feltGrade: 0 }).reading("felt-grade:main")?.verdict).toBe("clear");
    expect(ramp(1).limits({ grade: 0 }).reading("grade:main")?.verdict).toBe("fails");
  });

  test("of a turnout's route is that of its host", () => {
    const layout = ramp(30)
      .turnout("t", { on: "main", at: 500, hand: "left" })
      .track("spur", from("t"), [straight(300)], { class: "spur" });
    // The route takes its host's heights place by place, and is as good as as long; the spur behind it is level.
    expect(layout.reading("grade:main")?.value).toBeCloseTo(1.5, 2);
    expect(layout.reading("grade:spur")?.value).toBe(0);
  });
});

describe("felt grade", () => {
  /** 500 mm of straight, then a quarter of 800 mm radius, all on one grade from end to end. */
  const curved = (percent: number) => {
    const length = 500 + 400 * Math.PI;
    return plan()
      .limits({ feltGrade: 3 })
      .standards({ curveDrag: 800 })
      .track("main", at(1000, 1000), [straight(500), left(800, 90)])
      .pin("p", "main", 0, LOWER)
      .pin("q", "main", length, LOWER + (percent / 100) * length);
  };

  test.each([
    [1.5, 2.5, "clear"],
    [1.9, 2.9, "tight"],
    [2.1, 3.1, "fails"],
  ] as const)("of %d %% on a radius of 800 mm with a drag of 800 is %d %%, %s", (percent, value, verdict) => {
    const reading = curved(percent).reading("felt-grade:main");
    expect(reading?.value).toBeCloseTo(value, 6);
    expect(reading).toMatchObject({ verdict, limit: 3, bound: "most" });
    expect(reading?.places[0]).toMatchObject({ thing: "tracks.main" });
    expect(reading?.places[0]?.s).toBeGreaterThanOrEqual(500);
  });

  test("of straight track is its grade; of level track the drag alone", () => {
    expect(ramp(30).reading("felt-grade:main")?.value).toBeCloseTo(1.5, 9);
    expect(curved(0).reading("felt-grade:main")?.value).toBeCloseTo(1, 9);
  });

  test("is worst where grade and curve come together, not where either is alone", () => {
    // 2000 mm of straight at 2 %, then a curve of 800 mm at 1.2 %: 2.2 % felt in the curve.
    const arc = 400 * Math.PI;
    const layout = plan()
      .limits({ feltGrade: 3 })
      .standards({ curveDrag: 800 })
      .track("main", at(1000, 1000), [straight(2000), left(800, 90)])
      .pin("p", "main", 0, LOWER)
      .pin("q", "main", 2000, LOWER + 40)
      .pin("r", "main", 2000 + arc, LOWER + 40 + 0.012 * arc);
    expect(layout.reading("grade:main")?.value).toBeCloseTo(2, 9);
    expect(layout.reading("felt-grade:main")?.value).toBeCloseTo(2.2, 6);
    expect(layout.reading("felt-grade:main")?.places[0]?.s).toBeGreaterThanOrEqual(2000);
  });
});

describe("vertical curve", () => {
  /** Level, then 2 % up from 1500 mm on for 2000 mm, in two tracks that meet `joint` mm along. */
  const up = (joint?: number) => {
    const whole = plan().standards({ verticalCurve: 100 });
    const laid = joint
      ? whole.track("a", at(1000, 1000), [straight(joint)]).track("b", endOf("a"), [straight(3500 - joint)])
      : whole.track("a", at(1000, 1000), [straight(3500)]);
    const pin = (id: string, along: number, height: number) => (draft: typeof laid) =>
      joint && along > joint ? draft.pin(id, "b", along - joint, height) : draft.pin(id, "a", along, height);
    return [pin("p", 0, LOWER), pin("q", 1500, LOWER), pin("r", 3500, LOWER + 40)].reduce((d, f) => f(d), laid);
  };

  test("of a break with room is as long as asked", () => {
    const reading = up().reading("vertical-curve");
    expect(reading?.value).toBeCloseTo(100, 6);
    expect(reading).toMatchObject({ verdict: "clear", limit: 100, bound: "least" });
    expect(reading?.places).toMatchObject([{ thing: "tracks.a", s: 1500, note: "2.0 % change over 200 mm" }]);
  });

  test("of a break at a joint is told once", () => {
    expect(up(1500).reading("vertical-curve")?.places).toMatchObject([{ thing: "tracks.a", s: 1500 }]);
    // A little short, so that every place is listed.
    const short = up(1500)
      .pin("s", "b", 100, LOWER + 2)
      .reading("vertical-curve");
    expect(short?.places.filter((p) => Math.abs(p.point.x - 2500) < 1)).toHaveLength(1);
  });

  test("cut short between two breaks fails, and says by how much", () => {
    // Up 2 % from 1500 to 1600 mm and level again: two breaks 100 mm apart share that, 100 mm of curve for 2 % each.
    const layout = plan()
      .standards({ verticalCurve: 100 })
      .track("a", at(1000, 1000), [straight(3500)])
      .pin("p", "a", 0, LOWER)
      .pin("q", "a", 1500, LOWER)
      .pin("r", "a", 1600, LOWER + 2)
      .pin("s", "a", 3500, LOWER + 2);
    const reading = layout.reading("vertical-curve");
    expect(reading?.value).toBeCloseTo(50, 6);
    expect(reading).toMatchObject({ verdict: "fails" });
    expect(reading?.places.map((p) => p.s)).toEqual([1500, 1600]);
  });

  test("is not measured on one grade, and not read where none is asked for", () => {
    const level = plan()
      .standards({ verticalCurve: 100 })
      .track("a", at(1000, 1000), [straight(900)]);
    expect(level.reading("vertical-curve")).toMatchObject({ value: undefined, verdict: "none" });
    expect(up().standards({ verticalCurve: 0 }).reading("vertical-curve")).toBeUndefined();
  });
});

describe("climb", () => {
  /** 1000 mm level, two turns of 900 mm radius up to the next deck, 500 mm level on it. */
  const TURNS = 4 * Math.PI * 900;
  const RISE = 250;
  const spiral = (grade: number) =>
    plan()
      .limits({ grade, feltGrade: 6 })
      .standards({ curveDrag: 800 })
      .deck("upper", LOWER + RISE)
      .track("main", at(3000, 2000), [straight(1000), left(900, 720), straight(500)])
      .pin("p", "main", 1000, "lower")
      .pin("q", "main", 1000 + TURNS, "upper");
  const up = (draft: ReturnType<typeof spiral>) =>
    draft.track("top", endOf("main"), [straight(500)], { deck: "upper" });

  test.each([
    [3, "clear"],
    [2.25, "tight"],
    [2, "fails"],
  ] as const)("pinned between two decks, against %d %%: %s", (limit, verdict) => {
    const reading = up(spiral(limit)).reading("climb:lower/upper");
    const grade = (100 * RISE) / TURNS;
    // The route runs from where the lower level is left to the first track of the upper deck, 500 mm on.
    expect(reading?.figures?.rise?.value).toBeCloseTo(RISE, 9);
    expect(reading?.figures?.run?.value).toBeCloseTo(TURNS + 500, 6);
    expect(reading?.figures?.mean?.value).toBeCloseTo((100 * RISE) / (TURNS + 500), 6);
    expect(reading?.figures?.ruling?.value).toBeCloseTo(grade, 9);
    expect(reading?.figures?.felt?.value).toBeCloseTo(grade + 800 / 900, 6);
    expect(reading?.value).toBeCloseTo(grade, 9);
    expect(reading).toMatchObject({ verdict, limit, bound: "most", unit: "percent" });
    expect(reading?.places).toMatchObject([
      { thing: "tracks.main", note: "ruling grade" },
      { thing: "tracks.main", note: "felt" },
    ]);
    expect(reading?.places[0]?.s).toBeCloseTo(1000 + TURNS / 2, 6);
    expect(reading?.places[1]?.s).toBeGreaterThanOrEqual(1000);
  });

  test("the steepest of several grades rules; the mean is the whole rise over the whole run", () => {
    // 100 mm in the first turn, 150 mm in the second: 150 / (1800 pi) is 2.65 %.
    const reading = up(spiral(3).pin("r", "main", 1000 + TURNS / 2, LOWER + 100)).reading("climb:lower/upper");
    expect(reading?.figures?.ruling?.value).toBeCloseTo(15000 / (TURNS / 2), 9);
    expect(reading?.places[0]?.s).toBeCloseTo(1000 + (3 * TURNS) / 4, 6);
    expect(reading?.figures?.mean?.value).toBeCloseTo(25000 / (TURNS + 500), 6);
  });

  test("that leaves the level of its deck by a turnout of a main is found", () => {
    const reading = plan()
      .deck("upper", LOWER + 60)
      .track("main", at(500, 1000), [straight(4000)])
      .turnout("t", { on: "main", at: 500, hand: "left" })
      .track("branch", from("t"), [straight(100), straight(3000)], { class: "branch", deck: "upper" })
      .pin("p", "branch", 100, "lower")
      .pin("q", "branch", 3100, "upper")
      .reading("climb:lower/upper");
    // From the joint behind the turnout, where lower track ends, 3100 mm to the pin: 60 mm in the last 3000.
    expect(reading?.value).toBeCloseTo(2, 6);
    expect(reading?.figures?.run?.value).toBeCloseTo(3100, 3);
  });

  test("that nobody pinned up fails, and says what it misses", () => {
    const layout = plan()
      .deck("upper", LOWER + RISE)
      .track("main", at(3000, 2000), [straight(1000)])
      .track("top", endOf("main"), [straight(500)], { deck: "upper" })
      .pin("p", "main", 0, "lower");
    const reading = layout.reading("climb:lower/upper");
    expect(reading?.verdict).toBe("fails");
    expect(reading?.places[0]).toMatchObject({
      point: { x: 4000, y: 2000 },
      value: -RISE,
      note: "250.0 mm below upper; pin its height",
    });
  });

  test("between decks that no track joins reads none; on one level there is no climb", () => {
    const apart = plan()
      .deck("upper", LOWER + RISE)
      .track("main", at(1000, 1000), [straight(1000)])
      .track("top", at(1000, 2000), [straight(500)], { deck: "upper" });
    expect(apart.reading("climb:lower/upper")).toMatchObject({ value: undefined, verdict: "none", places: [] });
    expect(
      plan()
        .deck("staging", LOWER, { kind: "staging" })
        .readings.filter((r) => r.id === "climb"),
    ).toEqual([]);
  });

  test("does not reverse: a branch that trails in the other way is no way up", () => {
    const reading = plan()
      .deck("upper", LOWER + 60)
      .track("main", at(500, 1000), [straight(2000)])
      .turnout("t", { on: "main", at: 500, hand: "left" })
      .track("branch", from("t"), [straight(3000)], { class: "branch", deck: "upper" })
      .pin("p", "branch", 0, "lower")
      .pin("q", "branch", 3000, "upper")
      .reading("climb:lower/upper");
    expect(reading?.value).toBeCloseTo(2, 6);
    // From the turnout's own end, not from beyond its heel.
    expect(reading?.figures?.run?.value).toBeCloseTo(3000, 3);
  });
});
