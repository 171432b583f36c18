/** Straight between curves of opposite hand: within a track, across joints, through turnouts. */
import { describe, expect, test } from "vitest";
import type { Leg } from "../../src/plan/schema.js";
import { at, type Draft, endOf, from, left, plan, right, startOf, straight } from "./fixture.js";

const asking = plan().limits({ radius: 600, reverseStraight: 200 });
const EIGHTH = (600 * Math.PI) / 4;
const reading = (draft: Draft) => draft.reading("reverse-curve:main");
const alone = (...legs: Leg[]) => asking.track("main", at(2000, 2000), legs);

describe("within a track", () => {
  test.each([
    [0, "fails"],
    [100, "fails"],
    [199.9, "fails"],
    [200, "clear"],
    [350, "clear"],
  ] as const)("%d mm of straight against 200 mm is %s", (between, verdict) => {
    const legs = between > 0 ? [straight(between)] : [];
    const found = reading(alone(left(600, 45), ...legs, right(600, 45)));
    expect(found?.value).toBeCloseTo(between, 9);
    expect(found).toMatchObject({ verdict, limit: 200, bound: "least", source: "set by the test" });
    expect(found?.places).toMatchObject([{ thing: "tracks.main", deck: "lower" }]);
    expect(found?.places[0]?.s).toBeCloseTo(EIGHTH, 9);
  });

  test.each<[string, Leg[]]>([
    ["of one hand", [left(600, 45), straight(100), left(600, 45)]],
    ["eased on both sides (NEM 113, 2016, read)", [left(600, 45, 200), right(600, 45, 200)]],
    // 1/1250 + 1/1250 = 1/625 is less than 1/600 met at once.
    ["of gentle radii", [left(1250, 30), right(1250, 30)]],
    ["eased on one side", [left(600, 45, { in: 0, out: 200 }), right(600, 45)]],
    ["that are not there", [straight(500)]],
  ])("none is needed between curves %s", (_, legs) => {
    expect(reading(alone(...legs))).toBeUndefined();
  });

  test("is needed where the two curvatures together are sharper than the least radius", () => {
    // 1/1100 + 1/1100 = 1/550.
    expect(reading(alone(left(1100, 30), right(1100, 30)))).toMatchObject({ value: 0, verdict: "fails" });
  });
});

describe("across joints", () => {
  test("the straights on both sides count together, told once", () => {
    const found = reading(
      asking
        .track("a", at(2000, 2000), [left(600, 45), straight(40)])
        .track("b", endOf("a"), [straight(60), right(600, 45)]),
    );
    expect(found?.value).toBeCloseTo(100, 6);
    expect(found?.places).toHaveLength(1);
    expect(found?.places[0]).toMatchObject({ thing: "tracks.a" });
    expect(found?.places[0]?.s).toBeCloseTo(EIGHTH, 9);
  });

  test("a short straight track between counts too", () => {
    const found = reading(
      asking
        .track("a", at(2000, 2000), [left(600, 45)])
        .track("b", endOf("a"), [straight(120)])
        .track("c", endOf("b"), [right(600, 45)]),
    );
    expect(found?.value).toBeCloseTo(120, 6);
    expect(found?.places).toHaveLength(1);
  });

  test("hands are told as a train meets them, whichever way the tracks were laid", () => {
    // Back to back: leaving their common end both turn left, so a train going through turns right, then left.
    const back = (hand: typeof left) =>
      asking
        .track("a", at(2000, 2000), [straight(50), left(600, 45)])
        .track("b", startOf("a"), [straight(50), hand(600, 45)]);
    expect(reading(back(left))?.value).toBeCloseTo(100, 6);
    expect(reading(back(right))).toBeUndefined();
  });

  test("of two classes the lesser limit holds, and the lesser track tells", () => {
    const found = asking
      .limits({ reverseStraight: 80 }, "siding")
      .track("a", at(2000, 2000), [left(600, 45)])
      .track("b", endOf("a"), [straight(60), right(600, 45)], { class: "siding" });
    expect(reading(found)).toBeUndefined();
    expect(found.reading("reverse-curve:siding")).toMatchObject({ limit: 80, verdict: "fails" });
    expect(found.reading("reverse-curve:siding")?.places[0]).toMatchObject({ thing: "tracks.b", s: 60 });
  });

  test("a ring of one hand needs none; an S bent back to its own start does", () => {
    const ring = asking.track("ring", at(2000, 2000), [
      left(600, 300),
      { join: { to: startOf("ring"), radius: 600, easement: 0 } },
    ]);
    expect(ring.reading("joint")?.value).toBe(0);
    expect(reading(ring)).toBeUndefined();
  });
});

describe("through turnouts", () => {
  const departs = (draft: Draft): number => draft.layout.turnouts.get("t")?.departs ?? Number.NaN;
  const host = (hand: "left" | "right") =>
    asking
      .track("main", at(2000, 2000), [left(600, 45), straight(600)])
      .turnout("t", { on: "main", at: EIGHTH + 80, hand });

  test("a curve just before the points and a route the other way", () => {
    const draft = host("right");
    const found = reading(draft);
    expect(found?.value).toBeCloseTo(departs(draft) - EIGHTH, 6);
    expect(found?.value).toBeLessThan(200);
    expect(found?.places).toMatchObject([{ thing: "turnouts.t", s: 0 }]);
  });

  test("the same hand needs none, nor does the way through", () => {
    expect(reading(host("left"))).toBeUndefined();
  });

  test("a curve on the track before the host, and points that face the other way", () => {
    const before = asking
      .track("a", at(2000, 2000), [left(600, 45)])
      .track("main", endOf("a"), [straight(800)])
      .turnout("t", { on: "main", at: 90, hand: "right" });
    expect(reading(before)?.value).toBeCloseTo(departs(before), 6);
    // Met by trains that come back along the host: the curve behind the points turns left as seen from them.
    const back = asking
      .track("main", at(2000, 2000), [straight(800), right(600, 45)])
      .turnout("t", { on: "main", at: 700, facing: "against", hand: "right" });
    expect(reading(back)?.value).toBeCloseTo(800 - departs(back), 6);
  });

  test("on a curved host only where the sum of both bends is too sharp", () => {
    // A lead curve wider than 600 mm taken off a left curve of 600 mm bends the route by no more than the lead alone.
    const draft = asking
      .track("main", at(2000, 2000), [left(600, 120)])
      .turnout("t", { on: "main", at: 400, hand: "right" });
    expect(reading(draft)).toBeUndefined();
  });

  test("a branch that bends back behind its turnout", () => {
    const draft = asking
      .limits({ reverseStraight: 200 }, "siding")
      .track("main", at(2000, 2000), [straight(1000)])
      .turnout("t", { on: "main", at: 300, hand: "left" })
      .track("siding", from("t"), [straight(10), right(600, 9)], { class: "siding" });
    const route = draft.layout.lines.get("turnout:t")?.path;
    const tail = route?.segments.at(-1)?.length ?? 0;
    expect(draft.reading("reverse-curve:siding")?.value).toBeCloseTo(tail + 10, 6);
  });

  test("two lead curves of a crossover are not asked", () => {
    const draft = asking
      .track("a", at(2000, 2000), [straight(2000)])
      .track("b", at(4000, 2060, 180), [straight(2000)])
      .turnout("t", { on: "a", at: 400, hand: "left" })
      .turnout("u", { on: "b", at: 1000, hand: "left" })
      .track("over", from("t"), [{ join: { to: from("u"), radius: 600, easement: 0 } }]);
    expect(draft.reading("reverse-curve:main")?.places.some((p) => p.thing.startsWith("turnouts"))).not.toBe(true);
  });
});
