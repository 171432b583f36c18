/** Track to the edge of its bench, to walls, obstacles and backdrops. */
import { describe, expect, test } from "vitest";
import { endThrow } from "../../src/geometry/throw.js";
import { at, box, CAR, type Draft, endOf, LOWER, left, plan, straight } from "./fixture.js";

describe("bench edge", () => {
  const along = (y: number) =>
    plan()
      .standards({ benchEdge: 40 })
      .bench("shelf", box(0, 1000, 6000, 1600))
      .track("main", at(1000, y), [straight(3000)]);

  test.each([
    [1300, 300, "clear"],
    [1041, 41, "tight"],
    [1040, 40, "tight"],
    [1039, 39, "fails"],
    [1560, 40, "tight"],
    [980, -20, "fails"],
  ] as const)("a track at y %d is %d mm inside: %s", (y, value, verdict) => {
    const reading = along(y).reading("edge:bench");
    expect(reading?.value).toBeCloseTo(value, 9);
    expect(reading).toMatchObject({ verdict, limit: 40, bound: "least", unit: "mm" });
    expect(reading?.places).toMatchObject([{ deck: "lower", thing: "tracks.main", point: { y } }]);
    expect(reading?.places[0]?.note).toBe(value < 0 ? "off the bench" : undefined);
  });

  test("is told where it is least", () => {
    // Runs out over the bench's end at x = 6000: 1000 mm beyond it.
    const over = along(1300)
      .track("main", at(4000, 1300), [straight(3000)])
      .reading("edge:bench");
    expect(over).toMatchObject({ value: -1000, verdict: "fails" });
    expect(over?.places[0]).toMatchObject({ s: 3000, point: { x: 7000, y: 1300 }, note: "off the bench" });
    // A half circle of 500 mm about (2000, 1520) comes within 20 mm of the edge at y 1000 where it is lowest.
    const bend = along(1300)
      .track("main", at(1500, 1520, -90), [left(500, 180)])
      .reading("edge:bench");
    expect(bend?.value).toBeCloseTo(20, 1);
    expect(Math.abs((bend?.places[0]?.point.x ?? 0) - 2000)).toBeLessThan(20);
  });

  test("is not read where no bench is drawn yet, or nothing is laid", () => {
    expect(
      plan()
        .track("main", at(1000, 1000), [straight(900)])
        .reading("edge:bench"),
    ).toBeUndefined();
    expect(
      plan()
        .bench("b", box(0, 0, 900, 900))
        .readings.filter((r) => r.id === "edge"),
    ).toEqual([]);
  });

  test("a gate bridges two benches, and without it the track is in the air", () => {
    const parted = plan()
      .standards({ benchEdge: 40 })
      .bench("west", box(0, 1000, 2000, 1600))
      .bench("east", box(2800, 1000, 5000, 1600))
      .track("main", at(1000, 1300), [straight(3000)]);
    const open = parted.reading("edge:bench");
    // Half way over the gap of 800 mm it is 400 mm from either bench.
    expect(open?.verdict).toBe("fails");
    expect(Math.abs((open?.value ?? 0) + 400)).toBeLessThan(13);
    expect(parted.gate("lift", box(2000, 1100, 2800, 1500)).reading("edge:bench")).toMatchObject({
      value: 200,
      verdict: "clear",
    });
  });

  test("a deck's track needs that deck's bench or one level with it; a climb stands on any below", () => {
    const upper = (height: number) =>
      plan()
        .bench("low", box(0, 0, 6000, 2000))
        .deck("upper", height)
        .bench("high", box(0, 0, 6000, 500), "upper")
        .track("main", at(1000, 800), [straight(3000)], { deck: "upper" });
    expect(upper(1400).reading("edge:bench")).toMatchObject({ verdict: "fails", value: -300 });
    expect(upper(LOWER).reading("edge:bench")).toMatchObject({ verdict: "clear", value: 800 });
    const climb = upper(1100).pin("p", "main", 0, LOWER).pin("q", "main", 3000, 1100);
    expect(climb.reading("edge:bench")).toMatchObject({ verdict: "clear", value: 800 });
  });
});

describe("walls", () => {
  const room = plan().standards({ wall: 50 });
  const reading = (draft: Draft) => draft.reading("edge:wall");

  test.each([
    [60, "clear"],
    [51, "tight"],
    [50, "tight"],
    [49, "fails"],
    [-10, "fails"],
  ] as const)("a track %d mm from a wall is %s", (y, verdict) => {
    const found = reading(room.track("main", at(2000, y), [straight(3000)]));
    expect(found?.value).toBeCloseTo(y, 9);
    expect(found).toMatchObject({ verdict, limit: 50, bound: "least" });
    expect(found?.places[0]).toMatchObject({ deck: "lower", thing: "tracks.main", point: { y } });
  });

  test("the end throw is taken off where a curve bulges toward the wall", () => {
    // A half circle of 700 mm whose lowest point is 80 mm off the wall at y = 0.
    const found = reading(room.track("main", at(3300, 780, -90), [left(700, 180)]));
    const expected = 80 - endThrow(700, CAR.length, CAR.truckCentres);
    expect(Math.abs((found?.value ?? 0) - expected)).toBeLessThan(0.2);
    expect(Math.abs((found?.places[0]?.point.x ?? 0) - 4000)).toBeLessThan(60);
  });

  test("obstacles count at the height of a car, and not below the rails or above it", () => {
    const beside = (heights: { from?: number; to?: number }) =>
      reading(
        room.obstacle("post", box(3000, 3030, 3100, 3200), heights).track("main", at(1000, 3000), [straight(4000)]),
      )?.value;
    expect(beside({})).toBeCloseTo(30, 6);
    expect(beside({ to: 1001 })).toBeCloseTo(30, 6);
    expect(beside({ to: LOWER })).toBeCloseTo(1000, 6);
    // The car of 60 mm reaches to 1060.
    expect(beside({ from: 1059 })).toBeCloseTo(30, 6);
    expect(beside({ from: 1060 })).toBeCloseTo(1000, 6);
  });

  test("a track into an obstacle is negative", () => {
    const found = reading(
      room.obstacle("post", box(3000, 2900, 3400, 3200)).track("main", at(1000, 3000), [straight(4000)]),
    );
    expect(found?.value).toBeCloseTo(-100, 6);
  });

  test("a climb passes under a beam where it is low, and not where it is high", () => {
    const climb = (x: number) =>
      reading(
        room
          .obstacle("beam", box(x, 3020, x + 100, 3100), { from: 1100, to: 1300 })
          .track("main", at(1000, 3000), [straight(5000)])
          .pin("p", "main", 0, LOWER)
          .pin("q", "main", 5000, 1200),
      )?.value;
    // At x = 1500 the rails are at 1020, a car's top at 1080, which reaches 1100 only at x = 2000; at 4000 the rails are at 1120.
    expect(climb(1500)).toBeGreaterThan(400);
    expect(climb(4000)).toBeCloseTo(20, 6);
  });

  test("backdrops stand on their deck as high as they are", () => {
    const line = [
      { x: 2000, y: 3040 },
      { x: 4000, y: 3040 },
      { x: 4000, y: 3500 },
    ];
    const main = room.deck("upper", 1400).track("main", at(1000, 3000), [straight(2500)]);
    expect(reading(main.backdrop("sky", line))).toMatchObject({ verdict: "fails" });
    expect(reading(main.backdrop("sky", line))?.value).toBeCloseTo(40, 6);
    expect(reading(main.backdrop("sky", line, 300, "upper"))?.value).toBeCloseTo(1000, 6);
  });

  test("in the open room the nearest wall is told", () => {
    const found = reading(
      room.track("main", at(4000, 3000), [straight(100)]).track("b", endOf("main"), [straight(100)]),
    );
    expect(found).toMatchObject({ value: 3000, verdict: "clear" });
  });
});
