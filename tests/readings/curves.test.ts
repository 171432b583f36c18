/** What is read of curves seen from above: length, radius, easement. Values are worked out by hand in the comments. */
import { describe, expect, test } from "vitest";
import { at, endOf, from, left, plan, right, startOf, straight } from "./fixture.js";

const QUARTER = Math.PI / 2;

describe("length", () => {
  const yard = plan()
    .track("main", at(1000, 1000), [straight(1000), left(600, 90)])
    .track("spur", at(1000, 2000), [straight(400)], { class: "spur" });

  test("adds up straights and arcs, in all and by class", () => {
    // 1000 + 600 pi / 2 on the main, 400 on the spur.
    expect(yard.reading("length:main")?.value).toBeCloseTo(1000 + 600 * QUARTER, 9);
    expect(yard.reading("length:spur")?.value).toBeCloseTo(400, 9);
    expect(yard.reading("length")?.value).toBeCloseTo(1400 + 600 * QUARTER, 9);
    expect(yard.reading("length")).toMatchObject({ verdict: "none", unit: "mm", limit: undefined });
  });

  test("counts a turnout's diverging route with its host's class, and its way through once", () => {
    const layout = yard.turnout("t", { on: "main", at: 300, hand: "left" });
    const route = layout.layout.lines.get("turnout:t")?.path.length ?? 0;
    expect(route).toBeGreaterThan(100);
    expect(layout.reading("length:main")?.value).toBeCloseTo(1000 + 600 * QUARTER + route, 9);
  });

  test("of nothing is not known", () => {
    expect(plan().reading("length")).toMatchObject({ value: undefined, verdict: "none" });
  });
});

describe("radius", () => {
  const curve = (radius: number, easement = 0) =>
    plan()
      .limits({ radius: 500 })
      .track("main", at(1000, 1000), [straight(200), left(radius, 90, easement), straight(200)]);

  test.each([
    [600, "clear"],
    [526, "clear"],
    [510, "tight"],
    [500, "tight"],
    [499, "fails"],
  ] as const)("of %d mm against 500 mm is %s", (radius, verdict) => {
    const reading = curve(radius).reading("radius:main");
    expect(reading?.value).toBeCloseTo(radius, 9);
    expect(reading).toMatchObject({ verdict, limit: 500, bound: "least", source: "set by the test" });
  });

  test("is told in the middle of the arc, once with its easements", () => {
    // The arc turns about (200, 490) from the start; its middle is at 45 degrees.
    const [place, ...more] = curve(490).reading("radius:main")?.places ?? [];
    expect(more).toEqual([]);
    expect(place).toMatchObject({ deck: "lower", thing: "tracks.main" });
    expect(place?.s).toBeCloseTo(200 + (490 * Math.PI) / 4, 9);
    expect(place?.point.x).toBeCloseTo(1200 + 490 * Math.SQRT1_2, 9);
    expect(place?.point.y).toBeCloseTo(1490 - 490 * Math.SQRT1_2, 9);
    const eased = curve(490, 150).reading("radius:main")?.places;
    expect(eased).toHaveLength(1);
    // A straight, an easement, half an arc that turns by what the easements leave: s is half of the whole.
    expect(eased?.[0]?.s).toBeCloseTo(200 + (490 * QUARTER + 150) / 2, 9);
  });

  test("of a compound curve is told for each of its radii, the sharper first", () => {
    const layout = plan()
      .limits({ radius: 700 })
      .track("main", at(1000, 1000), [left(650, 40), left(600, 40)]);
    expect(layout.reading("radius:main")?.places.map((p) => Math.round(p.value ?? 0))).toEqual([600, 650]);
  });

  test("of two easements without an arc is told once, where they meet", () => {
    // D = 0.1 rad is less than L / R = 0.5: two spirals of sqrt(D R L), curvature sqrt(D / (R L)) between them.
    const layout = plan().track("main", at(1000, 1000), [left(600, (0.1 * 180) / Math.PI, 300)]);
    const reading = layout.reading("radius:main");
    expect(reading?.value).toBeCloseTo(Math.sqrt((600 * 300) / 0.1), 6);
    expect(reading?.places).toHaveLength(1);
    expect(reading?.places[0]?.s).toBeCloseTo(Math.sqrt(0.1 * 600 * 300), 6);
  });

  test("of a turnout's lead curve counts with its host's class; straight track has none", () => {
    const layout = plan()
      .track("main", at(1000, 1000), [straight(1000)])
      .turnout("t", { on: "main", at: 300, hand: "left" });
    const lead = layout.layout.turnouts.get("t")?.radius ?? 0;
    expect(lead).toBeGreaterThan(500);
    expect(layout.reading("radius:main")?.value).toBeCloseTo(lead, 6);
    expect(layout.reading("radius:main")?.places[0]?.thing).toBe("turnouts.t");
    expect(
      plan()
        .track("main", at(0, 0), [straight(900)])
        .reading("radius:main"),
    ).toBeUndefined();
  });
});

describe("easement", () => {
  const asking = plan().limits({ radius: 600, easement: 300 });
  const curve = (radius: number, easement: number | { in: number; out: number }, angle = 90) =>
    asking.track("main", at(1000, 1000), [straight(200), left(radius, angle, easement), straight(200)]);

  test.each([
    ["of the class's own length on the least radius", 600, 300, 300, "clear"],
    ["of 200 mm on 900 mm is worth 300 mm on 600 mm", 900, 200, 300, "clear"],
    ["cut short", 600, 200, 200, "fails"],
    ["cut short on a wider curve", 900, 100, 150, "fails"],
    ["left out", 600, 0, 0, "fails"],
  ] as const)("%s", (_, radius, length, value, verdict) => {
    const reading = curve(radius, length).reading("easement:main");
    expect(reading?.value).toBeCloseTo(value, 6);
    expect(reading).toMatchObject({ verdict, limit: 300, bound: "least" });
  });

  test("is told where it is too short", () => {
    const place = curve(600, 200).reading("easement:main")?.places[0];
    expect(place).toMatchObject({ thing: "tracks.main", deck: "lower" });
    expect(place?.s).toBeCloseTo(300, 9);
    const jump = curve(600, { in: 0, out: 300 }).reading("easement:main")?.places;
    expect(jump).toHaveLength(1);
    expect(jump?.[0]).toMatchObject({ s: 200, note: "curvature jumps", point: { x: 1200, y: 1000 } });
  });

  test("shortened because the curve turns little is as gentle as a whole one", () => {
    // Two spirals of sqrt(D R L) up to curvature sqrt(D / (R L)): the same rate of change 1 / (R L).
    const reading = curve(600, 300, 10).reading("easement:main");
    expect(reading?.value).toBeCloseTo(300, 6);
    expect(reading?.verdict).toBe("clear");
  });

  test("is missing between two radii of a compound curve", () => {
    const layout = asking.track("main", at(1000, 1000), [
      left(2000, 15, { in: 200, out: 0 }),
      left(600, 40, { in: 0, out: 300 }),
    ]);
    const reading = layout.reading("easement:main");
    expect(reading).toMatchObject({ value: 0, verdict: "fails" });
    expect(reading?.places).toHaveLength(1);
    // The first leg: its easement turns by 200 / 4000 rad, the arc by the rest of 15 degrees.
    expect(reading?.places[0]?.s).toBeCloseTo(200 + 2000 * ((15 * Math.PI) / 180 - 200 / 4000), 6);
  });

  test("is missing where a curve begins at a joint, told once by the sharper track", () => {
    const layout = asking
      .track("a", at(1000, 1000), [straight(500)])
      .track("b", endOf("a"), [left(600, 90, { in: 0, out: 300 })]);
    expect(layout.reading("easement:main")?.places).toMatchObject([{ thing: "tracks.b", s: 0, value: 0 }]);
    // The same where the straight track is of a class that asks for none, and where it is the one that begins here.
    const yard = plan()
      .limits({ radius: 600, easement: 300 })
      .limits({ easement: 0 }, "yard")
      .track("z", at(1000, 1000), [left(600, 90, { in: 0, out: 300 })])
      .track("a", startOf("z"), [straight(500)], { class: "yard" });
    expect(yard.reading("easement:main")?.places).toMatchObject([{ thing: "tracks.z", s: 0, value: 0 }]);
    expect(yard.reading("easement:yard")).toBeUndefined();
  });

  test("is there where two curves of one radius and hand meet at a joint", () => {
    const layout = asking
      .track("a", at(1000, 1000), [left(600, 40, { in: 300, out: 0 })])
      .track("b", endOf("a"), [left(600, 40, { in: 0, out: 300 })]);
    expect(layout.reading("easement:main")?.verdict).toBe("clear");
    const reversed = asking
      .track("a", at(1000, 1000), [left(600, 40, { in: 300, out: 0 })])
      .track("b", endOf("a"), [right(600, 40, { in: 0, out: 300 })]);
    expect(reversed.reading("easement:main")).toMatchObject({ value: 0, verdict: "fails" });
  });

  test("is not asked of straight track, of lead curves, of classes without one, or of curves nobody could ease", () => {
    const straightOnly = asking.track("main", at(1000, 1000), [straight(1000)]);
    expect(straightOnly.reading("easement:main")).toBeUndefined();
    expect(straightOnly.turnout("t", { on: "main", at: 300, hand: "left" }).reading("easement:main")).toBeUndefined();
    expect(curve(600, 0).limits({ easement: 0 }).reading("easement:main")).toBeUndefined();
    // 300 mm on 600 mm is 36 mm on 5000 mm, which moves the curve by 36^2 / (24 x 5000) = 0.01 mm.
    expect(curve(5000, 0, 10).reading("easement:main")).toBeUndefined();
    // On 1000 mm it is 180 mm and moves it by 1.35 mm.
    expect(curve(1000, 0).reading("easement:main")?.verdict).toBe("fails");
  });

  test("NEM 113 (2016, read) lets curves of more than 60 gauges do without", () => {
    const nem = plan({ body: "NEM" }).limits({ radius: 600, easement: 300 });
    const of = (radius: number) => nem.track("main", at(1000, 1000), [straight(200), left(radius, 60)]);
    // 60 x 16.5 mm = 990 mm.
    expect(of(995).reading("easement:main")).toBeUndefined();
    expect(of(985).reading("easement:main")?.verdict).toBe("fails");
  });

  test("of a branch's curve behind a turnout counts from the joint on", () => {
    const layout = asking
      .track("main", at(1000, 1000), [straight(1000)])
      .turnout("t", { on: "main", at: 300, hand: "left" })
      .track("branch", from("t"), [right(700, 9)], { class: "branch" });
    expect(layout.reading("easement:branch")?.places[0]).toMatchObject({ thing: "tracks.branch", s: 0, value: 0 });
  });
});
