/** Details of trackwork: slips, stalls, bumpers, hinges of gates, measured turnouts and what is made to them. */
import { describe, expect, test } from "vitest";
import { consequenceOf } from "../../src/editor/panels/details/consequence.js";
import type { Thing } from "../../src/drafting/thing.js";
import { detailsOf } from "../../src/editor/panels/details/details-of.js";
import { type Field, typedEdit } from "../../src/editor/panels/details/field.js";
import { startingTemplate } from "../../src/editor/panels/templates/starting-template.js";
import { templateDrawing } from "../../src/drafting/template-drawing.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Edit } from "../../src/plan/edit.js";
import type { Plan, Template } from "../../src/plan/schema.js";
import { addTemplate, duplicateTemplate, removeTemplate } from "../../src/plan/template-edits.js";
import { layPlan } from "./lay-plan.js";

const bought: Template = { name: "Bought", length: 230, points: 30, angle: 9.5, radius: 700 };
const plan: Plan = {
  ...layPlan,
  slips: { slip: { on: "main", at: 900, across: "alone", kind: "double" } },
  turntables: { pit: { on: "alone", end: "end", bridge: 300, stalls: [-15, 0, 15] } },
  templates: { bought },
  tracks: {
    ...layPlan.tracks,
    shed: {
      name: "Shed 3",
      class: "spur",
      deck: "lower",
      start: { turntable: "pit", stall: 2 },
      legs: [{ straight: 300 }],
    },
  },
  gates: {
    gate: {
      deck: "lower",
      kind: "swing",
      outline: [
        { x: 0, y: 0 },
        { x: 900, y: 0 },
        { x: 900, y: 300 },
        { x: 0, y: 300 },
      ],
    },
  },
};
type Collection = (Thing & { kind: "record" })["collection"];
const details = (collection: Collection, id: string, of = plan) =>
  detailsOf(of, deriveLayout(of), [{ kind: "record", collection, id }], "metric");
function field(collection: Collection, id: string, name: string, of = plan): Field {
  const found = details(collection, id, of)
    .sections.flatMap(({ fields }) => fields)
    .find((one) => one.id === name);
  if (!found) throw new Error(`no field ${name}`);
  return found;
}
function planAfter(edit: Edit | undefined): Plan {
  if (!edit?.ok) throw new Error(edit ? edit.message : "nothing changed");
  return edit.plan;
}
const typed = (collection: Collection, id: string, name: string, text: string, of = plan): Plan =>
  planAfter(typedEdit(field(collection, id, name, of), text, of, "metric"));
const message = (edit: Edit | undefined): string => (edit && !edit.ok ? edit.message : "done");

describe("stalls", () => {
  test("are turned, emptied away, and tell the track that leads from them", () => {
    expect(typed("turntables", "pit", "stall.1", "7.5°").turntables["pit"]?.stalls).toEqual([-15, 7.5, 15]);
    expect(field("turntables", "pit", "stall.2").note).toBe("Shed 3");
    const fewer = typed("turntables", "pit", "stall.0", "");
    expect(fewer.turntables["pit"]?.stalls).toEqual([0, 15]);
    expect(fewer.tracks["shed"]?.start).toEqual({ turntable: "pit", stall: 1 });
    expect(message(typedEdit(field("turntables", "pit", "stall.2"), "", plan, "metric"))).toMatch(
      /track leads from stall 3/,
    );
  });
  test("are added as far on as the last two lie apart", () => {
    const actions = details("turntables", "pit").sections.flatMap((section) => section.actions ?? []);
    const added = planAfter(actions.find(({ id }) => id === "add")?.do(plan));
    expect(added.turntables["pit"]?.stalls).toEqual([-15, 0, 15, 30]);
    expect(message(actions.find(({ id }) => id === "remove")?.do(plan))).toMatch(/take it up first/);
  });
  test("lie round a bridge of another length, in either unit", () => {
    expect(typed("turntables", "pit", "bridge", '13"').turntables["pit"]?.bridge).toBeCloseTo(330.2, 9);
  });
});

test("a single slip has a side, a double one none", () => {
  const single = typed("slips", "slip", "kind", "single");
  expect(single.slips["slip"]).toMatchObject({ kind: "single", side: "left" });
  const [flip] = details("slips", "slip", single).sections.flatMap((section) => section.actions ?? []);
  expect(planAfter(flip?.do(single)).slips["slip"]).toMatchObject({ side: "right" });
  expect(typed("slips", "slip", "kind", "double", single).slips["slip"]).toEqual(plan.slips["slip"]);
});

test.each([
  ["start", ["start"]],
  ["both", ["start", "end"]],
])("bumpers of a track: %s", (value, bumpers) => {
  const with_ = typed("tracks", "alone", "bumpers", value);
  expect(with_.tracks["alone"]?.bumpers).toEqual(bumpers);
  expect(typed("tracks", "alone", "bumpers", "none", with_).tracks["alone"]).toEqual(plan.tracks["alone"]);
});

test("a gate turns about a corner or folds on a side; a lift-out does neither", () => {
  const hung = typed("gates", "gate", "hinge", "3");
  expect(hung.gates["gate"]?.hinge).toBe(3);
  const drop = typed("gates", "gate", "kind", "drop", hung);
  expect(field("gates", "gate", "hinge", drop)).toMatchObject({ label: "Folds on", value: "3" });
  const out = typed("gates", "gate", "kind", "lift-out", drop);
  expect(out.gates["gate"]).not.toHaveProperty("hinge");
  expect(() => field("gates", "gate", "hinge", out)).toThrow("no field");
});

describe("measured turnouts", () => {
  test("are made to by a turnout, shown with it, and not removed while it is", () => {
    const made = typed("turnouts", "points", "template", "bought");
    expect(made.turnouts["points"]).toMatchObject({ template: "bought" });
    expect(details("turnouts", "points", made).sections.find(({ id }) => id === "made-to")).toMatchObject({
      templates: "bought",
    });
    expect(message(removeTemplate(made, "bought"))).toBe("Quarry points is made to Bought: give it a number first");
    expect(planAfter(removeTemplate(plan, "bought")).templates).toEqual({});
    const back = typed("turnouts", "points", "template", "number:", made);
    expect(back.turnouts["points"]).not.toHaveProperty("template");
  });
  test("are added as a number of the table, and doubled under a name of their own", () => {
    const { id, edit } = addTemplate(plan, startingTemplate(plan));
    const added = planAfter(edit);
    expect(added.templates[id]?.angle).toBeCloseTo(9.53, 1);
    const twice = duplicateTemplate(added, "bought");
    const again = duplicateTemplate(planAfter(twice.edit), twice.id);
    expect(Object.values(planAfter(again.edit).templates).map(({ name }) => name)).toEqual([
      "Bought",
      "Measured",
      "Bought 2",
      "Bought 3",
    ]);
  });
  test("have a name", () => {
    expect(message(typedEdit(field("templates", "bought", "name"), " ", plan, "metric"))).toBe(
      "a measured turnout has a name",
    );
  });
  test("stand in the plan's details", () => {
    const all = detailsOf(plan, deriveLayout(plan), [], "metric");
    expect(all.sections.find(({ id }) => id === "templates")).toMatchObject({ templates: "all", folded: true });
  });
});

describe("the drawing of a measured turnout", () => {
  const gauge = 16.5;
  test("has both routes at their lengths, the diverging one turned by its angle", () => {
    const drawing = templateDrawing({ ...bought, diverging: 225 }, gauge);
    const [upper, lower, left, right] = drawing?.rails ?? [];
    expect(upper?.at(-1)).toEqual({ x: 230, y: gauge / 2 });
    expect(lower?.at(-1)).toEqual({ x: 230, y: -gauge / 2 });
    // Straight for 30, 700 x 9.5 degrees = 116.06 of curve, 78.94 of tail: counted by hand.
    const angle = (9.5 * Math.PI) / 180;
    const x = 30 + 700 * Math.sin(angle) + 78.94 * Math.cos(angle);
    const y = 700 * (1 - Math.cos(angle)) + 78.94 * Math.sin(angle);
    const end = {
      x: ((left?.at(-1)?.x ?? 0) + (right?.at(-1)?.x ?? 0)) / 2,
      y: ((left?.at(-1)?.y ?? 0) + (right?.at(-1)?.y ?? 0)) / 2,
    };
    expect(end.x).toBeCloseTo(x, 1);
    expect(end.y).toBeCloseTo(y, 1);
  });
  test.each([
    ["curve longer than the route", { ...bought, radius: 3000 }],
    ["points beyond the end", { ...bought, points: 300 }],
  ])("is none with its %s", (_, template) => {
    expect(templateDrawing(template, gauge)).toBeUndefined();
  });
});

test("a track that ends in a pit carries it, with what leads from it", () => {
  expect(consequenceOf(plan, { collection: "tracks", id: "alone" }, "Moving this track")).toMatch(
    /^Moving this track carries .*turntable on .* with it\.$/,
  );
});
