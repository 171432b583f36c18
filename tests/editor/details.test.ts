/** Details: every number typed in either unit becomes an edit, what is refused says why, several things are set at once. */
import { describe, expect, test } from "vitest";
import type { Thing } from "../../src/drafting/thing.js";
import { consequenceOf } from "../../src/editor/panels/details/consequence.js";
import { detailsOf } from "../../src/editor/panels/details/details-of.js";
import { type Details, type Field, fieldText, typedEdit } from "../../src/editor/panels/details/field.js";
import { limitOfReading, limitValue, restoreLimit, typedLimit } from "../../src/editor/panels/limits.js";
import { setWallLength, wallLength } from "../../src/drafting/wall-length.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";

const FOOT = 304.8;
const empty = emptyPlan({ title: "Trial", width: 12 * FOOT, depth: 10 * FOOT, scale: "HO", units: "imperial" });
const plan: Plan = {
  ...empty,
  room: {
    ...empty.room,
    openings: { door: { kind: "door", wall: 0, at: 600, width: 800, swing: { hinge: "near", into: "room" } } },
    obstacles: {
      flue: {
        outline: [
          { x: 100, y: 100 },
          { x: 300, y: 100 },
          { x: 300, y: 300 },
        ],
      },
    },
  },
  decks: { ...empty.decks, upper: { name: "Upper", kind: "scenic", height: 1400, thickness: 80 } },
  benches: {
    shelf: { deck: "lower", shape: { shelf: { from: { wall: 0, at: 0 }, to: { wall: 0, at: 3000 }, depth: 400 } } },
    end: { deck: "lower", shape: { disc: { centre: { x: 2000, y: 2000 }, radius: 500 } } },
    island: {
      deck: "lower",
      shape: {
        outline: [
          { x: 0, y: 0 },
          { x: 900, y: 0 },
          { x: 900, y: 900 },
        ],
      },
    },
  },
  backdrops: {
    sky: {
      deck: "lower",
      line: [
        { x: 0, y: 0 },
        { x: 900, y: 0 },
      ],
      height: 300,
    },
  },
  gates: {
    gate: {
      deck: "lower",
      kind: "lift",
      outline: [
        { x: 0, y: 0 },
        { x: 900, y: 0 },
        { x: 900, y: 90 },
      ],
    },
  },
  tracks: {
    main: {
      name: "Main",
      class: "main",
      deck: "lower",
      start: { pose: { x: 300, y: 300, heading: 0 } },
      legs: [
        { straight: 1500 },
        { curve: { radius: 900, angle: 90, hand: "left" } },
        { toward: { x: 2700, y: 2400, radius: 800 } },
      ],
    },
    loop: {
      name: "Loop",
      class: "siding",
      deck: "lower",
      start: { turnout: "west" },
      legs: [{ beside: { track: "main", from: 900, to: 1400, side: "left", spacing: 60 } }],
    },
    spur: {
      class: "spur",
      deck: "lower",
      start: { beside: { track: "main", at: 100, side: "right", spacing: 60 } },
      legs: [
        { join: { to: { track: "main", end: "end" }, radius: 700 } },
        {
          flex: [
            { x: 1, y: 2 },
            { x: 3, y: 4 },
            { x: 5, y: 6 },
          ],
        },
      ],
    },
  },
  turnouts: { west: { on: "main", at: 400, facing: "with", hand: "left", number: 6 } },
  pins: { foot: { track: "main", at: 0, deck: "lower" }, top: { track: "main", at: 2000, height: 1100 } },
  labels: { town: { text: "Larkmoor", at: { x: 500, y: 500 } } },
  slips: { slip: { on: "main", at: 900, across: "spur", kind: "single", side: "right" } },
  turntables: { pit: { on: "loop", end: "end", bridge: 300, stalls: [-15, 0, 15] } },
  templates: { bought: { name: "Bought", length: 230, points: 30, angle: 9.5, radius: 700 } },
};
const layout = deriveLayout(plan);
const record = (collection: (Thing & { kind: "record" })["collection"], id: string, leg?: number): Thing => ({
  kind: "record",
  collection,
  id,
  ...(leg !== undefined && { leg }),
});

const THINGS: readonly (readonly [name: string, thing: Thing])[] = [
  ["track", record("tracks", "main")],
  ["straight", record("tracks", "main", 0)],
  ["curve", record("tracks", "main", 1)],
  ["toward", record("tracks", "main", 2)],
  ["track from a turnout", record("tracks", "loop")],
  ["track beside another", record("tracks", "spur")],
  ["turnout", record("turnouts", "west")],
  ["template", record("templates", "bought")],
  ["slip", record("slips", "slip")],
  ["turntable", record("turntables", "pit")],
  ["pin of a deck", record("pins", "foot")],
  ["pin of its own", record("pins", "top")],
  ["deck", record("decks", "upper")],
  ["shelf", record("benches", "shelf")],
  ["disc", record("benches", "end")],
  ["outline", record("benches", "island")],
  ["backdrop", record("backdrops", "sky")],
  ["gate", record("gates", "gate")],
  ["label", record("labels", "town")],
  ["wall", { kind: "wall", wall: 0 }],
  ["opening", { kind: "opening", id: "door" }],
  ["obstacle", { kind: "obstacle", id: "flue" }],
];

const fieldsOf = (details: Details): readonly Field[] => details.sections.flatMap((section) => section.fields);
function fieldNamed(selection: readonly Thing[], id: string, of: Plan = plan): Field {
  const found = fieldsOf(detailsOf(of, deriveLayout(of), selection)).find((field) => field.id === id);
  if (!found) throw new Error(`no field ${id}`);
  return found;
}
/** The plan after typing into a field. */
function typed(selection: readonly Thing[], id: string, text: string, of: Plan = plan): Plan {
  const edit = typedEdit(fieldNamed(selection, id, of), text, of, "imperial");
  if (!edit?.ok) throw new Error(edit ? edit.message : "nothing changed");
  return edit.plan;
}
function refusal(selection: readonly Thing[], id: string, text: string): string {
  const edit = typedEdit(fieldNamed(selection, id), text, plan, "imperial");
  if (!edit || edit.ok) throw new Error("it was not refused");
  return edit.message;
}

describe.each(THINGS)("details of a %s", (_name, thing) => {
  const details = detailsOf(plan, layout, [thing]);
  test("have a title, and each field once in its section", () => {
    expect(details.title).not.toBe("Plan");
    expect(details.about).not.toBe("");
    for (const { fields } of details.sections) expect(new Set(fields.map(({ id }) => id)).size).toBe(fields.length);
  });
  test.each(["imperial", "metric"] as const)("typed back as they are shown (%s) change nothing", (units) => {
    for (const field of fieldsOf(details))
      expect(typedEdit(field, fieldText(field, units), plan, units)).toBeUndefined();
  });
  test("take every number typed anew, in either unit", () => {
    for (const field of fieldsOf(details)) {
      if (field.kind !== "number" || field.value === undefined || field.id === "ceiling") continue;
      const text = field.quantity === "length" ? `${field.value + 12} mm` : String(field.value + 2);
      const edit = typedEdit(field, text, plan, "imperial");
      expect({ field: field.id, edit }).toMatchObject({ edit: { ok: true } });
      if (edit?.ok) expect(edit.plan).not.toBe(plan);
    }
  });
  test("refuse what is no number, and say so", () => {
    for (const field of fieldsOf(details)) {
      if (field.kind !== "number") continue;
      const edit = typedEdit(field, "nonsense", plan, "metric");
      expect({ field: field.id, edit }).toMatchObject({ edit: { ok: false } });
      if (edit && !edit.ok) expect(edit.message.length).toBeGreaterThan(8);
    }
  });
});

test("figures are understood in the units on display, and any unit that is written", () => {
  const straight = (text: string) => typed([record("tracks", "main", 0)], "straight", text).tracks["main"]?.legs[0];
  expect(straight("34 1/2")).toEqual({ straight: 876.3 });
  expect(straight("5' 3\"")).toEqual({ straight: 1600.2 });
  expect(straight("1.85 m")).toEqual({ straight: 1850 });
});

test("the units on display are not those the plan opens in", () => {
  const details = detailsOf(plan, layout, [], "metric");
  expect(fieldsOf(details).find(({ id }) => id === "units")?.value).toBe("imperial");
  expect(details.sections.find(({ id }) => id === "decks")?.things?.[0]?.note).toBe("1400 mm");
});

test("an easement that is emptied follows the class again", () => {
  const curve = [record("tracks", "main", 1)];
  const own = typed(curve, "easement", "8");
  expect(own.tracks["main"]?.legs[1]).toMatchObject({ curve: { easement: 8 * 25.4 } });
  const again = typed(curve, "easement", "", own);
  expect(again.tracks["main"]?.legs[1]).toEqual(plan.tracks["main"]?.legs[1]);
});

test("what cannot be is refused beside the field", () => {
  expect(refusal([record("tracks", "main", 1)], "radius", "0")).toMatch(/radius/);
  expect(refusal([record("tracks", "main", 1)], "radius", "")).toBe("radius is missing");
  expect(refusal([record("labels", "town")], "text", " ")).toBe("a label says something");
  expect(refusal([{ kind: "opening", id: "door" }], "width", "-2")).toMatch(/width/);
  expect(refusal([], "title", "  ")).toBe("a plan has a title");
});

test("a pin holds a height or a deck, not both", () => {
  const pin = [record("pins", "top")];
  const held = typed(pin, "deck", "upper").pins["top"];
  expect(held).toEqual({ track: "main", at: 2000, deck: "upper" });
  expect(typed([record("pins", "foot")], "height", "42").pins["foot"]).toEqual({
    track: "main",
    at: 0,
    height: 42 * 25.4,
  });
});

test("legs are added and taken up", () => {
  const actions = detailsOf(plan, layout, [record("tracks", "main")]).sections.flatMap(({ id, actions: all }) =>
    (all ?? []).map((action) => ({ section: id, ...action })),
  );
  const done = (section: string, id: string): Plan => {
    const edit = actions.find((action) => action.section === section && action.id === id)?.do(plan);
    if (!edit?.ok) throw new Error("refused");
    return edit.plan;
  };
  expect(done("track", "left").tracks["main"]?.legs).toHaveLength(4);
  expect(done("leg.0", "remove").tracks["main"]?.legs).toEqual(plan.tracks["main"]?.legs.slice(1));
});

describe("several selected", () => {
  const both = [record("tracks", "main"), record("tracks", "loop")];
  test("show the fields they share, empty where they differ, and set all as one edit", () => {
    expect(fieldNamed(both, "class").value).toBe("");
    expect(fieldNamed(both, "deck").value).toBe("lower");
    const next = typed(both, "class", "branch");
    expect([next.tracks["main"]?.class, next.tracks["loop"]?.class]).toEqual(["branch", "branch"]);
    expect(next.tracks["spur"]).toBe(plan.tracks["spur"]);
  });
  test("of different kinds share what both have", () => {
    const details = detailsOf(plan, layout, [record("benches", "shelf"), record("gates", "gate")]);
    expect(fieldsOf(details).map(({ id }) => id)).toEqual(["deck"]);
    expect(details.title).toBe("2 things");
  });
  test("an edit refused by one is refused for all", () => {
    const pins = [record("pins", "foot"), record("pins", "top")];
    expect(refusal(pins, "at", "-4")).toBe("a pin lies on its track");
  });
});

test("what else an edit carries is named", () => {
  expect(consequenceOf(plan, { collection: "tracks", id: "main" }, "Moving this curve")).toBe(
    "Moving this curve carries Loop, track spur, turnout on Main, 2 more and 2 height pins with it.",
  );
  // A slip lies where its two tracks cross.
  expect(consequenceOf(plan, { collection: "tracks", id: "spur" }, "Moving this track")).toBe(
    "Moving this track carries slip on Main with it.",
  );
  expect(consequenceOf(plan, { collection: "pins", id: "foot" }, "Moving this pin")).toBeUndefined();
});

describe("limits", () => {
  test("are overruled with a reason, and go back to those of the scale", () => {
    const path = "classes.main.radius";
    expect(typedLimit(plan, path, "28", "", "imperial")).toMatchObject({ ok: false });
    const edit = typedLimit(plan, path, "28", "only short engines run here", "imperial");
    if (!edit?.ok) throw new Error("refused");
    expect(edit.plan.standards.classes.main.radius).toEqual({
      value: 711.2,
      source: "the owner",
      reason: "only short engines run here",
    });
    const back = restoreLimit(edit.plan, path);
    expect(back.ok && back.plan.standards.classes.main.radius).toEqual(plan.standards.classes.main.radius);
  });
  test("of every reading with a limit can be found by its reading, and are the limit it is held to", () => {
    const readings = takeReadings(plan, layout).filter(({ limit }) => limit !== undefined);
    expect(readings.length).toBeGreaterThan(20);
    const lost = readings.filter((reading) => limitOfReading(plan, reading) === undefined);
    /** Held to nothing at all, to the cars' height, to a rule that is no setting, or to several settings at once. */
    const fixed = ["joint", "turnout-room", "sight", "door", "reach", "turnout-reach", "yard", "spur", "climb"];
    const scopes = ["turnout-size:hidden", "aisle:duck"];
    expect(
      lost.map(readingKey).filter((key) => !fixed.includes(key.split(":")[0] ?? "") && !scopes.includes(key)),
    ).toEqual([]);
  });

  test("that an older plan lacks are those its scale begins with, and can be overruled", () => {
    const { aisleWork: _work, ...older } = plan.standards;
    const { turnout: _turnout, ...main } = older.classes.main;
    const bare = { ...plan, standards: { ...older, classes: { ...older.classes, main } } };
    expect(limitValue(bare, "aisleWork")).toBe(762);
    expect(limitValue(bare, "classes.main.turnout")).toBe(6);
    for (const path of ["aisleWork", "classes.main.turnout"] as const) {
      const edit = typedLimit(bare, path, "8", "so I like it", "imperial");
      if (!edit?.ok) throw new Error("refused");
      expect(limitValue(edit.plan, path)).toBe(path === "aisleWork" ? 203.2 : 8);
    }
  });
});

describe("a wall's length", () => {
  /** A room with a chimney breast in its first side. */
  const notched: Plan = {
    ...empty,
    room: {
      ...empty.room,
      openings: { hatch: { kind: "passage", wall: 4, at: 200, width: 600 } },
      outline: [
        { x: 0, y: 0 },
        { x: 1000, y: 0 },
        { x: 1000, y: 300 },
        { x: 1600, y: 300 },
        { x: 1600, y: 0 },
        { x: 3000, y: 0 },
        { x: 3000, y: 2500 },
        { x: 0, y: 2500 },
      ],
    },
  };
  test.each([0, 1, 2, 3, 4, 5, 6, 7])("of wall %i is what was typed, and one wall gives way", (wall) => {
    const before = wallLength(notched, wall) ?? 0;
    const edit = setWallLength(notched, wall, before + 120);
    if (!edit.ok) throw new Error(edit.message);
    const lengths = notched.room.outline.map((_, i) => wallLength(edit.plan, i) ?? 0);
    expect(lengths[wall]).toBeCloseTo(before + 120, 9);
    const changed = lengths.filter((length, i) => Math.abs(length - (wallLength(notched, i) ?? 0)) > 1e-9);
    expect(changed).toHaveLength(2);
    expect(edit.plan.room.openings).toBe(notched.room.openings);
  });
  test("is refused where the wall opposite has no room for it, or the opening none in the wall", () => {
    expect(setWallLength(notched, 1, 1)).toMatchObject({ ok: true });
    expect(setWallLength(notched, 6, 500)).toMatchObject({ ok: false });
    expect(setWallLength(notched, 4, 700)).toMatchObject({
      ok: false,
      message: expect.stringMatching(/corner|shorter/),
    });
    expect(setWallLength(notched, 0, 0)).toMatchObject({ ok: false });
  });
  test("in a room with no wall opposite turns the next one", () => {
    const corners = [
      { x: 0, y: 0 },
      { x: 1000, y: 0 },
      { x: 400, y: 900 },
    ];
    const edit = setWallLength({ ...empty, room: { ...empty.room, outline: corners } }, 0, 1200);
    expect(edit.ok && edit.plan.room.outline).toEqual([corners[0], { x: 1200, y: 0 }, corners[2]]);
  });
});
