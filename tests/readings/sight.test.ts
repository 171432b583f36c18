/** Sight: the formula by hand, views of fasciae, and what operators see of decks under decks. */
import { describe, expect, test } from "vitest";
import { highestSeen, hiddenFrom } from "../../src/layout/sight.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { deckBenches } from "../../src/readings/deck-benches.js";
import { viewsOf } from "../../src/readings/sight.js";
import { at, box, type Draft, LOWER, plan, straight } from "./fixture.js";

describe("the line of sight past a deck", () => {
  // u - (E - u) D / d, worked out by hand.
  test.each([
    // u 1300, E 1700, d 800, D 400: 1300 - 400 / 2.
    [{ before: 800, height: 1700 }, { from: 0, to: 600, underside: 1300 }, 400, 1100],
    // The upper deck set back by 200: d 1000, D 200: 1300 - 400 / 5.
    [{ before: 800, height: 1700 }, { from: 200, to: 600, underside: 1300 }, 400, 1220],
    // It overhangs by 300: d 500, D 700: 1300 - 400 x 1.4.
    [{ before: 800, height: 1700 }, { from: -300, to: 600, underside: 1300 }, 400, 740],
    // Level with its underside, and below it: nothing under it is hidden.
    [{ before: 800, height: 1300 }, { from: 0, to: 600, underside: 1300 }, 400, 1300],
    [{ before: 800, height: 1100 }, { from: 0, to: 600, underside: 1300 }, 400, 1300],
    // Below it, and it ends 100 short of the backdrop: 1300 + 200 x 100 / 1100.
    [{ before: 800, height: 1100 }, { from: 0, to: 300, underside: 1300 }, 400, 1300 + 200 / 11],
    // In front of the upper deck nothing is hidden.
    [{ before: 800, height: 1700 }, { from: 500, to: 600, underside: 1300 }, 400, Number.POSITIVE_INFINITY],
  ])("from %j under %j, %d in", (eye, over, inside, expected) => {
    expect(highestSeen(eye, [over], inside)).toBeCloseTo(expected, 9);
  });

  test("of several decks the one that hides most counts", () => {
    const over = [
      { from: 0, to: 600, underside: 1300 },
      { from: 200, to: 600, underside: 1100 },
    ];
    // The second: 1100 - 600 x 200 / 1000.
    expect(highestSeen({ before: 800, height: 1700 }, over, 400)).toBeCloseTo(980, 9);
  });

  test("a railhead is hidden from where the line of sight meets it", () => {
    const [eye, over] = [{ before: 800, height: 1700 }, [{ from: 100, to: 600, underside: 1300 }]] as const;
    // It falls 400 in 900: 300 down to the railhead in 675, counted from the upper fascia.
    expect(hiddenFrom(eye, over, 1000)).toBeCloseTo(775, 9);
    expect(highestSeen(eye, over, 775)).toBeCloseTo(1000, 9);
    expect(hiddenFrom({ ...eye, height: 1200 }, over, 1000)).toBe(Number.POSITIVE_INFINITY);
  });
});

/** One pair of eyes, and a lower deck 600 deep along the south wall of the room with 5400 of floor before it. */
const shelf = (eye: number): Draft =>
  plan()
    .standards({ operators: [{ name: "Driver", eye }] })
    .bench("low", box(0, 0, 8000, 600));

describe("views", () => {
  test("stand along the open side of a shelf, 30 in before it", () => {
    const { layout } = shelf(1700);
    const benches = deckBenches(layout);
    const [own] = benches;
    if (!own) throw new Error("no deck");
    const views = viewsOf(layout, own, benches);
    // 8000 in steps of 250; along the walls and from beyond the shelf nobody looks.
    expect(views).toHaveLength(32);
    for (const { point, lines } of views) {
      expect(point.y).toBe(600);
      expect(lines[0].before).toBe(762);
      expect(lines[0].depth).toBe(600);
    }
    const again = deriveLayout(shelf(1700).track("t", at(500, 300), [straight(900)]).plan);
    const later = deriveLayout({ ...layout.plan, tracks: again.plan.tracks }, layout);
    const [same] = deckBenches(later);
    expect(same && viewsOf(later, same, deckBenches(later))).toBe(views);
  });

  test("end at a backdrop, in the middle of what is open behind, and in the middle of a narrow aisle", () => {
    const one = (draft: Draft) => {
      const { layout } = draft;
      const benches = deckBenches(layout);
      return benches[0] ? viewsOf(layout, benches[0], benches) : [];
    };
    const behind = one(
      shelf(1700).backdrop("sky", [
        { x: 0, y: 200 },
        { x: 8000, y: 200 },
      ]),
    );
    expect(behind.map(({ lines: [line] }) => line.depth)).toEqual(Array.from({ length: 32 }, () => 400));
    const island = one(plan().bench("island", box(2000, 2000, 6000, 2800)));
    expect(new Set(island.map(({ lines: [line] }) => line.depth))).toEqual(new Set([400]));
    const narrow = one(shelf(1700).bench("north", box(0, 1600, 8000, 6000)));
    // Square to both fasciae, half of 1000 of floor.
    expect(new Set(narrow.filter(({ point }) => point.y === 600).map(({ lines: [line] }) => line.before))).toEqual(
      new Set([500]),
    );
  });
});

describe("sight", () => {
  /** An upper deck whose underside is at 1300, over the lower from one depth to another. */
  const under = (eye: number, from = 0, to = 600): Draft =>
    shelf(eye)
      .deck("upper", 1400, { thickness: 100 })
      .bench("high", box(0, from, 8000, to), "upper")
      .track("back", at(100, 60), [straight(7800)])
      .track("front", at(100, 540), [straight(7800)]);
  const lower = (draft: Draft) => draft.reading("sight:lower/Driver");

  test("is clear where the cars are seen at the back", () => {
    // Square: 1300 - (1450 - 1300) 600 / 762; the eye askance stands as much nearer to the back as to the fascia.
    const reading = lower(under(1450));
    expect(reading).toMatchObject({ verdict: "clear", limit: 60 });
    expect(reading?.value).toBeCloseTo(300 - (150 * 600) / 762, 1);
  });

  test("is tight where they are hidden there", () => {
    // 1300 - 400 x 600 / 762 is below the railhead at 1000, which is hidden from 571.5 in; the front track is 60 in.
    const reading = lower(under(1700));
    expect(reading?.verdict).toBe("tight");
    expect(reading?.value).toBeCloseTo(300 - (400 * 600) / 762, 1);
    expect(reading?.places[0]).toMatchObject({ deck: "lower", thing: "decks.lower", note: "upper hides the back" });
    expect(reading?.places[0]?.point.y).toBe(600);
  });

  test("fails where the nearest track is hidden, there only", () => {
    // An overhang of 400 in the western half: the eye at 762 before the upper fascia sees the railhead to 571.5 behind it.
    const bare = shelf(1700)
      .deck("upper", 1400, { thickness: 100 })
      .track("front", at(100, 300), [straight(7800)]);
    const reading = lower(
      bare.bench("high", box(0, 0, 4000, 1000), "upper").bench("rest", box(4000, 0, 8000, 450), "upper"),
    );
    expect(reading?.verdict).toBe("fails");
    const hidden = reading?.places.filter(({ note }) => note === "upper hides the track nearest to the fascia") ?? [];
    expect(hidden.length).toBeGreaterThan(5);
    for (const { point } of hidden) expect(point.x).toBeLessThan(4000);
    expect(reading?.places[0]).toBe(hidden[0]);
    // Hidden track is not looked for, nor track that is not there.
    const wide = box(0, 0, 4000, 1000);
    const marked = bare.track("front", at(100, 300), [straight(7800)], { hidden: true }).bench("high", wide, "upper");
    expect(lower(marked)?.verdict).toBe("tight");
  });

  test("a deck above the eye cannot be looked into; at the eye it can", () => {
    const reading = under(1219).reading("sight:upper/Driver");
    expect(reading).toMatchObject({ value: 1219 - 1400, limit: 0, verdict: "tight" });
    expect(reading?.places[0]?.note).toBe("the railhead is above eye level of Driver");
    expect(under(1400).reading("sight:upper/Driver")).toMatchObject({ value: 0, verdict: "clear" });
    expect(lower(shelf(LOWER - 1))?.verdict).toBe("tight");
  });

  test("nothing is said of staging, of decks without benches, or without operators", () => {
    const scopes = (draft: Draft) => draft.readings.filter(({ id }) => id === "sight").map(({ scope }) => scope);
    expect(scopes(plan())).toEqual([]);
    const staging = shelf(1700)
      .deck("yard", 700, { kind: "staging" })
      .bench("yard", box(0, 0, 8000, 500), "yard");
    expect(scopes(staging)).toEqual(["lower/Driver"]);
    expect(scopes(shelf(1700).standards({ operators: [] }))).toEqual([]);
    const twins = shelf(1700).standards({
      operators: [
        { name: "A", eye: 1500 },
        { name: "A", eye: 1600 },
      ],
    });
    expect(scopes(twins)).toEqual(["lower/A", "lower/A 2"]);
  });
});
