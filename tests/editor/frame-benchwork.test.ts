import { describe, expect, test } from "vitest";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Bench, BenchShape, Opening, Plan } from "../../src/plan/schema.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const room = (shapes: Readonly<Record<string, BenchShape>> = {}): Plan => {
  const plan = emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units: "metric" });
  const benches = Object.entries(shapes).map(([id, shape]): [string, Bench] => [id, { deck: "lower", shape }]);
  return { ...plan, benches: Object.fromEntries(benches) };
};
const frame = (of: Plan, tool: string): SheetDriver => openSheet(of).stage("frame").take(tool);
const shapes = (sheet: SheetDriver): BenchShape[] => Object.values(sheet.plan.benches).map(({ shape }) => shape);
const path = (sheet: SheetDriver, ...points: readonly (readonly [number, number])[]): SheetDriver => {
  const [first, ...rest] = points;
  if (first) sheet.pointerMove(...first).pointerDown(...first);
  for (const point of rest) sheet.pointerMove(...point);
  return sheet.pointerUp();
};

describe("shelves", () => {
  const round: [number, number][] = [
    [3000, 10],
    [3500, 30],
    [3990, 200],
    [3980, 900],
    [3990, 1500],
  ];
  const expected = { from: { wall: 0, at: 3000 }, to: { wall: 1, at: 1500 } };

  test("round a corner, anticlockwise or clockwise: the same shelf", () => {
    for (const way of [round, round.toReversed()]) {
      const before = room();
      const sheet = path(frame(before, "shelf"), ...way);
      expect(sheet.plan).toBe(before);
      sheet.type("600").key("Tab").type("150").key("Enter");
      expect(shapes(sheet)).toEqual([{ shelf: { ...expected, depth: 600, round: 150 } }]);
      expect(sheet.undo().plan).toBe(before);
    }
  });

  test("clicked from place to place, its depth drawn in steps of 10 mm", () => {
    const sheet = frame(room(), "shelf").click(1000, 0).pointerMove(2000, 0).click(3000, 5).click(2000, 404);
    expect(shapes(sheet)).toEqual([{ shelf: { from: { wall: 0, at: 1000 }, to: { wall: 0, at: 3000 }, depth: 400 } }]);
  });

  test("its length typed; caught by the corner; round the first corner of the room", () => {
    const sheet = frame(room(), "shelf")
      .click(30, 0)
      .pointerMove(-10, 300)
      .type("1200")
      .key("Enter")
      .type("400")
      .key("Enter");
    expect(shapes(sheet)).toEqual([{ shelf: { from: { wall: 3, at: 1800 }, to: { wall: 3, at: 3000 }, depth: 400 } }]);
  });

  test("a caution where it passes the door at deck height", () => {
    const door: Opening = { kind: "door", wall: 0, at: 1500, width: 800 };
    const high: Opening = { kind: "window", wall: 0, at: 2500, width: 600, sill: 2000 };
    const plan = room();
    const of = { ...plan, room: { ...plan.room, openings: { high, door } } };
    const sheet = frame(of, "shelf").click(1000, 0).pointerMove(1400, 0);
    expect(sheet.state.show.hint).not.toContain("passes");
    sheet.pointerMove(3500, 0);
    expect(sheet.state.show.hint).toContain("It passes the door");
    expect(sheet.state.show.hint).toContain("local codes");
  });

  test("Backspace goes back from depth to length, then to nothing", () => {
    const before = room();
    const sheet = path(frame(before, "shelf"), ...round)
      .key("Backspace")
      .key("Backspace");
    expect(sheet.state.show.overlay).toEqual([]);
    expect(sheet.state.plan).toBe(before);
  });
});

describe("peninsulas, benches, discs", () => {
  test.each(["round", "square", "disc"])("a peninsula with a %s end, its width typed", (end) => {
    const before = room();
    const sheet = frame(before, "peninsula").drag([2000, 0], [2010, 1500]);
    sheet.choose("end", end).type("800").key("Enter");
    const [strip, disc] = shapes(sheet);
    const round = end === "round" ? { round: 400 } : {};
    expect(strip).toEqual({
      outline: [
        { x: expect.closeTo(1600, 9), y: expect.closeTo(0, 9) },
        { x: expect.closeTo(2400, 9), y: expect.closeTo(0, 9) },
        { x: expect.closeTo(2400, 9), y: expect.closeTo(1500, 9), ...round },
        { x: expect.closeTo(1600, 9), y: expect.closeTo(1500, 9), ...round },
      ],
    });
    expect(disc).toEqual(
      end === "disc"
        ? { disc: { centre: { x: expect.closeTo(2000, 9), y: expect.closeTo(1500, 9) }, radius: 600 } }
        : undefined,
    );
    expect(sheet.undo().plan).toBe(before);
  });

  test("a bench by clicks and typed lengths, a corner rounded", () => {
    const sheet = frame(room(), "bench").click(1000, 1000).pointerMove(2000, 1010).type("1200").key("Enter");
    sheet
      .key("Tab")
      .key("Tab")
      .type("100")
      .key("Enter")
      .type("500")
      .key("Enter")
      .key("ArrowLeft")
      .type("1200")
      .key("Enter");
    sheet.key("Enter");
    expect(shapes(sheet)).toEqual([
      {
        outline: [
          { x: 1000, y: 1000 },
          { x: 2200, y: 1000, round: 100 },
          { x: 2200, y: 1500 },
          { x: 1000, y: 1500 },
        ],
      },
    ]);
  });

  test("a bench that crosses itself is refused with the reason", () => {
    const before = room();
    const sheet = frame(before, "bench");
    for (const [x, y] of [
      [500, 500],
      [1500, 1500],
      [1500, 500],
      [500, 1700],
    ] as const)
      sheet.click(x, y);
    sheet.key("Enter");
    expect(sheet.plan).toBe(before);
    expect(sheet.state.said).toBe("The outline crosses itself.");
  });

  test("a disc drawn, and one typed", () => {
    const sheet = frame(room(), "disc").drag([1000, 1000], [1600, 1000]).click(3000, 1500).type("75 cm").key("Enter");
    expect(shapes(sheet)).toEqual([
      { disc: { centre: { x: 1000, y: 1000 }, radius: 600 } },
      { disc: { centre: { x: 3000, y: 1500 }, radius: 750 } },
    ]);
  });

  test("a backdrop with its height, a gate with its kind, a label with its name", () => {
    const sheet = frame(room(), "backdrop").click(500, 1500).click(2500, 1500).doubleClick(2500, 2500);
    expect(Object.values(sheet.plan.backdrops)).toEqual([
      {
        deck: "lower",
        line: [
          { x: 500, y: 1500 },
          { x: 2500, y: 1500 },
          { x: 2500, y: 2500 },
        ],
        height: 350,
      },
    ]);
    sheet.take("gate").drag([1000, 300], [1700, 300]).key("c").key("c").type("150").key("Enter");
    expect(Object.values(sheet.plan.gates)).toMatchObject([{ deck: "lower", kind: "swing" }]);
    expect(Object.values(sheet.plan.gates)[0]?.outline).toHaveLength(4);
    sheet.take("label").click(800, 800).key("ArrowLeft").type("Kettle Bay").key("Enter");
    expect(Object.values(sheet.plan.labels)).toEqual([
      { text: "Kettle Bay", deck: "lower", at: { x: 800, y: 800 }, heading: 15 },
    ]);
  });
});

describe("decks", () => {
  test("a new deck is typed and taken in hand", () => {
    const sheet = frame(room(), "decks")
      .key("n")
      .type("Upper")
      .key("Enter")
      .type("1500")
      .key("Enter")
      .type("80")
      .key("Enter");
    expect(sheet.plan.decks.upper).toEqual({ name: "Upper", kind: "scenic", height: 1500, thickness: 80 });
    expect(sheet.state.deck).toBe("upper");
  });

  test("the deck in hand gets another height; a slip of the keyboard does not", () => {
    const sheet = frame(room(), "decks").type("1 in 4").key("Enter");
    expect(sheet.state.show.entry?.error).toContain("not understood");
    for (let i = 0; i < 6; i++) sheet.key("Backspace");
    expect(sheet.type("1100").key("Enter").plan.decks.lower?.height).toBe(1100);
  });

  test("deleting names what goes with it, and asks again; the only deck stays", () => {
    const before = room({ shelf: { disc: { centre: { x: 0, y: 0 }, radius: 300 } } });
    const sheet = frame(before, "decks").key("Delete");
    expect(sheet.state.show.hint).toContain("Lower deck with 1 bench.");
    sheet.key("Delete");
    expect(sheet.plan).toBe(before);
    sheet.key("n").key("Enter").key("Enter").key("Enter").deck("lower").key("Delete").key("Delete");
    expect(Object.keys(sheet.plan.decks)).toEqual(["upper-deck"]);
    expect(sheet.plan.benches).toEqual({});
  });
});

describe("reshaping", () => {
  const square: BenchShape = {
    outline: [
      { x: 1000, y: 1000 },
      { x: 2000, y: 1000, round: 50 },
      { x: 2000, y: 1500 },
      { x: 1000, y: 1500 },
    ],
  };
  const shelf: BenchShape = { shelf: { from: { wall: 0, at: 500 }, to: { wall: 0, at: 2500 }, depth: 400 } };
  const disc: BenchShape = { disc: { centre: { x: 2500, y: 1500 }, radius: 500 } };

  test.each<[string, BenchShape, [number, number], [number, number], [number, number], unknown]>([
    ["a corner", square, [1500, 1250], [2000, 1000], [2200, 990], { outline: { 1: { x: 2200, y: 1000, round: 50 } } }],
    [
      "an edge",
      square,
      [1500, 1250],
      [1500, 1500],
      [1600, 1700],
      { outline: { 2: { x: 2000, y: 1700 }, 3: { x: 1000, y: 1700 } } },
    ],
    [
      "the whole",
      square,
      [1500, 1250],
      [1300, 1250],
      [1400, 1350],
      { outline: { 0: { x: 1100, y: 1100 }, 2: { x: 2100, y: 1600 } } },
    ],
    ["the end of a shelf", shelf, [1500, 200], [2500, 0], [3000, 30], { shelf: { to: { wall: 0, at: 3000 } } }],
    [
      "a shelf's end round the corner",
      shelf,
      [1500, 200],
      [2500, 0],
      [3990, 800],
      { shelf: { to: { wall: 1, at: 800 } } },
    ],
    ["a shelf's depth", shelf, [1500, 200], [1500, 400], [1500, 550], { shelf: { depth: 550 } }],
    [
      "a shelf along its wall",
      shelf,
      [1500, 200],
      [1000, 200],
      [1300, 250],
      { shelf: { from: { at: 800 }, to: { at: 2800 } } },
    ],
    ["a disc's rim", disc, [2500, 1300], [3000, 1500], [3200, 1500], { disc: { radius: 700 } }],
    ["a disc", disc, [2500, 1300], [2400, 1400], [2500, 1600], { disc: { centre: { x: 2600, y: 1700 } } }],
  ])("%s is dragged", (_, shape, choose, from, to, expected) => {
    const before = room({ own: shape });
    const sheet = frame(before, "reshape")
      .click(...choose)
      .drag(from, to);
    const near = (value: unknown): unknown =>
      typeof value === "number"
        ? Math.round(value * 1e6) / 1e6
        : typeof value === "object" && value !== null
          ? Object.fromEntries(Object.entries(value).map(([key, item]) => [key, near(item)]))
          : value;
    expect(near(sheet.plan.benches.own?.shape)).toMatchObject(expected as object);
    expect(sheet.undo().plan).toBe(before);
  });

  test("a depth is typed while it is held; what crosses itself is refused; Delete takes it out", () => {
    const sheet = frame(room({ own: shelf, other: square }), "reshape").click(1500, 200);
    sheet.pointerDown(1500, 400).pointerMove(1500, 500).type("320").key("Enter").pointerUp();
    expect(sheet.plan.benches.own?.shape).toMatchObject({ shelf: { depth: 320 } });
    const before = sheet.plan;
    sheet.click(1500, 1250).drag([1000, 1000], [2500, 1300]);
    expect(sheet.plan).toBe(before);
    expect(sheet.state.said).toBe("The outline crosses itself.");
    sheet.key("Delete");
    expect(Object.keys(sheet.plan.benches)).toEqual(["own"]);
  });
});

test.each(["decks", "shelf", "peninsula", "bench", "disc", "backdrop", "gate", "label"])(
  "Esc in the middle of %s leaves the plan's identity",
  (tool) => {
    const before = room();
    const sheet = frame(before, tool).click(1500, 10).pointerMove(2700, 600).type("12").pointerMove(2900, 500).cancel();
    expect(sheet.state.plan).toBe(before);
    expect(sheet.plan).toBe(before);
  },
);
