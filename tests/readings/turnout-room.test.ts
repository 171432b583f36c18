/** Room of turnouts: between them, clear of easements and vertical curves, and straight between their lead curves. */
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import { makeCrossover } from "../../src/layout/trackwork-makers/crossover.js";
import { makeLadder } from "../../src/layout/trackwork-makers/ladder.js";
import type { Plan } from "../../src/plan/schema.js";
import { takeReadings } from "../../src/readings/take.js";
import { at, type Draft, endOf, from, left, plan, straight } from "./fixture.js";

/** HO number 6: joint 33 before the points; heel 152.17 + 36.63 beyond them; 221.8 in all. */
const JOINT = 33;
const HEEL = (83 * 16.5) / 9 + 0.37 * 6 * 16.5;

const roomOf = (of: Plan) => takeReadings(of, deriveLayout(of)).filter(({ id }) => id === "turnout-room");
const line = (length = 3000): Draft => plan().track("main", at(500, 1000), [straight(length)]);

describe("room between turnouts", () => {
  const following = (gap: number): Draft =>
    line()
      .turnout("a", { on: "main", at: 500, hand: "left" })
      .turnout("b", { on: "main", at: 500 + HEEL + gap + JOINT, hand: "left" });

  test.each([
    [120, "clear"],
    [0, "clear"],
    [-0.3, "clear"],
    [-20, "fails"],
    [-150, "fails"],
  ] as const)("%d mm from heel to joint is %s", (gap, verdict) => {
    const found = following(gap).reading("turnout-room");
    expect(found).toMatchObject({ verdict, limit: 0, bound: "least", unit: "mm" });
    expect(found?.value).toBeCloseTo(Math.abs(gap) < 0.5 ? 0 : gap, 6);
    if (verdict === "fails") {
      expect(found?.places).toHaveLength(1);
      expect(found?.places[0]).toMatchObject({ thing: "turnouts.b", note: "lies on a" });
      expect(found?.places[0]?.point.x).toBeCloseTo(500 + 500 + HEEL + gap + JOINT, 6);
    }
  });

  test.each([
    // Heel to heel, joint to joint.
    [{ facing: "against" }, 2 * HEEL, 40],
    [{}, HEEL + JOINT, 40],
  ] as const)("measured the way they lie: %o", (wishes, taken, gap) => {
    const draft = line()
      .turnout("a", { on: "main", at: 500, hand: "left" })
      .turnout("b", { on: "main", at: 500 + taken + gap, hand: "right", ...wishes });
    expect(draft.reading("turnout-room")?.value).toBeCloseTo(gap, 6);
  });

  test("goes on over joints and from diverging routes", () => {
    const draft = line(1000)
      .turnout("a", { on: "main", at: 500, hand: "left" })
      .track("branch", from("a"), [straight(70)])
      .track("on", endOf("branch"), [straight(900)], { class: "branch" })
      .turnout("b", { on: "on", at: JOINT + 60, hand: "left" });
    const found = draft.reading("turnout-room");
    expect(found?.value).toBeCloseTo(130, 6);
    expect(found?.verdict).toBe("clear");
  });

  test("a three-way turnout is meant, lapped as far as its switch is long; two of one hand are not", () => {
    const at2 = (lap: number, wishes: Parameters<Draft["turnout"]>[1]): Draft =>
      line()
        .turnout("a", { on: "main", at: 800, hand: "left" })
        .turnout("b", { ...wishes, at: 800 + lap });
    // The switch of a number 6 is 28 / 9 gauges long, 51.3 mm.
    for (const lap of [0, 20, 51]) {
      const found = at2(lap, { on: "main", hand: "right" }).reading("turnout-room");
      expect([lap, found?.verdict]).toEqual([lap, undefined]);
    }
    expect(at2(52, { on: "main", hand: "right" }).reading("turnout-room")?.verdict).toBe("fails");
    expect(at2(0, { on: "main", hand: "left" }).reading("turnout-room")?.verdict).toBe("fails");
    expect(at2(0, { on: "main", hand: "right", facing: "against" }).reading("turnout-room")?.verdict).toBe("fails");
  });

  test("of one turnout there is none", () => {
    expect(line().turnout("a", { on: "main", at: 500, hand: "left" }).reading("turnout-room")).toBeUndefined();
  });
});

describe("points clear of easements", () => {
  // The easement runs from 1000 to 1300.
  const eased = (along: number): Draft =>
    plan()
      .track("main", at(500, 1000), [straight(1000), left(900, 60, 300), straight(500)])
      .turnout("t", { on: "main", at: along, hand: "right" });

  test.each([
    [900, 100, "clear"],
    [1010, -10, "tight"],
    [1150, -150, "tight"],
  ] as const)("with points at %d they lie %d mm from it: %s", (along, clear, verdict) => {
    const found = eased(along).reading("turnout-room:easement");
    expect(found?.verdict).toBe(verdict);
    expect(found?.value).toBeCloseTo(clear, 6);
    expect(found?.places[0]).toMatchObject({ thing: "turnouts.t", s: along });
  });
});

describe("turnouts clear of vertical curves", () => {
  // 2 % from 1500 on: a curve of 2 x 150 mm, from 1350 to 1650.
  const climbing = (along: number): Draft =>
    plan()
      .standards({ verticalCurve: 150 })
      .track("main", at(500, 1000), [straight(5000)])
      .turnout("t", { on: "main", at: along, hand: "right" })
      .pin("foot", "main", 1500, "lower")
      .pin("flat", "main", 0, "lower")
      .pin("top", "main", 5000, 1070);

  test.each([
    [1000, "clear"],
    [1350 - HEEL - 1, "clear"],
    [1350 - HEEL + 40, "fails"],
    [1700, "clear"],
    [1660, "fails"],
  ] as const)("with points at %d: %s", (along, verdict) => {
    const found = climbing(along).reading("turnout-room:vertical");
    expect(found).toMatchObject({ verdict, limit: 0 });
    expect(found?.places[0]?.thing).toBe("turnouts.t");
  });
});

describe("straight between lead curves", () => {
  const limits = { radius: 762, reverseStraight: 300 };

  test("through crossovers and ladders as made it is clear", () => {
    const parallel = plan()
      .limits(limits)
      .track("a", at(500, 1000), [straight(4000)])
      .track("b", at(500, 1050.8), [straight(4000)]);
    for (const kind of ["single", "double"] as const) {
      const edit = makeCrossover(parallel.layout, { kind, track: "a", at: 1500, onto: "b", number: 6, hand: "left" });
      if (!edit.ok) throw new Error(edit.message);
      const found = roomOf(edit.plan);
      expect(found.map(({ scope, verdict }) => [scope, verdict])).toEqual([
        [undefined, "clear"],
        ["reverse", "clear"],
      ]);
    }
    const lead = plan()
      .limits(limits)
      .track("lead", at(500, 1000), [straight(1200)], { class: "lead" });
    for (const kind of ["straight", "compound", "curved-lead"] as const) {
      const edit = makeLadder(lead.layout, {
        kind,
        from: { track: "lead", end: "end" },
        tracks: 4,
        spacing: 50.8,
        number: 6,
        hand: "left",
        length: 900,
        class: "yard",
        deck: "lower",
      });
      if (!edit.ok) throw new Error(edit.message);
      const found = roomOf(edit.plan);
      expect(found.length).toBeGreaterThan(0);
      expect([kind, found.filter(({ verdict }) => verdict !== "clear")]).toEqual([kind, []]);
    }
  });

  /** Two left hands whose points face one another: out of the one and into the other is a reverse curve. */
  const facing = (gap: number, hand: "left" | "right" = "left"): Draft =>
    line()
      .limits(limits)
      .turnout("a", { on: "main", at: 800, hand: "left", facing: "against" })
      .turnout("b", { on: "main", at: 800 + 2 * JOINT + gap, hand });

  test.each([
    [320, "clear"],
    [200, "tight"],
    [0, "tight"],
  ] as const)("%d mm between points that face one another: %s", (gap, verdict) => {
    const found = facing(gap).reading("turnout-room:reverse");
    // The lead curve departs 28.4 mm before the points: 4.6 mm beyond each joint.
    const departs = (83 * 16.5) / 9 - 99 - (99 - (9.5 * 16.5) / 9);
    if (gap < 300) {
      expect(found?.value).toBeCloseTo(gap + 2 * (JOINT + departs), 6);
      expect(found).toMatchObject({ verdict, limit: 300 });
      expect(found?.places[0]?.thing).toMatch(/^turnouts\.[ab]$/);
    } else expect(found).toBeUndefined();
  });

  test("the same way round, or with a curve the least radius allows, none is needed", () => {
    expect(facing(0, "right").reading("turnout-room:reverse")).toBeUndefined();
    expect(facing(0).limits({ radius: 480 }).reading("turnout-room:reverse")).toBeUndefined();
  });

  test("a part with less straight than a standard turnout is told where a ladder leads through it", () => {
    // Its curve is 900 x 9.5 degrees, 149.2 mm: nothing is left behind it, and 20 mm lie before the points.
    const part = { name: "Short", length: 200, points: 20, angle: 9.5, radius: 900, diverging: 169.23 };
    const { plan: base } = plan()
      .limits(limits)
      .track("main", at(500, 1000), [straight(3000)])
      .track("branch", from("t"), [straight(900)]);
    const parted = { facing: "with", template: "part" } as const;
    const found = roomOf({
      ...base,
      templates: { part },
      turnouts: {
        t: { on: "main", at: 800, hand: "left", ...parted },
        u: { on: "branch", at: 20, hand: "right", ...parted },
      },
    }).find(({ scope }) => scope === "reverse");
    expect(found?.verdict).toBe("tight");
    expect(found?.value).toBeCloseTo(169.23 - 900 * ((9.5 * Math.PI) / 180), 6);
    expect(found?.places[0]?.thing).toMatch(/^turnouts\.[tu]$/);
  });
});
