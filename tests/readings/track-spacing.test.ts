/** Track centres: beside one another, on curves, round turnouts, at joints and crossings. */
import { describe, expect, test } from "vitest";
import { centreThrow, endThrow } from "../../src/geometry/throw.js";
import { at, CAR, type Draft, endOf, from, LOWER, left, plan, right, startOf, straight } from "./fixture.js";

const reading = (draft: Draft) => draft.reading("track-spacing:main");
const beside = (apart: number) =>
  plan()
    .limits({ centres: 50 })
    .track("a", at(1000, 1000), [straight(2000)])
    .track("b", at(1000, 1000 + apart), [straight(2000)]);

describe("on straight track", () => {
  test.each([
    [60, "clear"],
    [52.6, "clear"],
    [51, "tight"],
    [50, "tight"],
    [49.8, "fails"],
    [40, "fails"],
  ] as const)("%d mm against 50 mm is %s", (apart, verdict) => {
    const found = reading(beside(apart));
    expect(found?.value).toBeCloseTo(apart, 9);
    expect(found).toMatchObject({ verdict, limit: 50, bound: "least", source: "set by the test" });
    const [place, ...more] = found?.places ?? [];
    expect(more).toEqual([]);
    expect(place).toMatchObject({ deck: "lower", thing: "tracks.a", note: `centres ${apart.toFixed(1)} mm` });
    expect(place?.point.y).toBe(1000);
  });

  test("is not read of one track, of tracks far apart, or of one that passes well above another", () => {
    expect(reading(plan().track("a", at(1000, 1000), [straight(2000)]))).toBeUndefined();
    expect(reading(beside(400))).toBeUndefined();
    expect(reading(beside(40).pin("p", "b", 0, LOWER + 35))).toBeUndefined();
    // Nearer in height than half a car of 60 mm it counts as beside.
    expect(reading(beside(40).pin("p", "b", 0, LOWER + 25))?.verdict).toBe("fails");
  });

  test("of two classes the one that asks for more tells", () => {
    const draft = beside(55)
      .limits({ centres: 60 }, "staging")
      .track("b", at(1000, 1055), [straight(2000)], { class: "staging" });
    expect(reading(draft)).toBeUndefined();
    expect(draft.reading("track-spacing:staging")).toMatchObject({ limit: 60, verdict: "fails" });
    expect(draft.reading("track-spacing:staging")?.places[0]?.thing).toBe("tracks.b");
  });
});

describe("on curves", () => {
  const concentric = (inner: number, apart: number) =>
    plan()
      .limits({ centres: 50 })
      .track("in", at(4000, 1000), [left(inner, 180)])
      .track("out", at(4000, 1000 - apart), [left(inner + apart, 180)]);

  test.each([
    [600, 70],
    [450, 80],
    [1200, 55],
  ])("of %d mm, %d mm apart, less the end throw of the inner and the centre throw of the outer car", (inner, apart) => {
    const outward = endThrow(inner, CAR.length, CAR.truckCentres);
    const inward = centreThrow(inner + apart, CAR.truckCentres);
    expect(Math.abs((reading(concentric(inner, apart))?.value ?? 0) - (apart - outward - inward))).toBeLessThan(0.2);
  });

  test("as far as the plan does not let throws use up part of the centres", () => {
    // Throws of 600 mm and 670 mm: (300^2 - 210^2) / 4800 + 210^2 / 5360 = 9.56 + 8.23 = 17.8 mm.
    const slack = (mm: number) => reading(concentric(600, 70).standards({ curveSlack: mm }))?.value;
    expect(Math.abs((slack(10) ?? 0) - (70 - 7.8))).toBeLessThan(0.3);
    expect(slack(30)).toBeCloseTo(70, 1);
  });

  test("a straight beside the outside of a curve takes the curve's throw only", () => {
    const draft = plan()
      .limits({ centres: 50 })
      .track("curve", at(4000, 1000, -45), [left(600, 90)])
      .track("line", at(3500, 1000 - 600 * (1 - Math.SQRT1_2) - 62), [straight(2000)]);
    // The bottom of the arc is 600 (1 - cos 45) below its ends, and 62 mm above the straight.
    const outward = endThrow(600, CAR.length, CAR.truckCentres);
    expect(Math.abs((reading(draft)?.value ?? 0) - (62 - outward))).toBeLessThan(0.2);
  });
});

describe("round turnouts", () => {
  /**
   * A siding `apart` from the main between two turnouts, laid by hand: off the first, a straight, a curve back of
   * 700 mm, and on beside the main; the same at the far end.
   */
  function siding(apart: number, length: number): Draft {
    const main = plan()
      .limits({ centres: 50 })
      .track("main", at(500, 1000), [straight(length)]);
    const points = main
      .turnout("w", { on: "main", at: 300, hand: "left" })
      .turnout("e", { on: "main", at: length - 300, hand: "right", facing: "against" });
    const { layout } = points;
    const [west, east] = [layout.lines.get("turnout:w")?.path.end, layout.lines.get("turnout:e")?.path.end];
    if (!west || !east) throw new Error("the turnouts do not fit");
    const back = 700 * (1 - Math.cos(west.heading));
    const lead = (apart - (west.y - 1000) - back) / Math.sin(west.heading);
    const degrees = (west.heading * 180) / Math.PI;
    const between = east.x - west.x - 2 * (lead * Math.cos(west.heading) + 700 * Math.sin(west.heading));
    return points.track(
      "siding",
      from("w"),
      [
        straight(lead),
        right(700, degrees),
        straight(between),
        right(700, degrees),
        { join: { to: from("e"), radius: 700 } },
      ],
      { class: "siding" },
    );
  }

  test("a siding at its centres is clear from points to points", () => {
    const draft = siding(60, 4000);
    expect(draft.reading("joint")?.value).toBe(0);
    // Throws of the return curves have faded to less than 0.1 mm where it is measured.
    expect(Math.abs((reading(draft)?.value ?? 0) - 60)).toBeLessThan(0.1);
    expect(reading(siding(50, 4000))).toMatchObject({ verdict: "tight" });
  });

  test.each([4000, 2400, 2000])(
    "a siding laid too close is reported where it runs beside a main of %d mm",
    (length) => {
      const found = reading(siding(45, length));
      expect(Math.abs((found?.value ?? 0) - 45)).toBeLessThan(0.1);
      expect(found?.verdict).toBe("fails");
      expect(found?.places[0]?.s).toBeGreaterThan(500);
      expect(found?.places[0]?.s).toBeLessThan(length - 500);
    },
  );

  test("a spur that parts from its main for good is not read at all", () => {
    const spur = plan()
      .limits({ centres: 50 })
      .track("main", at(500, 1000), [straight(3000)])
      .turnout("t", { on: "main", at: 300, hand: "left" });
    expect(reading(spur.track("spur", from("t"), [straight(1200)]))).toBeUndefined();
    expect(reading(spur)).toBeUndefined();
    // However short, and in however many pieces.
    expect(reading(spur.track("s", from("t"), [straight(60)]).track("r", endOf("s"), [straight(60)]))).toBeUndefined();
  });

  test("a spur that comes back to its main is", () => {
    const found = reading(
      plan()
        .limits({ centres: 50 })
        .track("main", at(500, 1000), [straight(4000)])
        .turnout("t", { on: "main", at: 300, hand: "left" })
        .track("spur", from("t"), [straight(300), right(600, 19), straight(320)]),
    );
    expect(found?.verdict).toBe("fails");
  });

  test("every frog number and either hand, on straight and on curved hosts", () => {
    for (const number of [4, 5, 6, 8, 10, 14, 20]) {
      for (const hand of ["left", "right"] as const) {
        for (const legs of [[straight(5000)], [left(2500, 100)], [right(1500, 150)]]) {
          const draft = plan()
            .limits({ centres: 50 })
            .track("main", at(1000, 3000), legs)
            .turnout("t", { on: "main", at: 600, hand, number })
            .track("spur", from("t"), [straight(1500)], { class: "spur" });
          const found = reading(draft);
          expect([number, hand, found?.value ?? 50, found?.places[0]?.note]).toEqual([number, hand, 50, undefined]);
        }
      }
    }
  });

  test("a crossover between tracks at their centres is clear", () => {
    const draft = beside(60)
      .turnout("t", { on: "a", at: 500, hand: "left" })
      .turnout("u", { on: "b", at: 1200, hand: "left", facing: "against" })
      .track("over", from("t"), [{ join: { to: from("u"), radius: 400 } }]);
    expect(draft.reading("joint")?.value).toBe(0);
    expect(reading(draft)?.value).toBeCloseTo(60, 6);
  });
});

describe("joints and crossings", () => {
  test("tracks that follow one another, straight and curved, are no spacing failure", () => {
    expect(
      reading(
        plan()
          .track("a", at(1000, 1000), [straight(100)])
          .track("b", endOf("a"), [straight(40)])
          .track("c", endOf("b"), [left(600, 60)])
          .track("d", startOf("a"), [right(600, 60)]),
      ),
    ).toBeUndefined();
  });

  test("nor is a loop joined to itself, in one track or two", () => {
    const one = plan().track("loop", at(3000, 1000), [
      left(600, 200),
      { join: { to: startOf("loop"), radius: 600, easement: 0 } },
    ]);
    expect(one.reading("joint")?.value).toBe(0);
    expect(reading(one)).toBeUndefined();
    const two = plan()
      .track("a", at(3000, 1000), [left(600, 180)])
      .track("b", endOf("a"), [left(600, 180 - 1e-9), { join: { to: startOf("a"), radius: 600, easement: 0 } }]);
    expect(reading(two)).toBeUndefined();
  });

  test.each([90, 60, 30, 20, 10])("nor a crossing on the level at %d degrees", (angle) => {
    const draft = plan()
      .track("a", at(1000, 2000), [straight(3000)])
      .track(
        "b",
        at(2500 - 1200 * Math.cos((angle * Math.PI) / 180), 2000 - 1200 * Math.sin((angle * Math.PI) / 180), angle),
        [straight(2400)],
      );
    expect(draft.layout.crossings).toHaveLength(1);
    expect(reading(draft)).toBeUndefined();
  });

  test("a track that ends short of another is", () => {
    const draft = plan()
      .track("a", at(1000, 2000), [straight(3000)])
      .track("b", at(2500, 2030, 90), [straight(500)]);
    expect(reading(draft)).toMatchObject({ verdict: "fails" });
    expect(reading(draft)?.value).toBeCloseTo(30, 6);
  });
});
