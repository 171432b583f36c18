/** Sidings, yards, staging, spurs and running round: each clear, tight and failing, with the place where. */
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Id } from "../../src/plan/schema.js";
import { foulingPoint } from "../../src/readings/fouling-point.js";
import { sidingsOf } from "../../src/readings/siding-lengths.js";
import { takeReadings } from "../../src/readings/take.js";
import { at, type Draft, endOf, from, join, left, plan, right, startOf, straight } from "./fixture.js";
import { passingPlan, yardPlan } from "./trains-fixture.js";

const lengthOf = ({ layout }: Draft, key: `track:${string}` | `turnout:${string}`): number =>
  layout.lines.get(key)?.path.length ?? Number.NaN;
/** Along a turnout's diverging route from where it parts to its fouling point. */
const fouled = ({ layout }: Draft, id: Id): number => {
  const { departs = 0, at: points = 0, direction = 1 } = layout.turnouts.get(id) ?? {};
  const point = foulingPoint(layout, id).find(({ line }) => line === `turnout:${id}`);
  return (point?.distance ?? Number.NaN) - (departs - points) * direction;
};

describe("siding", () => {
  const draft = passingPlan({ length: 4000 });
  const clear =
    lengthOf(draft, "turnout:w") +
    lengthOf(draft, "track:siding") +
    lengthOf(draft, "turnout:e") -
    fouled(draft, "w") -
    fouled(draft, "e");

  test.each([
    [clear - 300, "clear"],
    [clear - 20, "tight"],
    [clear + 20, "fails"],
  ] as const)("between its fouling points a train of %d mm is %s", (train, verdict) => {
    const found = draft.standards({ train, averageCar: 150 }).reading("siding:siding");
    expect(found?.value).toBeCloseTo(clear, 6);
    expect(found).toMatchObject({ verdict, limit: train, bound: "least", label: "Siding, siding" });
    const [place, ...more] = found?.places ?? [];
    expect(more).toEqual([]);
    expect(place).toMatchObject({ deck: "lower", thing: "tracks.siding" });
    expect(Math.abs((place?.point.x ?? 0) - 2500)).toBeLessThan(1);
    expect(found?.figures).toMatchObject({
      "clear length": { unit: "mm" },
      "longest cars": { value: Math.floor(clear / 310), unit: "count" },
      "average cars": { value: Math.floor(clear / 150), unit: "count" },
    });
    expect((found?.figures?.["beside it"]?.value ?? 0) - clear).toBeLessThan(0);
    expect((found?.figures?.["beside it"]?.value ?? 0) - clear).toBeGreaterThan(-20);
  });

  test("too short on a branch it is only tight; staging and yards are read elsewhere", () => {
    const { siding } = draft.plan.tracks;
    if (!siding) throw new Error("no siding");
    const as = (kind: typeof siding.class) =>
      draft.standards({ train: clear + 20 }).track("siding", siding.start, siding.legs, { class: kind });
    expect(as("branch").reading("siding:siding")?.verdict).toBe("tight");
    expect(as("main").reading("siding:siding")?.verdict).toBe("fails");
    expect(as("staging").reading("siding:siding")).toBeUndefined();
    expect(as("yard").reading("siding:siding")).toBeUndefined();
    expect(sidingsOf(as("staging").layout).map(({ use }) => use)).toEqual(["staging"]);
  });

  test("one that nowhere stands clear of its main has no clear length", () => {
    const found = passingPlan({ length: 6000, apart: 45 }).reading("siding:siding");
    expect(found).toMatchObject({ value: 0, verdict: "fails" });
    expect(found?.places[0]?.note).toMatch(/do not stand clear/);
  });

  test("spurs off it leave its length; crossovers, spurs and a reversing loop are none", () => {
    const spur = draft
      .turnout("s", { on: "siding", at: 1200, hand: "left" })
      .track("spur", from("s"), [straight(600)], { class: "spur" });
    expect(spur.reading("siding:siding")?.value).toBeCloseTo(clear, 6);
    const double = plan()
      .limits({ centres: 50 })
      .track("a", at(1000, 1000), [straight(4000)])
      .track("b", at(1000, 1060), [straight(4000)])
      .turnout("t", { on: "a", at: 500, hand: "left" })
      .turnout("u", { on: "b", at: 1200, hand: "left", facing: "against" })
      .track("over", from("t"), [join(from("u"), 400)]);
    expect(double.readings.filter(({ id }) => id === "siding")).toEqual([]);
    expect(loop().readings.filter(({ id }) => id === "siding")).toEqual([]);
  });
});

/** A main whose end leads round and back into itself. */
const loop = (): Draft =>
  plan()
    .track("main", at(1000, 3000), [straight(2500)])
    .turnout("t", { on: "main", at: 1500, hand: "left" })
    .track("round", endOf("main"), [left(700, 200), join(from("t"), 600)]);

describe("yard", () => {
  const clearOf = (draft: Draft, i: number): number =>
    lengthOf(draft, `turnout:t${i}`) + lengthOf(draft, `track:y${i}`) - fouled(draft, `t${i}`);

  test.each([
    [2000, "clear"],
    [900, "tight"],
    [100, "fails"],
  ] as const)("with a lead of %d mm to tracks of 1.5 m is %s", (lead, verdict) => {
    const draft = yardPlan({ lead, tracks: [1200, 1500, 900] });
    const found = draft.reading("yard:y0");
    const departs = draft.layout.turnouts.get("t0")?.departs ?? 0;
    expect(found?.value).toBeCloseTo(departs, 6);
    expect(found?.limit).toBeCloseTo(clearOf(draft, 1), 1);
    expect(found).toMatchObject({ verdict, bound: "least", label: "Yard lead, 3 tracks with y1" });
    expect(found?.places[0]).toMatchObject({ thing: "tracks.ladder" });
    expect(found?.places[0]?.point.x).toBeCloseTo(1000 + departs, 6);
    expect(found?.places.slice(1).map(({ thing }) => thing)).toEqual(["tracks.y1", "tracks.y0", "tracks.y2"]);
    const cars = [0, 1, 2].map((i) => Math.floor((clearOf(draft, i) + 0.5) / 150));
    const all = cars.reduce((a, b) => a + b, 0);
    expect(found?.figures).toMatchObject({
      tracks: { value: 3 },
      "cars in all": { value: all },
      "cars it works with": { value: Math.floor(all / 2) },
      "cars on the lead": { value: Math.floor((departs + 0.5) / 150) },
    });
  });

  test("on the main there is no lead", () => {
    const found = yardPlan({ tracks: [1200] }).reading("yard:y0");
    expect(found).toMatchObject({ value: 0, verdict: "fails" });
    expect(found?.places[0]).toMatchObject({
      thing: "tracks.ladder",
      note: "no lead off the main: every move fouls it",
    });
  });

  test("a lead that runs into the main ends where it fouls it", () => {
    const draft = yardPlan({ lead: 1200, tracks: [1200] });
    const before = draft.reading("yard:y0")?.value ?? 0;
    const joined = draft
      .track("main", at(-500, 1990), [straight(3000)])
      .turnout("j", { on: "main", at: 200, hand: "left" })
      .track("ladder", from("j"), draft.plan.tracks["ladder"]?.legs ?? [], { class: "lead" });
    const after = joined.reading("yard:y0");
    expect(after?.value).toBeCloseTo(before + lengthOf(joined, "turnout:j") - fouled(joined, "j"), 6);
  });
});

describe("staging", () => {
  const stub = (lengths: readonly number[]) => {
    const draft = yardPlan({ lead: 400, tracks: lengths }).standards({ train: 1000 });
    return lengths.reduce(
      (made, length, i) => made.track(`y${i}`, from(`t${i}`), [straight(length)], { class: "staging" }),
      draft,
    );
  };

  test.each([
    [1, "clear"],
    [2, "clear"],
    [3, "tight"],
    [4, "fails"],
  ] as const)("three trains held where %d are planned is %s", (trains, verdict) => {
    // A train on the first, two one behind the other on the second, none on the last.
    const found = stub([1400, 2500, 900]).standards({ trains }).reading("staging");
    expect(found).toMatchObject({ value: 3, limit: trains, bound: "least", verdict, unit: "count" });
    expect(found?.places[0]).toMatchObject({ thing: "tracks.y2", note: "y2 is too short for the train" });
    expect(found?.places.map(({ thing }) => thing)).toEqual(["tracks.y2", "tracks.y0", "tracks.y1"]);
    expect(found?.figures).toMatchObject({ tracks: { value: 3 } });
  });

  test("without trains planned nothing limits it; all on a staging deck is staging", () => {
    expect(stub([1400]).reading("staging")).toMatchObject({ value: 1, verdict: "none", limit: undefined });
    const deck = yardPlan({ lead: 400, tracks: [1400] })
      .standards({ train: 1000 })
      .deck("lower", 1000, { kind: "staging" });
    expect(deck.reading("staging")?.value).toBe(1);
    expect(deck.readings.some(({ id }) => id === "yard")).toBe(false);
  });

  test("loops that leave one another are each told between their own turnouts", () => {
    const outer = passingPlan({ length: 5000 });
    const { siding } = outer.plan.tracks;
    if (!siding) throw new Error("no siding");
    const one = outer.standards({ train: 1000 }).track("siding", siding.start, siding.legs, { class: "staging" });
    expect(one.reading("staging")).toMatchObject({ value: 3 });
    expect(one.reading("staging")?.figures).toMatchObject({ tracks: { value: 1 } });
  });
});

describe("spur", () => {
  const spurs = (...lengths: readonly number[]) =>
    lengths.reduce<Draft>(
      (draft, length, i) =>
        draft
          .turnout(`s${i}`, { on: "main", at: 300 + 700 * i, hand: "left", facing: i % 2 === 0 ? "with" : "against" })
          .track(`spur${i}`, from(`s${i}`), [straight(length)], { class: "spur" }),
      plan()
        .limits({ centres: 50 })
        .standards({ averageCar: 150, spurWorks: 60 })
        .track("main", at(1000, 1000), [straight(4000)]),
    );
  const clearOf = (draft: Draft, i: number): number =>
    lengthOf(draft, `turnout:s${i}`) + lengthOf(draft, `track:spur${i}`) - fouled(draft, `s${i}`);

  test("spots at its share of the length beyond the fouling point, and the way to work it", () => {
    const draft = spurs(1200, 900);
    const spots = [0, 1].map((i) => Math.floor((0.6 * clearOf(draft, i) + 0.5) / 150));
    const found = draft.reading("spur");
    expect(found).toMatchObject({ value: spots[1], verdict: "clear", unit: "count" });
    // The first faces trains to the right: it is worked by those that come from there, past it, and push.
    expect(found?.places.map(({ thing, note }) => [thing, note])).toEqual([
      ["tracks.spur1", `spur1: ${spots[1]} spots, for trains going right on the sheet`],
      ["tracks.spur0", `spur0: ${spots[0]} spots, for trains going left on the sheet`],
    ]);
    expect(found?.figures).toMatchObject({
      spurs: { value: 2 },
      "spots in all": { value: (spots[0] ?? 0) + (spots[1] ?? 0) },
    });
  });

  test("a car that fits without room to work is tight, none at all fails", () => {
    const clear = clearOf(spurs(1200), 0) - 1200;
    const tight = spurs(200 - clear, 1200).reading("spur");
    expect(tight).toMatchObject({ value: 0, verdict: "tight" });
    expect(tight?.places[0]?.thing).toBe("tracks.spur0");
    const fails = spurs(1200, 100 - clear).reading("spur");
    expect(fails).toMatchObject({ value: 0, verdict: "fails" });
    expect(fails?.places[0]?.thing).toBe("tracks.spur1");
  });
});

describe("running round", () => {
  const tail = (engine: number, averageCar: number) =>
    passingPlan({ length: 4000 }).standards({ engine, averageCar, train: 1000 });
  const room = (() => passingPlan({ length: 4000 }).layout.turnouts.get("w")?.departs ?? 0)();

  test.each([
    [100, 100, "clear"],
    [200, 150, "tight"],
    [room + 5, 150, "fails"],
  ] as const)("an engine of %d mm and a car of %d mm beyond the points is %s", (engine, car, verdict) => {
    const found = tail(engine, car).reading("runaround");
    expect(found?.value).toBeCloseTo(room, 6);
    expect(found).toMatchObject({ verdict, limit: engine + car, bound: "least" });
    expect(found?.places[0]?.thing).toMatch(/^(turnouts\.[we]|tracks\.main)$/);
    expect(found?.places).toHaveLength(verdict === "clear" ? 1 : 2);
  });

  test("two crossovers are a place to run round as well", () => {
    const draft = plan()
      .limits({ centres: 50 })
      .track("a", at(1000, 1000), [straight(5000)])
      .track("b", at(1000, 1060), [straight(5000)])
      .turnout("t", { on: "a", at: 500, hand: "left" })
      .turnout("u", { on: "b", at: 1200, hand: "left", facing: "against" })
      .track("over", from("t"), [join(from("u"), 400)]);
    expect(draft.reading("runaround")).toBeUndefined();
    const both = draft
      .turnout("v", { on: "b", at: 3000, hand: "right" })
      .turnout("w", { on: "a", at: 3700, hand: "right", facing: "against" })
      .track("back", from("v"), [join(from("w"), 400)]);
    expect(both.reading("runaround")?.figures?.["places to run round"]?.value).toBe(1);
    expect(both.reading("runaround")?.value).toBeCloseTo(both.layout.turnouts.get("t")?.departs ?? 0, 6);
  });
});

describe("where trains run", () => {
  /** A ring of four quarters of 900 mm with straights between, from (2000, 1000). */
  const ring = (draft: Draft = plan().limits({ centres: 50 })): Draft =>
    draft.track("ring", at(2000, 1000), [
      straight(3000),
      left(900, 180),
      straight(3000),
      left(900, 179.99999),
      join(startOf("ring"), 600),
    ]);
  const figuresOf = (draft: Draft) => {
    const { figures = {}, value } = draft.reading("runs") ?? {};
    return { value, ...Object.fromEntries(Object.entries(figures).map(([name, figure]) => [name, figure.value])) };
  };

  test("on a ring is one circuit; with a passing siding there are two, of which one can be run at once", () => {
    expect(figuresOf(ring())).toMatchObject({ value: 1, "circuits on Lower": 1, "at once, no turnout thrown": 1 });
    const siding = ring()
      .turnout("w", { on: "ring", at: 300, hand: "left" })
      .turnout("e", { on: "ring", at: 2700, hand: "right", facing: "against" })
      .track("siding", from("w"), [straight(150), right(700, 9.52728), straight(1200), join(from("e"), 600)], {
        class: "siding",
      });
    expect(figuresOf(siding)).toMatchObject({ value: 2, "at once, no turnout thrown": 1, "places to turn": 0 });
    expect(siding.reading("runs")?.places).toHaveLength(2);
  });

  test("two rings are two circuits at once, whatever the spurs on them", () => {
    const two = ring()
      .track("other", at(2000, 4000), [
        left(500, 180),
        straight(100),
        left(500, 179.99999),
        join(startOf("other"), 400),
      ])
      .turnout("s", { on: "ring", at: 300, hand: "right" })
      .track("spur", from("s"), [straight(500)], { class: "spur" });
    expect(figuresOf(two)).toMatchObject({ value: 2, "at once, no turnout thrown": 2, "places to turn": 0 });
  });

  test("a reversing loop and a wye turn trains; between ends the longest way is told", () => {
    const found = loop().reading("runs");
    expect(found?.places.map(({ note }) => note)).toEqual(["a train turns on this loop"]);
    // Out, round and back to where it came from.
    const { layout } = loop();
    const lengths = [...layout.lines.values()].reduce((sum, { path }) => sum + path.length, 0);
    const departs = layout.turnouts.get("t")?.departs ?? 0;
    expect(found?.figures?.["longest way"]?.value).toBeCloseTo(lengths + departs, 6);
    const wye = plan()
      .track("stem", at(1000, 3000), [straight(800)])
      .turnout("y", { on: "stem", hand: "wye", facing: "with" })
      .track("up", { turnout: "y", route: "left" }, [left(700, 80), straight(600)])
      .track("across", endOf("up"), [straight(1000)])
      .turnout("n", { on: "across", at: 600, hand: "right", facing: "against" });
    expect(wye.reading("runs")?.figures?.["places to turn"]?.value).toBe(0);
    const closed = wye
      .track("tail", at(4500, 1800, -90), [straight(800)])
      .track("link", { turnout: "y", route: "right" }, [join(startOf("tail"), 400)]);
    expect(closed.reading("runs")?.figures?.["places to turn"]?.value).toBe(0);
    const triangle = plan()
      .track("base", at(1000, 1000), [straight(5000)])
      .turnout("a", { on: "base", at: 800, hand: "left" })
      .turnout("b", { on: "base", at: 4200, hand: "right", facing: "against" })
      .track("stem", at(3500, 4500, -90), [straight(600)])
      .turnout("c", { on: "stem", hand: "wye", facing: "with" })
      .track("one", from("a"), [{ join: { to: { turnout: "c", route: "right" }, radius: 600 } }])
      .track("two", from("b"), [{ join: { to: { turnout: "c", route: "left" }, radius: 600 } }]);
    expect(triangle.layout.findings).toEqual([]);
    expect(triangle.reading("runs")?.places.map(({ note }) => note)).toEqual(["a train turns on this wye, reversing"]);
  });

  test("a turntable turns an engine", () => {
    const draft = plan().track("main", at(1000, 1000), [straight(2000)]);
    const turntables = { tt: { on: "main", end: "end" as const, bridge: 300, stalls: [0, 20] } };
    const made = { ...draft.plan, turntables };
    const places = takeReadings(made, deriveLayout(made)).find(({ id }) => id === "runs")?.places;
    expect(places?.map(({ thing, note }) => [thing, note])).toEqual([
      ["turntables.tt", "an engine turns on this turntable"],
    ]);
  });

  test("nothing is said of a plan without track", () => {
    expect(
      plan().readings.filter(({ id }) =>
        ["runs", "totals", "siding", "yard", "staging", "spur", "runaround"].includes(id),
      ),
    ).toEqual([]);
  });
});

test("the whole layout: what is stood on, what passes, and the rest add up to all the track there is", () => {
  const draft = yardPlan({ lead: 2000, tracks: [1200, 1500] });
  const { figures = {}, verdict, value } = draft.reading("totals") ?? {};
  expect(verdict).toBe("none");
  expect(value).toBeUndefined();
  const storage = [0, 1].reduce(
    (sum, i) => sum + lengthOf(draft, `turnout:t${i}`) + lengthOf(draft, `track:y${i}`) - fouled(draft, `t${i}`),
    0,
  );
  const all = [...draft.layout.lines.values()].reduce((sum, { path }) => sum + path.length, 0);
  expect(figures["storage"]?.value).toBe(Math.floor(storage / 150));
  expect(figures["connecting"]?.value).toBe(Math.floor((all - storage) / 150));
  expect(figures["cars to run with"]?.value).toBe(Math.floor((0.8 * storage) / 150));
});
