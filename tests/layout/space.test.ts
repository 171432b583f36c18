import { describe, expect, test } from "vitest";
import { containsPoint, distanceToEdge } from "../../src/geometry/area-distance.js";
import { type Area, areaSize, intersectAreas, subtractArea } from "../../src/geometry/areas.js";
import type { Point } from "../../src/geometry/pose.js";
import { deriveSpace } from "../../src/layout/space.js";
import type { Bench, BenchShape, Plan } from "../../src/plan/schema.js";

const corners = (...xy: readonly (readonly [number, number])[]): Point[] => xy.map(([x, y]) => ({ x, y }));
const rectangle = (x: number, y: number, w: number, h: number): Point[] =>
  corners([x, y], [x + w, y], [x + w, y + h], [x, y + h]);
const ROOM = rectangle(0, 0, 6000, 5000);
const deck = (name: string, height: number) => ({ name, kind: "scenic" as const, height, thickness: 80 });
const bench = (shape: BenchShape, on = "lower"): Bench => ({ deck: on, shape });

/** Only what a space is derived from. */
function planOf(parts: Partial<Plan> & { readonly outline?: readonly Point[] }): Plan {
  const { outline, ...rest } = parts;
  return {
    room: { outline: outline ?? ROOM, ceiling: 2400, openings: {}, obstacles: {} },
    decks: { lower: deck("Lower", 1000), upper: deck("Upper", 1400) },
    benches: {},
    gates: {},
    backdrops: {},
    ...rest,
  } as unknown as Plan;
}

const areaOf = (shape: BenchShape, outline?: readonly Point[]): Area =>
  deriveSpace(planOf({ benches: { b: bench(shape) }, ...(outline ? { outline } : {}) }))
    .space.decks.get("lower")
    ?.byBench.get("b") ?? [];
const shelf = (from: [number, number], to: [number, number], depth: number, round?: number): BenchShape => ({
  shelf: {
    from: { wall: from[0], at: from[1] },
    to: { wall: to[0], at: to[1] },
    depth,
    ...(round === undefined ? {} : { round }),
  },
});

describe("bench shapes", () => {
  test("an outline with a rounded corner lacks what lies between corner and arc", () => {
    const [a, b, c, d] = rectangle(100, 100, 2000, 600);
    if (!a || !b || !c || !d) throw new Error("no corners");
    const area = areaOf({ outline: [a, { ...b, round: 300 }, c, d] });
    // A square of the radius less a quarter disc.
    expect(Math.abs(areaSize(area) - (2000 * 600 - (1 - Math.PI / 4) * 300 ** 2))).toBeLessThan(0.05 * 500 + 3);
    expect(containsPoint(area, { x: 2095, y: 105 })).toBe(false);
    // The arc is tangent: its middle lies on the diagonal from the corner.
    const inset = 300 * (1 - Math.SQRT1_2);
    expect(Math.abs(distanceToEdge(area, { x: 2100 - inset, y: 100 + inset }))).toBeLessThan(0.06);
  });

  test("corners rounded with more than fits share the edge between them", () => {
    const round = (r: number): Point[] => rectangle(0, 0, 1000, 400).map((p) => ({ ...p, round: r }));
    const most = areaSize(areaOf({ outline: round(200) }));
    expect(areaSize(areaOf({ outline: round(5000) }))).toBeCloseTo(most, 0);
    expect(most).toBeLessThan(400_000);
  });

  test("a disc is round", () => {
    const area = areaOf({ disc: { centre: { x: 3000, y: 2500 }, radius: 700 } });
    expect(Math.abs(areaSize(area) - Math.PI * 700 ** 2)).toBeLessThan(0.05 * 2 * Math.PI * 700);
    for (const p of area.flat()) expect(Math.abs(Math.hypot(p.x - 3000, p.y - 2500) - 700)).toBeLessThan(0.002);
  });

  // Sizes worked out by hand for a room of 6000 x 5000.
  test.each([
    { what: "part of one wall", shape: shelf([0, 1000], [0, 3500], 600), size: 2500 * 600 },
    { what: "round a corner", shape: shelf([0, 4000], [1, 2000], 600), size: 2000 * 600 + 2000 * 600 - 600 * 600 },
    {
      what: "past the first corner",
      shape: shelf([3, 4000], [0, 1500], 500),
      size: 1000 * 500 + 1500 * 500 - 500 * 500,
    },
    {
      what: "on three walls",
      shape: shelf([3, 1000], [1, 3000], 500),
      size: (4000 + 6000 + 3000) * 500 - 2 * 500 * 500,
    },
    { what: "all the way round", shape: shelf([2, 700], [2, 700], 400), size: 6000 * 5000 - 5200 * 4200 },
    { what: "longer than the wall", shape: shelf([0, 0], [0, 99_999], 300), size: 6000 * 300 },
    { what: "deeper than the room", shape: shelf([0, 0], [0, 6000], 9000), size: 6000 * 5000 },
  ])("a shelf $what", ({ shape, size }) => {
    expect(areaSize(areaOf(shape))).toBeCloseTo(size, -1);
    // Walls keep their numbers in a room drawn clockwise: wall n runs from corner n to the next, and so does `at`.
    const clockwise = [...ROOM].reverse();
    const turned = (place: { wall: number; at: number }) => {
      const wall = (6 - place.wall) % 4;
      const length = wall % 2 === 0 ? 6000 : 5000;
      return { wall, at: Math.max(0, length - place.at) };
    };
    if (!("shelf" in shape)) throw new Error("no shelf");
    const other = { shelf: { ...shape.shelf, from: turned(shape.shelf.from), to: turned(shape.shelf.to) } };
    const same = areaOf(other, clockwise);
    expect(areaSize(same)).toBeCloseTo(size, -1);
    expect(areaSize(intersectAreas(same, areaOf(shape)))).toBeCloseTo(size, -1);
  });

  test("rounding fills the inner corner and nothing else", () => {
    const sharp = areaOf(shelf([0, 3000], [1, 3000], 600));
    const round = areaOf(shelf([0, 3000], [1, 3000], 600, 400));
    expect(areaSize(subtractArea(sharp, round))).toBeLessThan(5);
    expect(Math.abs(areaSize(round) - areaSize(sharp) - (1 - Math.PI / 4) * 400 ** 2)).toBeLessThan(
      0.05 * 2 * Math.PI * 100 + 5,
    );
    // Inner corner at (5400, 600), so the arc's centre is at (5000, 1000).
    expect(Math.abs(distanceToEdge(round, { x: 5000, y: 1000 }) + 400)).toBeLessThan(0.06);
    expect(containsPoint(round, { x: 5390, y: 610 })).toBe(true);
  });

  test("round a chimney breast the shelf stays as deep and in the room", () => {
    const notched = corners([0, 0], [2000, 0], [2000, 300], [3200, 300], [3200, 0], [6000, 0], [6000, 5000], [0, 5000]);
    for (const round of [0, 150]) {
      const area = areaOf(shelf([0, 500], [4, 1500], 600, round), notched);
      expect(area).toHaveLength(1);
      expect(distanceToEdge(area, { x: 2600, y: 300 })).toBeCloseTo(0, 2);
      expect(containsPoint(area, { x: 2600, y: 899 })).toBe(true);
      expect(containsPoint(area, { x: 2600, y: 901 })).toBe(false);
      expect(containsPoint(area, { x: 2600, y: 150 })).toBe(false);
      expect(areaSize(subtractArea(area, [notched]))).toBeLessThan(5);
      for (const p of area.flat()) expect(distanceToEdge([notched], p)).toBeLessThanOrEqual(600 * Math.SQRT2 + 0.01);
    }
    // By hand: 4200 long and 600 deep; the front steps out by 300 from a depth before the breast to a depth behind it,
    // and the breast itself is no shelf.
    const sharp = areaOf(shelf([0, 500], [4, 1500], 600), notched);
    const front = 300 * (1200 + 2 * 600);
    expect(areaSize(sharp)).toBeCloseTo((1500 + 1200 + 1500) * 600 + front - 1200 * 300, -1);
  });

  test("round a corner that stands out sharply the front is cut square", () => {
    const stub = corners([0, 0], [3000, 0], [3000, 2000], [3100, 2000], [3100, 0], [6000, 0], [6000, 5000], [0, 5000]);
    const area = areaOf(shelf([1, 1000], [3, 1000], 400), stub);
    expect(area).toHaveLength(1);
    // Two sides of 1000 up to the stub's end, the end itself, and two squares of the depth.
    expect(areaSize(area)).toBeCloseTo(2 * 1000 * 400 + 100 * 400 + 2 * 400 * 400, -1);
  });
});

describe("findings", () => {
  const bowTie = corners([1000, 1000], [2000, 2000], [2000, 1000], [1000, 2000]);
  test("an outline that crosses itself is told, with the place, and gives what it goes round", () => {
    const { space, findings } = deriveSpace(planOf({ outline: bowTie, benches: { b: bench({ outline: bowTie }) } }));
    expect(findings.map(({ kind, thing, point }) => ({ kind, thing, point }))).toEqual([
      { kind: "shape-invalid", thing: "room", point: { x: 1500, y: 1500 } },
      { kind: "shape-invalid", thing: "benches.b", point: { x: 1500, y: 1500 } },
    ]);
    expect(areaSize(space.room)).toBeCloseTo(500_000, 0);
    expect(areaSize(space.decks.get("lower")?.bench ?? [])).toBeCloseTo(500_000, 0);
  });

  test.each<{ what: string; plan: Partial<Plan> & { outline?: Point[] }; thing: string }>([
    { what: "a room without size", plan: { outline: corners([0, 0], [10, 0], [20, 0]) }, thing: "room" },
    { what: "a room gone round twice", plan: { outline: [...ROOM, ...ROOM] }, thing: "room" },
    {
      what: "a bench without size",
      plan: { benches: { b: bench({ outline: corners([0, 0], [5, 5], [0, 0]) }) } },
      thing: "benches.b",
    },
    {
      what: "a shelf on a wall that is not there",
      plan: { benches: { b: bench(shelf([0, 0], [9, 0], 300)) } },
      thing: "benches.b",
    },
    {
      what: "a bench on a deck that is not there",
      plan: { benches: { b: bench({ outline: ROOM }, "attic") } },
      thing: "benches.b",
    },
    {
      what: "a gate that crosses itself",
      plan: { gates: { g: { deck: "upper", kind: "swing", outline: bowTie } } },
      thing: "gates.g",
    },
    {
      what: "an obstacle that crosses itself",
      plan: { room: { outline: ROOM, ceiling: 2400, openings: {}, obstacles: { o: { outline: bowTie } } } },
      thing: "room.obstacles.o",
    },
  ])("$what", ({ plan, thing }) => {
    const { findings } = deriveSpace(planOf(plan));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ kind: "shape-invalid", thing });
  });

  test.each([
    { what: "anticlockwise", outline: ROOM },
    { what: "clockwise", outline: [...ROOM].reverse() },
    {
      what: "with a notch that touches itself at a corner",
      outline: corners([0, 0], [4000, 0], [4000, 4000], [2000, 4000], [3000, 2000], [2000, 0.5], [0, 4000]),
    },
  ])("a room drawn $what is in order", ({ outline }) => {
    const { space, findings } = deriveSpace(planOf({ outline }));
    expect(findings).toEqual([]);
    expect(areaSize(space.room)).toBeGreaterThan(0);
  });
});

describe("the room and its decks", () => {
  const plan = planOf({
    room: {
      outline: ROOM,
      ceiling: 2300,
      openings: {},
      obstacles: {
        post: { outline: rectangle(2000, 2000, 100, 100) },
        shelf: { outline: rectangle(0, 4500, 500, 500), from: 1800, to: 2100 },
      },
    },
    benches: {
      south: bench(shelf([0, 0], [0, 6000], 600)),
      middle: bench({ outline: rectangle(2500, 500, 800, 3000) }),
      above: bench(shelf([0, 0], [1, 5000], 400), "upper"),
      maybe: { ...bench({ outline: rectangle(4000, 4000, 500, 500) }), option: "wide" },
    },
    gates: { door: { deck: "lower", kind: "lift-out", outline: rectangle(5000, 500, 400, 900) } },
    backdrops: { sky: { deck: "upper", line: corners([0, 10], [6000, 10]), height: 350 } },
  });
  const first = deriveSpace(plan);

  test("obstacles reach up to the ceiling where nothing else is said", () => {
    expect(first.space.obstacles.map(({ id, from, to }) => [id, from, to])).toEqual([
      ["post", 0, 2300],
      ["shelf", 1800, 2100],
    ]);
    expect(areaSize(first.space.obstacles[0]?.area ?? [])).toBeCloseTo(10_000, 3);
  });

  test("a deck's benches and gates are united, backdrops stand on its railhead", () => {
    const lower = first.space.decks.get("lower");
    expect([...(lower?.byBench.keys() ?? [])]).toEqual(["south", "middle"]);
    expect(areaSize(lower?.bench ?? [])).toBeCloseTo(6000 * 600 + 800 * 2900 + 400 * 800, 0);
    expect(first.space.decks.get("upper")?.backdrops).toEqual([
      { id: "sky", line: corners([0, 10], [6000, 10]), from: 1400, to: 1750 },
    ]);
    expect(first.decks).toBe(2);
  });

  test("objects of an option are there when it is in hand", () => {
    const chosen = deriveSpace({ ...plan, option: "wide" } as Plan, { plan, space: first.space });
    expect(chosen.decks).toBe(1);
    expect(chosen.space.decks.get("lower")?.byBench.has("maybe")).toBe(true);
    expect(chosen.space.decks.get("upper")).toBe(first.space.decks.get("upper"));
  });

  const edits: { what: string; edit: (p: Plan) => Plan; decks: number }[] = [
    { what: "nothing", edit: (p) => ({ ...p }), decks: 0 },
    {
      what: "one bench moved",
      edit: (p) => ({ ...p, benches: { ...p.benches, middle: bench({ outline: rectangle(2600, 500, 800, 3000) }) } }),
      decks: 1,
    },
    {
      what: "one bench taken away",
      edit: (p) => ({ ...p, benches: Object.fromEntries(Object.entries(p.benches).filter(([id]) => id !== "middle")) }),
      decks: 1,
    },
    {
      what: "a bench given to the other deck",
      edit: (p) => ({ ...p, benches: { ...p.benches, middle: bench({ outline: ROOM }, "upper") } }),
      decks: 2,
    },
    { what: "a deck raised", edit: (p) => ({ ...p, decks: { ...p.decks, upper: deck("Upper", 1500) } }), decks: 1 },
    {
      what: "a wall moved, under shelves of both decks",
      edit: (p) => ({ ...p, room: { ...p.room, outline: rectangle(0, 0, 6100, 5000) } }),
      decks: 2,
    },
    { what: "the ceiling raised", edit: (p) => ({ ...p, room: { ...p.room, ceiling: 2600 } }), decks: 0 },
    {
      what: "a bench spoilt",
      edit: (p) => ({ ...p, benches: { ...p.benches, middle: bench({ outline: corners([0, 0], [1, 1], [2, 2]) }) } }),
      decks: 1,
    },
  ];
  test.each(edits)(
    "$what: $decks decks are computed anew, the result is that of starting afresh",
    ({ edit, decks }) => {
      const next = edit(plan);
      const derived = deriveSpace(next, { plan, space: first.space });
      const fresh = deriveSpace(next);
      expect(derived.space).toEqual(fresh.space);
      expect(derived.findings).toEqual(fresh.findings);
      expect(derived.decks).toBe(decks);
      // And once more from there, so that findings of what is taken over are not lost.
      const again = deriveSpace({ ...next }, { plan: next, space: derived.space });
      expect(again.findings).toEqual(fresh.findings);
      expect(again.decks).toBe(0);
      expect(again.space.room).toBe(derived.space.room);
    },
  );

  test("a space that came another way is computed anew, findings and all", () => {
    const spoilt = { ...plan, benches: { bad: bench({ outline: corners([0, 0], [1, 1], [2, 2]) }) } } as Plan;
    const copy = structuredClone(deriveSpace(spoilt).space);
    const derived = deriveSpace(spoilt, { plan: spoilt, space: copy });
    expect(derived.findings).toHaveLength(1);
    expect(derived.decks).toBe(2);
  });
});
