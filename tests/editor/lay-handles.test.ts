/** Handles of the chosen track, and what is done with all that is chosen. */
import { describe, expect, it } from "vitest";
import type { Effect, ToolInput } from "../../src/editor/tool.js";
import {
  copyOfChosen,
  duplicateChosen,
  joinChosen,
  pasteHere,
  reverseChosen,
} from "../../src/editor/tools/chosen-commands.js";
import { sheetLength } from "../../src/drafting/viewport.js";
import type { Leg, Plan } from "../../src/plan/schema.js";
import { layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const chosen = (id: string, plan: Plan = layPlan) => openSheet(plan).take("select").selectTrack(id);
const leg = (sheet: SheetDriver, id: string, i: number): Leg | undefined => sheet.plan.tracks[id]?.legs[i];
const endOf = (sheet: SheetDriver, id: string) =>
  sheet.state.settled.lines.get(`track:${id}`)?.path.end ?? { x: 0, y: 0 };
/** The shed road is far from everything, so its handles are alone. */
const curved: Plan = {
  ...layPlan,
  tracks: {
    ...layPlan.tracks,
    alone: {
      ...(layPlan.tracks["alone"] as Plan["tracks"][string]),
      legs: [{ straight: 600 }, { curve: { radius: 800, angle: 90, hand: "left", easement: 0 } }, { straight: 500 }],
    },
  },
};

describe("handles", () => {
  it("stand on every leg of the one track that is chosen, and on nothing else", () => {
    const names = (sheet: SheetDriver) =>
      sheet.state.show.overlay.flatMap((o) => (o.kind === "handle" ? [o.name] : []));
    expect(names(chosen("main"))).toEqual([
      "start",
      "direction",
      "length",
      "radius",
      "angle",
      "length",
      "Quarry points",
      "height pin",
    ]);
    expect(names(chosen("main").select())).toEqual([]);
  });

  it("give a straight another length; what comes after follows, and it is one step", () => {
    const sheet = chosen("alone", curved).drag([1600, 2000], [1900, 2050], 6);
    expect(leg(sheet, "alone", 0)).toEqual({ straight: 900 });
    // Radius 800 through 90 degrees, then 500 up.
    expect(endOf(sheet, "alone").x).toBeCloseTo(1900 + 800, 6);
    expect(endOf(sheet, "alone").y).toBeCloseTo(2000 + 800 + 500, 6);
    expect(sheet.undo().plan).toBe(curved);
  });

  it("bring the middle of a curve and its end to the pointer", () => {
    const middle = (r: number): readonly [number, number] => [1600 + r * Math.SQRT1_2, 2000 + r * (1 - Math.SQRT1_2)];
    const sheet = chosen("alone", curved).drag(middle(800), middle(1000), 6);
    expect(leg(sheet, "alone", 1)).toMatchObject({ curve: { radius: 1000, angle: 90 } });
    const end = (degrees: number): readonly [number, number] => {
      const a = (degrees * Math.PI) / 180;
      return [1600 + 800 * Math.sin(a), 2000 + 800 * (1 - Math.cos(a))];
    };
    sheet.undo().drag(end(90), end(60), 6);
    expect(leg(sheet, "alone", 1)).toMatchObject({ curve: { radius: 800, angle: 60 } });
  });

  it("move the start and turn its direction", () => {
    const sheet = chosen("alone").drag([1000, 2000], [1200, 2300], 6);
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 1200, y: 2300, heading: 0 } });
    const arm = sheetLength(sheet.state.viewport, 36);
    sheet.undo().drag([1000 - arm, 2000], [1000, 2000 - arm], 6);
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 1000, y: 2000, heading: 90 } });
  });

  it("lay the start on a free end it is dropped on", () => {
    const sheet = chosen("alone").drag([1000, 2000], [4000, 1890], 6);
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ track: "main", end: "end" });
  });

  it("slide turnouts and pins, and choose them by a click", () => {
    const sheet = chosen("main").drag([1300, 300], [2000, 340], 6);
    expect(sheet.plan.turnouts["points"]?.at).toBe(1500);
    sheet.undo().drag([600, 300], [900, 300], 6);
    expect(sheet.plan.pins["low"]?.at).toBe(400);
    sheet.undo().selectTrack("main").click(600, 300);
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "pins", id: "low" }]);
  });

  it("are set exactly by a number typed in the drag", () => {
    const sheet = chosen("alone", curved)
      .pointerDown(1600, 2000)
      .pointerMove(1900, 2000)
      .type('34 1/2"')
      .key("Enter")
      .pointerUp();
    expect(leg(sheet, "alone", 0)).toEqual({ straight: 34.5 * 25.4 });
    expect(sheet.state.history.preview).toBeUndefined();
    expect(sheet.undo().plan).toBe(curved);
  });

  it("show what would be while they are dragged, and leave no trace after Esc", () => {
    const sheet = chosen("alone", curved).pointerDown(1600, 2000).pointerMove(1900, 2000);
    expect(sheet.state.plan.tracks["alone"]?.legs[0]).toEqual({ straight: 900 });
    expect(sheet.plan).toBe(curved);
    sheet.cancel().pointerMove(2000, 2000).pointerUp();
    expect(sheet.state.plan).toBe(curved);
    expect(sheet.state.history.past).toBeUndefined();
  });

  it("lay only what follows again", () => {
    const sheet = chosen("alone", curved).pointerDown(1600, 2000).pointerMove(1900, 2000);
    expect(sheet.state.layout.derived.lines).toBe(1);
  });
});

describe("what is chosen", () => {
  it("is removed with what hangs on it, and that is said", () => {
    const sheet = chosen("main").key("Delete");
    expect(Object.keys(sheet.plan.tracks)).toEqual(["alone"]);
    expect(sheet.state.said).toBe("Also removes turnout Quarry points, height pin low and track Quarry spur.");
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("is nudged by arrows as one step, and by typed amounts", () => {
    const sheet = chosen("alone").key("ArrowRight").key("ArrowRight").key("ArrowUp");
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 1002, y: 2001, heading: 0 } });
    expect(sheet.undo().plan).toBe(layPlan);
    sheet.selectTrack("alone").type('2"').key("Tab").type("-100").key("Enter");
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 1050.8, y: 1900, heading: 0 } });
  });

  it("is turned about its middle: four quarters give it back", () => {
    const sheet = chosen("alone").key("[", { shift: true });
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 1600, y: 1400, heading: 90 } });
    for (let i = 0; i < 3; i++) sheet.key("[", { shift: true });
    expect(sheet.plan.tracks["alone"]).toEqual(layPlan.tracks["alone"]);
    sheet.key("[");
    expect(sheet.plan.tracks["alone"]?.start).toMatchObject({ pose: { heading: 15 } });
  });

  it("is mirrored with its turnouts and branches: twice gives it back", () => {
    const all = (["main", "spur", "alone"] as const).map(
      (id) => ({ kind: "record", collection: "tracks", id }) as const,
    );
    const sheet = openSheet(layPlan)
      .select(...all)
      .key("m");
    expect(sheet.plan.turnouts["points"]?.hand).toBe("right");
    expect(leg(sheet, "main", 1)).toMatchObject({ curve: { hand: "right" } });
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.key("m").plan).toEqual(layPlan);
  });

  it("goes with what it hangs on, and says so", () => {
    const sheet = chosen("spur").key("ArrowLeft");
    expect(sheet.plan).toBe(layPlan);
    expect(sheet.state.said).toMatch(/Quarry spur goes with Main/);
  });

  it("is duplicated, and turned round, by Shift with a letter", () => {
    const sheet = chosen("alone").key("D", { shift: true });
    expect(Object.keys(sheet.plan.tracks)).toContain("shed-road");
    sheet.selectTrack("alone").key("R", { shift: true });
    expect(sheet.plan.tracks["alone"]?.start).toEqual({ pose: { x: 2200, y: 2000, heading: 180 } });
  });

  it("is flipped where it is a turnout", () => {
    const sheet = openSheet(layPlan).select({ kind: "record", collection: "turnouts", id: "points" }).key("f");
    expect(sheet.plan.turnouts["points"]?.hand).toBe("right");
  });
});

/** What a menu or a panel does with the effects it is given. */
function run(sheet: SheetDriver, deed: (input: ToolInput) => readonly Effect[]): SheetDriver {
  const { history, settled, layout, deck, selection, units, viewport } = sheet.state;
  const input = {
    plan: history.plan,
    layout: settled,
    shown: layout,
    deck,
    selection,
    units,
    viewport,
    reach: sheetLength(viewport, 8),
  };
  for (const effect of deed(input)) {
    if (effect.do === "commit") sheet.state.edit(effect.edit, effect.key);
    else if (effect.do === "select") sheet.state.select(effect.selection);
    else if (effect.do === "say") sheet.state.say(effect.text);
  }
  return sheet;
}

it("while one handle is dragged, the others stand where it brings them", () => {
  const sheet = chosen("alone", curved);
  const places = () => sheet.state.show.overlay.flatMap((o) => (o.kind === "handle" ? [[o.name, o.at]] : []));
  const before = places();
  // The straight before the curve made longer: all that follows it moves.
  sheet.pointerDown(1600, 2000).pointerMove(1900, 2000);
  expect(sheet.state.history.preview).toBeDefined();
  const held = places();
  expect(held).toHaveLength(before.length);
  const moved = held.filter((place, i) => JSON.stringify(place) !== JSON.stringify(before[i]));
  expect(moved.map(([name]) => name)).toEqual(["length", "radius", "angle", "length"]);
  sheet.pointerUp();
  expect(places()).toEqual(held);
});

describe("copies", () => {
  it("of a track bring turnouts and pins on it along, with ids of their own, and hang on nothing", () => {
    const sheet = run(chosen("main"), duplicateChosen);
    const [id] = sheet.state.selection.flatMap((thing) => (thing.kind === "record" ? [thing.id] : []));
    expect(id).toBe("main-2");
    expect(Object.values(sheet.plan.turnouts).map((t) => t.on)).toEqual(["main", "main-2"]);
    expect(Object.values(sheet.plan.pins).map((p) => p.track)).toEqual(["main", "main-2"]);
    expect(sheet.plan.tracks["main"]).toBe(layPlan.tracks["main"]);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("of a branch without its main start where it lies", () => {
    const sheet = run(chosen("spur"), duplicateChosen);
    const copy = Object.values(sheet.plan.tracks).at(-1);
    const start = sheet.state.settled.lines.get("track:spur")?.path.start;
    expect(copy?.start).toMatchObject({ pose: { x: (start?.x ?? 0) + 100, y: (start?.y ?? 0) - 100 } });
  });

  it("are pasted at a point, onto the deck in hand, their own heights with the deck", () => {
    const sheet = chosen("main");
    let clipping: Parameters<typeof pasteHere>[1] | undefined;
    run(sheet, (input) => {
      const copied = copyOfChosen(input);
      if (copied.ok) clipping = copied.clipping;
      return [];
    });
    const taken = clipping;
    if (!taken) throw new Error("nothing was copied");
    run(sheet.deck("upper"), (input) => pasteHere(input, taken, { x: 3000, y: 2000 }));
    expect(sheet.plan.tracks["main-2"]?.deck).toBe("upper");
    expect(sheet.plan.pins["low-2"]?.deck).toBe("upper");
    expect(sheet.state.settled.findings).toEqual([]);
  });

  it("are refused where nothing is chosen that has a place of its own", () => {
    const sheet = run(openSheet(layPlan).select({ kind: "record", collection: "pins", id: "low" }), duplicateChosen);
    expect(sheet.plan).toBe(layPlan);
    expect(sheet.state.said).toMatch(/nothing to copy/i);
  });
});

describe("two chosen tracks", () => {
  it("are joined at their nearest free ends", () => {
    const both = (["alone", "spur"] as const).map((id) => ({ kind: "record", collection: "tracks", id }) as const);
    const sheet = run(openSheet(layPlan).select(...both), joinChosen);
    const legs = Object.values(sheet.plan.tracks).flatMap((track) => track.legs);
    expect(legs.filter((one) => "join" in one)).toHaveLength(1);
    expect(sheet.state.settled.findings).toEqual([]);
  });

  it("are turned round one at a time", () => {
    expect(run(chosen("alone"), reverseChosen).plan.tracks["alone"]?.start).toEqual({
      pose: { x: 2200, y: 2000, heading: 180 },
    });
  });
});
