/** Decks over decks, track over track, decks over track. */
import { describe, expect, test } from "vitest";
import { at, box, type Draft, endOf, from, LOWER, left, plan, right, straight } from "./fixture.js";

describe("deck separation", () => {
  const decks = (height: number, wishes: Parameters<Draft["deck"]>[2] = {}) =>
    plan()
      .standards({ deckSeparation: 350, stagingSeparation: 200 })
      .bench("low", box(0, 0, 3000, 600))
      .deck("upper", height, wishes)
      .bench("high", box(1000, 0, 4000, 400), "upper");

  test.each([
    [1400, 400, "clear"],
    [1360, 360, "tight"],
    [1350, 350, "tight"],
    [1349, 349, "fails"],
  ] as const)("a deck at %d mm over one at 1000 mm: %d mm, %s", (height, value, verdict) => {
    const reading = decks(height).reading("deck-separation:lower/upper");
    expect(reading).toMatchObject({ value, verdict, limit: 350, bound: "least", unit: "mm" });
    // What is left under the upper deck's 80 mm of structure.
    expect(reading?.figures?.clear).toEqual({ value: value - 80, unit: "mm" });
    const [place] = reading?.places ?? [];
    expect(place).toMatchObject({ deck: "lower", thing: "decks.upper", value });
    expect(place?.point.x).toBeGreaterThanOrEqual(1000);
    expect(place?.point.x).toBeLessThanOrEqual(3000);
  });

  test("staging is held to the room a hand needs, where the plan sets one", () => {
    expect(decks(1250, { kind: "staging" }).reading("deck-separation:lower/upper")).toMatchObject({
      limit: 200,
      verdict: "clear",
    });
    const { stagingSeparation: _, ...rest } = plan().plan.standards;
    expect("stagingSeparation" in rest).toBe(false);
  });

  test("is not read between decks side by side, on one level, or without benches", () => {
    const aside = plan()
      .bench("low", box(0, 0, 3000, 600))
      .deck("upper", 1200)
      .bench("high", box(3000, 0, 5000, 600), "upper");
    for (const draft of [aside, decks(1000), plan().deck("upper", 1200)]) {
      expect(draft.readings.filter((r) => r.id === "deck-separation")).toEqual([]);
    }
  });

  test("is read to the next deck above that overlaps, not to those beyond it", () => {
    const three = decks(1400)
      .deck("top", 1800)
      .bench("roof", box(0, 0, 4000, 600), "top");
    expect(three.readings.filter((r) => r.id === "deck-separation").map((r) => r.scope)).toEqual([
      "lower/upper",
      "upper/top",
    ]);
  });
});

describe("over track: track", () => {
  /** A track along x at 1000 mm and one across it at `height`; 30 mm of roadbed structure carry that. */
  const across = (height: number) =>
    plan()
      .standards({ overTrack: 80, trackStructure: 30 })
      .track("under", at(1000, 2000), [straight(2000)])
      .track("over", at(2000, 1000, 90), [straight(2000)])
      .pin("p", "over", 0, height)
      .pin("q", "over", 2000, height);

  test.each([
    [1120, 90, "clear"],
    [1113, 83, "tight"],
    [1110, 80, "tight"],
    [1100, 70, "fails"],
    [1040, 10, "fails"],
  ] as const)("a track at %d mm leaves %d mm: %s", (height, value, verdict) => {
    const reading = across(height).reading("over-track:track");
    expect(reading?.value).toBeCloseTo(value, 6);
    expect(reading).toMatchObject({ verdict, limit: 80, bound: "least", unit: "mm" });
    const [place] = reading?.places ?? [];
    expect(place).toMatchObject({ deck: "lower", thing: "tracks.under", note: "under over" });
    expect(Math.abs((place?.s ?? 0) - 1000)).toBeLessThan(60);
  });

  test("is not asked on one level, far apart, or of one track alone", () => {
    expect(across(1000).reading("over-track:track")).toBeUndefined();
    expect(
      plan()
        .track("a", at(1000, 2000), [straight(900)])
        .reading("over-track:track"),
    ).toBeUndefined();
    const aside = plan()
      .track("a", at(1000, 2000), [straight(900)])
      .track("b", at(1000, 2100), [straight(900)])
      .pin("p", "b", 0, 1050);
    expect(aside.reading("over-track:track")).toBeUndefined();
  });

  test("takes off the deck's thickness where the upper track lies on a deck, its own or another", () => {
    const onDeck = (deck: string) =>
      plan()
        .deck("upper", 1200)
        .bench("high", box(1900, 0, 2100, 3000), "upper")
        .track("under", at(1000, 2000), [straight(2000)])
        .track("over", at(2000, 1000, 90), [straight(2000)], { deck })
        .pin("p", "over", 0, "upper");
    expect(onDeck("upper").reading("over-track:track")?.value).toBeCloseTo(120, 6);
    expect(onDeck("lower").reading("over-track:track")?.value).toBeCloseTo(120, 6);
  });

  test("the longest car's height is the limit where it asks for more", () => {
    const reading = across(1100).standards({ overTrack: 50 }).reading("over-track:track");
    expect(reading).toMatchObject({ limit: 60, verdict: "clear" });
    expect(reading?.source).toMatch(/^height of the longest car/);
  });

  test("a helix leaves its rise per turn less its structure, and its laps are no spacing failure", () => {
    const perTurn = 116;
    const length = 3 * 2 * Math.PI * 600;
    const helix = plan()
      .track("helix", at(3000, 2000), [left(600, 1080)])
      .pin("p", "helix", 0, LOWER)
      .pin("q", "helix", length, LOWER + 3 * perTurn);
    const reading = helix.reading("over-track:track");
    expect(reading?.value).toBeCloseTo(perTurn - 30, 1);
    expect(reading).toMatchObject({ verdict: "clear" });
    expect(reading?.places[0]).toMatchObject({ thing: "tracks.helix", note: "under helix" });
    expect(helix.readings.filter((r) => r.id === "track-spacing")).toEqual([]);
    expect(helix.pin("q", "helix", length, LOWER + 3 * 100).reading("over-track:track")?.verdict).toBe("fails");
  });
});

describe("over track: deck", () => {
  const under = (height: number) =>
    plan()
      .standards({ overTrack: 80 })
      .track("main", at(1000, 1000), [straight(3000)])
      .deck("upper", height)
      .bench("high", box(2000, 500, 3000, 1500), "upper");

  test.each([
    [1200, 120, "clear"],
    [1163, 83, "tight"],
    [1150, 70, "fails"],
    [1100, 20, "fails"],
  ] as const)("a deck of 80 mm at %d mm leaves %d mm: %s", (height, value, verdict) => {
    const reading = under(height).reading("over-track:deck");
    expect(reading?.value).toBeCloseTo(value, 9);
    expect(reading).toMatchObject({ verdict, limit: 80 });
    expect(reading?.places[0]).toMatchObject({ deck: "lower", thing: "tracks.main", note: "under upper" });
    expect(reading?.places[0]?.s).toBeGreaterThanOrEqual(1000);
    expect(reading?.places[0]?.s).toBeLessThanOrEqual(2000);
  });

  test("is not read where no bench is overhead", () => {
    const aside = plan()
      .track("main", at(1000, 1000), [straight(3000)])
      .deck("upper", 1150)
      .bench("high", box(1000, 1100, 4000, 1500), "upper");
    expect(aside.reading("over-track:deck")).toBeUndefined();
  });

  /** Down from the upper deck at 4 % and then level, all of it under the upper deck's bench. */
  const cellar = (bottom: number) => {
    const run = (1200 - bottom) / 0.04;
    return plan()
      .standards({ overTrack: 80 })
      .deck("upper", 1200)
      .bench("high", box(0, 0, 8000, 3000), "upper")
      .track("ramp", at(500, 1000), [straight(500), straight(run)], { deck: "upper" })
      .pin("p", "ramp", 500, "upper")
      .pin("q", "ramp", 500 + run, bottom);
  };

  test("is open above a track that comes out at the deck, until the clearance is reached", () => {
    const reading = cellar(1000).reading("over-track:deck");
    // 80 mm and the margin of 5 %: from 84 mm of clear height on it is measured.
    expect(reading?.verdict).toBe("clear");
    expect(reading?.value).toBeGreaterThanOrEqual(84);
    expect(reading?.value).toBeLessThan(84 + 25 * 0.04);
  });

  test("a cut goes on across joints and through turnouts, as far as the track stays short of the clearance", () => {
    const low = cellar(1100);
    expect(low.reading("over-track:deck")).toBeUndefined();
    const on = low.track("on", endOf("ramp"), [straight(1000)], { deck: "upper" }).pin("r", "on", 1000, 1100);
    expect(on.reading("over-track:deck")).toBeUndefined();
    const branch = on
      .turnout("t", { on: "on", at: 300, hand: "left" })
      .track("spur", from("t"), [straight(300)], { deck: "upper" });
    expect(branch.reading("over-track:deck")).toBeUndefined();
    // A track of its own at that height, in no cut.
    const shut = branch.track("shut", at(1000, 2000), [straight(900)], { deck: "upper" }).pin("s", "shut", 0, 1100);
    expect(shut.reading("over-track:deck")).toMatchObject({ verdict: "fails" });
    expect(shut.reading("over-track:deck")?.places.map((p) => p.thing)).toEqual(["tracks.shut"]);
  });

  test("a rise under the deck that does not come out is measured", () => {
    const hump = plan()
      .deck("upper", 1200)
      .bench("high", box(0, 0, 8000, 3000), "upper")
      .track("hump", at(500, 1000), [straight(2000), right(900, 10), straight(2000)])
      .pin("p", "hump", 0, LOWER)
      .pin("q", "hump", 2000, LOWER + 60);
    expect(hump.reading("over-track:deck")?.value).toBeCloseTo(60, 6);
    expect(hump.reading("over-track:deck")?.verdict).toBe("fails");
  });
});
