/** Gates: dead track before the joints, how tracks cross them, what a swing gate meets; clear, tight and failing. */
import { describe, expect, test } from "vitest";
import { limitOfReading } from "../../src/editor/panels/limits.js";
import type { Gate } from "../../src/plan/schema.js";
import { at, box, type Draft, endOf, left, plan, straight } from "./fixture.js";

/** Shelves on both sides of an aisle 800 wide, from x 3000 to 3800, with a gate across it 300 deep. */
const across = (wishes: Partial<Gate> = {}): Draft =>
  plan()
    .standards({ train: 1500, gateDead: 400 })
    .bench("west", box(0, 1000, 3000, 1300))
    .bench("east", box(3800, 1000, 8000, 1300))
    .gate("flap", box(3000, 1000, 3800, 1300), "lower", { name: "Flap", ...wishes });

describe("gate", () => {
  const straightOver = (heading = 0): Draft =>
    across().track(
      "main",
      at(3400 - 2500 * Math.cos(heading), 1150 - 2500 * Math.sin(heading), (heading * 180) / Math.PI),
      [straight(5000)],
    );

  test("square, straight and with a train's length on both sides it is clear", () => {
    const draft = straightOver();
    const found = draft.reading("gate:flap");
    expect(found).toMatchObject({ verdict: "clear", value: 1500, limit: 400, bound: "least" });
    expect(found?.label).toBe("Dead track before Flap");
    // The deck is at 1000 mm and 80 thick: 920 mm clear, less than 40 in.
    expect(found?.places).toEqual([
      { deck: "lower", point: { x: 3400, y: 1150 }, thing: "gates.flap", note: "when it is closed, crawl" },
    ]);
    expect(found?.figures).toMatchObject({
      tracks: { value: 1, unit: "count" },
      decks: { value: 1, unit: "count" },
      railhead: { value: 1000, unit: "mm" },
      "clear below": { value: 920, unit: "mm" },
    });
    expect(found && limitOfReading(draft.plan, found)).toBe("gateDead");
  });

  /** Joint ends 33 mm before the points, which the train meets last or first. */
  test.each([
    [4700, "with", 4700 - 33 - 3800, "tight", "nearer than a train pushed back is long"],
    [4000, "with", 4000 - 33 - 3800, "tight", "nearer than stops an engine"],
    [2500, "against", 3000 - 33 - 2500, "tight", "nearer than a train pushed back is long"],
  ] as const)("a turnout at x %d, %s, leaves %d mm: %s", (x, facing, dead, verdict, note) => {
    const draft = straightOver().turnout("t", { on: "main", at: x - 900, hand: "left", facing });
    const found = draft.reading("gate:flap");
    expect(found?.verdict).toBe(verdict);
    expect(found?.value).toBeCloseTo(dead, 4);
    const [place] = found?.places ?? [];
    expect(place?.thing).toBe("tracks.main");
    expect(place?.point.x).toBeCloseTo(x > 3400 ? 3800 : 3000, 4);
    expect(place?.note).toBe(`t is ${note}`);
  });

  test("dead track is followed over joints", () => {
    const draft = across()
      .track("main", at(2000, 1150), [straight(2000)])
      .track("on", endOf("main"), [straight(3000)])
      .turnout("t", { on: "on", at: 333, hand: "left" });
    expect(draft.reading("gate:flap")?.value).toBeCloseTo(500, 4);
  });

  test("a turnout on it or across its joint fails", () => {
    for (const x of [3400, 3700, 2900]) {
      const draft = straightOver().turnout("t", { on: "main", at: x - 900, hand: "left" });
      const found = draft.reading("gate:flap");
      expect([x, found?.verdict]).toEqual([x, "fails"]);
      expect(found?.places[0]).toMatchObject({ thing: "turnouts.t", note: "on the gate or across its joint" });
    }
  });

  test.each([
    [4, "clear"],
    [6, "tight"],
  ] as const)("%d degrees out of square is %s", (degrees, verdict) => {
    const found = straightOver((degrees * Math.PI) / 180).reading("gate:flap");
    expect(found?.verdict).toBe(verdict);
    expect(found?.figures?.["out of square"]?.value).toBeCloseTo(degrees, 6);
    if (verdict === "tight") expect(found?.places[0]?.note).toBe("out of square at the joint");
  });

  test("a curve at the joint is tight", () => {
    const found = across()
      .track("main", at(1500, 1150), [straight(2290), left(3000, 20)])
      .reading("gate:flap");
    expect(found?.verdict).toBe("tight");
    expect(found?.places[0]?.note).toBe("curved at the joint");
    expect(found?.places[0]?.point.x).toBeCloseTo(3800, 4);
  });

  test("tracks may end at its joints", () => {
    const draft = across()
      .track("one", at(1000, 1150), [straight(2000)])
      .track("over", endOf("one"), [straight(800)])
      .track("two", endOf("over"), [straight(2000)])
      .turnout("t", { on: "one", at: 1400, hand: "left", facing: "against" });
    const found = draft.reading("gate:flap");
    expect(found?.value).toBeCloseTo(2000 - 1433, 4);
    expect(found?.figures?.["tracks"]?.value).toBe(1);
  });

  test("carries what lies on it, a deck above what is above, nothing what is below", () => {
    const draft = straightOver()
      .deck("upper", 1400)
      .bench("over", box(0, 900, 8000, 1400), "upper")
      .deck("under", 700)
      .track("high", at(500, 1100), [straight(6000)], { deck: "upper" })
      .track("low", at(500, 1200), [straight(6000)], { deck: "under" })
      .gate("low-flap", box(3000, 1000, 3800, 1300), "under");
    expect(draft.reading("gate:flap")?.figures).toMatchObject({ tracks: { value: 1 }, decks: { value: 1 } });
    expect(draft.reading("gate:low-flap")?.figures?.["tracks"]?.value).toBe(1);
    expect(draft.reading("gate:low-flap")?.places.at(-1)).toMatchObject({ deck: "under", thing: "gates.low-flap" });
    // Without a bench of its own deck, track higher up stands on the gate.
    const open = straightOver()
      .deck("upper", 1400)
      .track("high", at(500, 1100), [straight(6000)], { deck: "upper" });
    expect(open.reading("gate:flap")?.figures).toMatchObject({ tracks: { value: 2 }, decks: { value: 2 } });
  });

  test("without a track over it there is nothing to hold it to; without gates no reading", () => {
    expect(across().reading("gate:flap")).toMatchObject({ verdict: "none", value: undefined });
    expect(plan().readings.filter(({ id }) => id === "gate")).toEqual([]);
  });
});

describe("a swing gate", () => {
  // Hung at (3000, 1000), its far corner lies 854.4 from there: 54.4 more than the aisle is wide.
  const swinging = (change: (draft: Draft) => Draft = (draft) => draft, wishes: Partial<Gate> = {}): Draft =>
    change(across({ kind: "swing", hinge: 0, ...wishes })).track("main", at(900, 1150), [straight(5000)]);

  test("that only its own free end holds up wants a bevel", () => {
    const found = swinging().reading("gate:flap");
    expect(found?.verdict).toBe("tight");
    expect(found?.figures?.["swings open"]?.value).toBe(90);
    expect(found?.places[0]?.value).toBeCloseTo(Math.hypot(800, 300) - 800, 6);
  });

  test("is clear where the far side stands back, and fails where a bench or a post is in its way", () => {
    const back = swinging((draft) => draft.bench("east", box(3860, 1000, 8000, 1300)));
    expect(back.reading("gate:flap")?.verdict).toBe("clear");
    const bench = swinging((draft) => draft.bench("arm", box(3000, 300, 3500, 600)));
    expect(bench.reading("gate:flap")).toMatchObject({ verdict: "fails" });
    expect(bench.reading("gate:flap")?.places[0]).toMatchObject({ thing: "gates.flap", deck: "lower" });
    const post = box(3300, 500, 3360, 560);
    const standing = (heights: { from?: number; to?: number }): string | undefined =>
      swinging((draft) => draft.bench("east", box(3860, 1000, 8000, 1300)).obstacle("post", post, heights)).reading(
        "gate:flap",
      )?.verdict;
    expect(standing({})).toBe("fails");
    expect(standing({ to: 900 })).toBe("clear");
    expect(standing({ from: 1200 })).toBe("clear");
  });

  test("opens to the side its hinge lies on", () => {
    const above = swinging((draft) => draft.bench("arm", box(3000, 300, 3500, 600)), { hinge: 3 });
    expect(above.reading("gate:flap")?.figures?.["swings open"]?.value).toBe(90);
  });

  test("does not swing through a wall", () => {
    const found = plan()
      .standards({ train: 1500, gateDead: 400 })
      .bench("west", box(0, 100, 3000, 400))
      .bench("east", box(3900, 100, 8000, 400))
      .gate("flap", box(3000, 100, 3800, 400), "lower", { kind: "swing", hinge: 0 })
      .track("main", at(900, 250), [straight(5000)])
      .reading("gate:flap");
    expect(found?.verdict).toBe("fails");
    expect(found?.figures?.["swings open"]?.value).toBeLessThan(20);
  });
});
