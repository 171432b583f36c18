/** Cuts across a small room, worked out by hand. */
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import { deriveSection, type Section } from "../../src/layout/section.js";
import { reachAt } from "../../src/plan/settings.js";
import { aisleAt, operatorsOf, reachesFrom, standIn, viewsFrom } from "../../src/layout/section-sight.js";
import { highestSeen } from "../../src/layout/sight.js";
import type { Plan } from "../../src/plan/schema.js";
import { throwsOf } from "../../src/readings/envelope.js";
import { at, box, CAR, type Draft, endOf, left, plan, straight } from "../readings/fixture.js";

/** South shelf 600 deep with an upper one of 400 over it; north shelf 500; the cut runs up the sheet at x = 4000. */
const draft = (): Draft =>
  plan()
    .deck("upper", 1400, { thickness: 100 })
    .bench("south", box(0, 0, 8000, 600))
    .bench("north", box(0, 5500, 8000, 6000))
    .bench("high", box(0, 0, 8000, 400), "upper")
    .backdrop(
      "sky",
      [
        { x: 0, y: 5800 },
        { x: 8000, y: 5800 },
      ],
      250,
    )
    .track("main", at(1000, 300), [straight(6000)])
    .track("slant", at(3000, 5000, 45), [straight(2500)]);

const CUT = { from: { x: 4000, y: 0 }, to: { x: 4000, y: 6000 } };
const cutOf = (of: Plan, cut = CUT): Section => {
  const layout = deriveLayout(of);
  const section = deriveSection(layout, cut, (line) => throwsOf(layout, line));
  if (!section) throw new Error("no section");
  return section;
};

describe("a section", () => {
  const section = cutOf(draft().plan);

  test("cuts walls, decks, backdrops and leaves the floor between", () => {
    expect(section.length).toBe(6000);
    expect(section.walls.map(({ at: x, solid }) => [x, solid])).toEqual([
      [0, "before"],
      [6000, "after"],
    ]);
    expect(section.decks).toEqual([
      { deck: "lower", from: 0, to: 600, bottom: 920, top: 1000 },
      { deck: "lower", from: 5500, to: 6000, bottom: 920, top: 1000 },
      { deck: "upper", from: 0, to: 400, bottom: 1300, top: 1400 },
    ]);
    expect(section.backdrops).toEqual([{ id: "sky", deck: "lower", at: 5800, bottom: 1000, top: 1250 }]);
    expect(section.floor).toEqual([{ from: 600, to: 5500 }]);
  });

  test("crosses track square and askew, with the car as the cut sees it", () => {
    const [main, slant] = section.tracks;
    expect(main?.at).toBeCloseTo(300, 6);
    expect(main?.height).toBe(1000);
    expect(main?.across).toBeCloseTo(1, 9);
    expect(main?.roadbed).toBeUndefined();
    expect(main?.car.from).toBeCloseTo(300 - CAR.width / 2, 6);
    expect(main?.car.top).toBe(1000 + CAR.height);
    // 1000 along and up from (3000, 5000); at 45 degrees widths are the root of two longer. No bench carries it there.
    expect(slant?.at).toBeCloseTo(6000, 0);
    expect((slant?.car.to ?? 0) - (slant?.car.from ?? 0)).toBeCloseTo(CAR.width * Math.SQRT2, 6);
  });

  test("track that no deck carries has its own roadbed", () => {
    const { tracks } = cutOf(draft().track("free", at(1000, 3000), [straight(6000)]).plan);
    // 76 wide and 30 deep, as the fixture says.
    expect(tracks.find(({ line }) => line.id === "free")?.roadbed).toEqual({ from: 2962, to: 3038, bottom: 970 });
  });

  test("in a curve the car is thrown to both sides", () => {
    const curved = draft().track("bend", at(3000, 2000), [left(600, 180)]);
    const first = cutOf(curved.plan, { from: { x: 2000, y: 2600 }, to: { x: 4000, y: 2600 } });
    const bend = first.tracks.find(({ line }) => line.id === "bend");
    // The easternmost place of the circle round (3000, 2600), square across; its inside is back along the cut.
    expect(bend?.at).toBeCloseTo(1600, 1);
    const inside = 600 - Math.sqrt(600 ** 2 - 105 ** 2);
    const outside = Math.hypot(600 - inside, 150) - 600;
    expect((bend?.car.from ?? 0) - (bend?.swept.from ?? 0)).toBeCloseTo(inside, 1);
    expect((bend?.swept.to ?? 0) - (bend?.car.to ?? 0)).toBeCloseTo(outside, 1);
  });

  test("the other way round it is the same reversed", () => {
    const back = cutOf(draft().plan, { from: CUT.to, to: CUT.from });
    const turned = back.decks.map(({ deck, from, to }) => `${deck} ${6000 - to} ${6000 - from}`);
    expect(new Set(turned)).toEqual(new Set(section.decks.map(({ deck, from, to }) => `${deck} ${from} ${to}`)));
    expect(back.tracks.map(({ line, at: x }) => [line.id, 6000 - x])).toEqual(
      [...section.tracks].reverse().map(({ line, at: x }) => [line.id, expect.closeTo(x, 6)]),
    );
  });

  test("ends within the room where the cut does, and shows what opens in a wall", () => {
    const door = { kind: "door", wall: 0, at: 3500, width: 900, head: 2000 } as const;
    const window = { kind: "window", wall: 2, at: 100, width: 900, sill: 900, head: 2000 } as const;
    const { room } = draft().plan;
    const open = { ...draft().plan, room: { ...room, openings: { door, window } } };
    const part = cutOf(open, { from: CUT.from, to: { x: 4000, y: 3000 } });
    expect(part.walls).toEqual([
      { at: 0, solid: "before", openings: [{ id: "door", kind: "door", sill: 0, head: 2000 }] },
    ]);
    expect(part.floor).toEqual([{ from: 600, to: 3000 }]);
  });

  test("gates are bodies of their own, and what has no length is no cut", () => {
    const gated = draft().gate("lift", box(3500, 600, 4500, 900));
    expect(cutOf(gated.plan).decks).toContainEqual({
      deck: "lower",
      gate: "lift",
      from: 600,
      to: 900,
      bottom: 920,
      top: 1000,
    });
    expect(deriveSection(draft().layout, { from: CUT.from, to: CUT.from })).toBeUndefined();
    expect(cutOf(draft().plan, { from: { x: -900, y: -5 }, to: { x: 9000, y: -5 } }).room).toEqual([]);
  });
});

describe("someone in the aisle", () => {
  const of = draft().plan;
  const section = cutOf(of);
  const eye = { name: "Driver", eye: 1700 };

  test("stands in the middle of the widest aisle, or where there is floor", () => {
    expect(standIn(section, eye)?.at).toBe(3050);
    expect(standIn(section, eye, 1362)?.at).toBe(1362);
    expect(standIn(section, eye, 300)).toBeUndefined();
    expect(aisleAt(section, 300)).toBeUndefined();
    expect(operatorsOf(of).length).toBeGreaterThan(0);
  });

  test.each([700, 900, 1200, 1362, 2500])("standing at %d sees what the formula says of the lower deck's back", (x) => {
    const view = viewsFrom(of, section, eye, x).find(({ deck, back }) => deck === "lower" && back === 0);
    // Upper fascia 200 behind the lower's: d before it, and 400 from there to the wall.
    const formula = 1300 - ((1700 - 1300) * 400) / (x - 400);
    const seen = highestSeen({ before: x - 600, height: 1700 }, [{ from: 200, to: 600, underside: 1300 }], 600);
    expect(seen).toBeCloseTo(formula, 9);
    if (formula > 1000) {
      expect(view?.seen).toHaveLength(1);
      expect(view?.seen[0]?.from).toBeCloseTo(1000, 6);
      expect(view?.seen[0]?.to).toBeCloseTo(formula, 6);
    } else expect(view?.seen).toEqual([]);
    expect([...(view?.seen ?? []), ...(view?.hidden ?? [])].reduce((sum, s) => sum + s.to - s.from, 0)).toBeCloseTo(
      300,
      6,
    );
  });

  test("sees all of an open deck up to its backdrop, and nothing over the rails of one above the eye", () => {
    const views = viewsFrom(of, section, eye, 3050);
    expect(views.find(({ back }) => back === 5800)).toMatchObject({ front: 5500, from: 1000, to: 1250, hidden: [] });
    const seated = viewsFrom(of, section, { name: "Seated", eye: 1200 }, 1400).find(({ deck }) => deck === "upper");
    // The fascia at 400 hides the wall up to 1200 + 200 x 1400 / 1000.
    expect(seated?.hidden[0]?.from).toBe(1400);
    expect(seated?.hidden[0]?.to).toBeCloseTo(1480, 6);
  });

  test("reaches as far as the table says, less under a deck", () => {
    const rows = [
      { height: 1000, reach: 700 },
      { height: 1200, reach: 600 },
    ];
    expect([900, 1000, 1050, 1200, 1500].map((h) => reachAt(rows, h))).toEqual([700, 700, 675, 600, 600]);
    expect(reachAt([], 1000)).toBe(0);
    const own = {
      ...of,
      standards: {
        ...of.standards,
        reach: { value: rows, source: "test" },
        reachUnder: { value: 100, source: "test" },
      },
    };
    expect(reachesFrom(own, section, 3050)).toEqual([
      { deck: "lower", edge: 5500, way: 1, height: 1000, reach: 700, depth: 500 },
      { deck: "lower", edge: 600, way: -1, height: 1000, reach: 600, depth: 600 },
      { deck: "upper", edge: 600, way: -1, height: 1400, reach: 600, depth: 600 },
    ]);
  });
});

test("a track that goes on is cut once at the joint", () => {
  const joined = draft().track("more", endOf("main"), [straight(500)]);
  const { tracks } = cutOf(joined.plan, { from: { x: 7000, y: 0 }, to: { x: 7000, y: 600 } });
  expect(tracks.filter(({ at: x }) => Math.abs(x - 300) < 1)).toHaveLength(1);
});
