/** Aisles on hand-drawn rooms of 8 m by 6 m, whose figures can be read off the outlines. */
import { describe, expect, test } from "vitest";
import type { Reading } from "../../src/readings/reading.js";
import { aislesOf, floorOf } from "../../src/readings/walkable.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { at, box, type Draft, plan, straight } from "./fixture.js";

const LIMITS = { aisle: 600, aisleWork: 750, aislePass: 900, aisleBackToBack: 1050, reachUnder: 100 };

/** A door at the left of the bottom wall, 800 wide, and a shelf along the top so that there is something to work at. */
const room = (): Draft =>
  plan()
    .standards(LIMITS)
    .opening("door", {
      kind: "door",
      wall: 0,
      at: 200,
      width: 800,
      head: 2000,
      swing: { hinge: "near", into: "outside" },
    })
    .bench("top", box(0, 5400, 8000, 6000));

/** A wall-high cupboard across the room from the right, which leaves a neck of some width at the left. */
const neck = (width: number): Draft => room().obstacle("cupboard", box(width, 2500, 8000, 3500));

/** Two shelves that stand out from the right wall, with an aisle of some width between them. */
const between = (width: number): Draft =>
  room()
    .bench("upper-arm", box(3000, 3000 + width, 8000, 5400))
    .bench("lower-arm", box(3000, 1500, 8000, 3000));

const at0 = (reading: Reading | undefined) => {
  const [place] = reading?.places ?? [];
  return place && [Math.round(place.point.x), Math.round(place.point.y), place.note];
};

describe("the narrowest way", () => {
  test.each([
    [900, "clear"],
    [620, "tight"],
    [580, "fails"],
    [101, "fails"],
  ] as const)("through a neck of %s is %s", (width, verdict) => {
    const reading = neck(width).reading("aisle");
    expect(reading).toMatchObject({ value: expect.closeTo(width, 2) as number, limit: 600, bound: "least", verdict });
    expect(reading?.places[0]).toMatchObject({
      thing: "room.obstacles.cupboard",
      note: "between cupboard and the wall",
    });
    expect(reading?.places[0]?.point.x).toBeCloseTo(width / 2, 1);
    expect(reading?.source).toMatch(/local codes/);
  });

  test("is the wider of two ways round", () => {
    const draft = room().obstacle("island", box(700, 2500, 7000, 3500));
    expect(draft.reading("aisle")?.value).toBeCloseTo(1000, 2);
    const round = draft.reading("aisle:work");
    expect(round).toMatchObject({ value: expect.closeTo(700, 2) as number, verdict: "tight" });
    expect(round?.places.map(({ note }) => note)).toContain("between island and the wall, a wider way leads round");
  });

  test("is that from the nearer of two doors", () => {
    const two = neck(500).opening("back", { kind: "passage", wall: 1, at: 4000, width: 900 });
    expect(two.reading("aisle")?.value).toBeGreaterThan(900);
    expect(neck(500).reading("aisle")?.verdict).toBe("fails");
  });

  test("of a pit with no narrow place is the room there is in it", () => {
    const pit = plan()
      .standards(LIMITS)
      .opening("door", { kind: "door", wall: 0, at: 3600, width: 650 })
      .bench("left", box(0, 0, 3600, 6000))
      .bench("right", box(4310, 0, 8000, 6000))
      .bench("end", box(3600, 4000, 4310, 6000));
    expect(pit.reading("aisle")).toMatchObject({ value: expect.closeTo(710, 0) as number, verdict: "clear" });
  });

  test("does not look at decks one walks under, at notches, nor at rooms without benches", () => {
    const high = { height: 2100, thickness: 100 };
    const draft = neck(900)
      .deck("high", high.height, high)
      .bench("over", box(0, 2000, 8000, 4000), "high");
    expect(draft.reading("aisle")?.value).toBeCloseTo(900, 2);
    const notch = neck(900)
      .bench("a", box(2000, 5000, 4000, 5400))
      .bench("b", box(4300, 5000, 6000, 5400));
    expect(notch.reading("aisle")?.value).toBeCloseTo(900, 2);
    expect(plan().opening("door", { kind: "door", wall: 0, at: 200, width: 800 }).reading("aisle")).toBeUndefined();
  });
});

describe("advice", () => {
  test.each([
    [1200, "clear"],
    [1000, "tight"],
    [560, "tight"],
  ] as const)("back to back in an aisle of %s is %s", (width, verdict) => {
    const reading = between(width).reading("aisle:back");
    expect(reading).toMatchObject({ value: expect.closeTo(width, 2) as number, limit: 1050, verdict });
    expect(at0(reading)?.slice(1)).toEqual([3000 + width / 2, "between lower-arm and upper-arm"]);
  });

  test("is not given for a gap in which nobody can turn round: what is only got at from there is out of reach", () => {
    const draft = between(500).track("deep", at(5000, 2900), [straight(2000)], { hidden: true });
    expect(draft.reading("aisle:back")).toBeUndefined();
    expect(draft.reading("aisle")?.verdict).toBe("clear");
    expect(draft.reading("reach:lower")?.verdict).toBe("fails");
  });

  test.each([
    [950, "clear"],
    [850, "tight"],
  ] as const)("where two pass through a neck of %s is %s", (width, verdict) => {
    expect(neck(width).reading("aisle:pass")).toMatchObject({ value: expect.closeTo(width, 2) as number, verdict });
  });

  test.each([
    [1000, "clear"],
    [720, "tight"],
  ] as const)("to work in %s on one of two ways is %s", (width, verdict) => {
    const draft = room().obstacle("island", box(width, 2500, 6500, 3500));
    expect(draft.reading("aisle:work")).toMatchObject({ value: expect.closeTo(width, 2) as number, verdict });
  });

  test.each([
    [1100, "clear"],
    [900, "tight"],
  ] as const)("at an entrance %s deep is %s", (depth, verdict) => {
    const draft = room().bench("before", box(500, depth, 2500, 2000));
    const reading = draft.reading("aisle:entrance");
    expect(reading).toMatchObject({ value: expect.closeTo(depth, 2) as number, verdict });
    expect(reading?.places[0]).toMatchObject({ thing: "room.openings.door", note: "before the door" });
  });
});

describe("places not reached upright", () => {
  const across = (draft: Draft): Draft => draft.bench("across", box(0, 2500, 8000, 3000));

  test.each([
    [1000, "crawl below across"],
    [1300, "duckunder below across"],
    [1700, "nod-under below across"],
  ])("under a deck at %s: %s", (height, note) => {
    const draft = across(room().deck("lower", height, { name: "Lower" }));
    expect(draft.reading("aisle:duck")).toMatchObject({
      value: height - 80,
      verdict: "tight",
      places: [{ thing: "benches.across", note }],
    });
    expect(draft.reading("aisle")?.value).toBeGreaterThan(1000);
  });

  test("through a gate are told, and are not held against the plan", () => {
    const draft = room()
      .bench("west", box(0, 2500, 3000, 3000))
      .bench("east", box(3800, 2500, 8000, 3000))
      .gate("gate", box(3000, 2500, 3800, 3000));
    const reading = draft.reading("aisle:duck");
    expect(reading).toMatchObject({
      verdict: "none",
      places: [{ thing: "gates.gate", note: "through gate, crawl when it is closed" }],
    });
    expect(draft.reading("aisle")?.value).toBeCloseTo(800, 2);
  });

  test("behind a cupboard from wall to wall have no way in", () => {
    const draft = room().obstacle("wall", box(0, 2500, 8000, 3000));
    const low = draft.bench("low", box(4000, 0, 8000, 600));
    expect(low.reading("aisle:duck")?.places).toMatchObject([{ note: "no way in" }]);
  });

  test("are none where everything is walked to", () => {
    expect(room().reading("aisle:duck")).toBeUndefined();
  });
});

test("an edit of track leaves the floor and its aisles as they were", () => {
  const before = neck(900).track("main", at(500, 5700), [straight(3000)]);
  const first = before.layout;
  const second = deriveLayout(before.track("main", at(500, 5700), [straight(3500)]).plan, first);
  expect(floorOf(second)).toBe(floorOf(first));
  expect(aislesOf(floorOf(second))).toBe(aislesOf(floorOf(first)));
  const third = deriveLayout(before.bench("more", box(0, 4800, 900, 5400)).plan, second);
  expect(floorOf(third)).not.toBe(floorOf(first));
});
