import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { planChanges } from "../../src/plan/changes.js";
import type { Ref } from "../../src/plan/collections.js";
import { amendRecord, andThen, type Edit, putRecord, removeRecord, renameRecord } from "../../src/plan/edit.js";
import { allReferences, danglingReferences } from "../../src/plan/references.js";
import { type Collection, COLLECTIONS, type Id, type Plan, planSchema, type Track } from "../../src/plan/schema.js";
import * as settings from "../../src/plan/setting-edits.js";
import * as tracks from "../../src/plan/track-edits.js";
import * as turnouts from "../../src/plan/turnout-edits.js";
import { goldenPlan } from "./golden-plan.js";

const plan = goldenPlan();
const after = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};
const SPUR: Track = {
  class: "spur",
  deck: "lower",
  start: { pose: { x: 0, y: 0, heading: 0 } },
  legs: [{ straight: 100 }, { straight: 200 }],
};
const withSpur = after(tracks.addTrack(plan, "new-spur", SPUR));
const straights = (edit: Edit): unknown =>
  after(edit).tracks["new-spur"]?.legs.map((leg) => ("straight" in leg ? leg.straight : leg));

describe("an edit names itself and touches only its record", () => {
  test.each<[string, Edit, Partial<Record<"added" | "updated" | "removed", string[]>>]>([
    ["Add track", tracks.addTrack(plan, "new-spur", SPUR), { added: ["tracks.new-spur"] }],
    ["Change track", tracks.setTrack(plan, "main", { class: "branch" }), { updated: ["tracks.main"] }],
    ["Move track", tracks.moveTrackStart(plan, "main", SPUR.start), { updated: ["tracks.main"] }],
    ["Change leg", tracks.setLeg(plan, "main", 0, { straight: 5 }), { updated: ["tracks.main"] }],
    ["Lay leg", tracks.appendLeg(plan, "main", { straight: 5 }), { updated: ["tracks.main"] }],
    ["Take up leg", tracks.removeLeg(plan, "main", 5), { updated: ["tracks.main"] }],
    ["Relay track", tracks.replaceLegs(plan, "main", []), { updated: ["tracks.main"] }],
    [
      "Place turnout",
      turnouts.placeTurnout(plan, "new", { on: "spur", at: 50, facing: "with", hand: "left", number: 5 }),
      { added: ["turnouts.new"] },
    ],
    ["Move turnout", turnouts.moveTurnout(plan, "west", { at: 260 }), { updated: ["turnouts.west"] }],
    ["Flip turnout", turnouts.flipTurnout(plan, "west", "hand"), { updated: ["turnouts.west"] }],
    ["Turn turnout round", turnouts.flipTurnout(plan, "west", "facing"), { updated: ["turnouts.west"] }],
    ["Change turnout", turnouts.sizeTurnout(plan, "west", { template: "short-six" }), { updated: ["turnouts.west"] }],
    ["Pin height", turnouts.setPin(plan, "mid", { track: "climb", at: 100, height: 1200 }), { added: ["pins.mid"] }],
    ["Move height pin", turnouts.movePin(plan, "low", 10), { updated: ["pins.low"] }],
    ["Change height", turnouts.setPinHeight(plan, "low", { height: 1000 }), { updated: ["pins.low"] }],
    ["Remove height pin", turnouts.removePin(plan, "low"), { removed: ["pins.low"] }],
    ["Change deck", amendRecord(plan, "decks", "upper", { height: 1500 }), { updated: ["decks.upper"] }],
    ["Remove label", removeRecord(plan, { collection: "labels", id: "town" }), { removed: ["labels.town"] }],
  ])("%s", (name, edit, expected) => {
    expect(edit.ok && edit.name).toBe(name);
    const { added, updated, removed, properties } = planChanges(plan, after(edit));
    const print = (refs: readonly Ref[]): string[] => refs.map((ref) => `${ref.collection}.${ref.id}`);
    expect({ added: print(added), updated: print(updated), removed: print(removed), properties }).toEqual({
      added: [],
      updated: [],
      removed: [],
      properties: [],
      ...expected,
    });
    expect(planSchema.safeParse(after(edit)).success).toBe(true);
    expect(plan).toEqual(goldenPlan());
  });
});

test("legs are laid and taken up at their places, the others staying the same objects", () => {
  expect(straights(tracks.insertLeg(withSpur, "new-spur", 1, { straight: 150 }))).toEqual([100, 150, 200]);
  expect(straights(tracks.insertLeg(withSpur, "new-spur", 2, { straight: 300 }))).toEqual([100, 200, 300]);
  expect(straights(tracks.removeLeg(withSpur, "new-spur", 0))).toEqual([200]);
  expect(straights(tracks.setLeg(withSpur, "new-spur", 1, { straight: 9 }))).toEqual([100, 9]);
  const changed = after(tracks.setLeg(withSpur, "new-spur", 1, { straight: 9 })).tracks["new-spur"];
  expect(changed?.start).toBe(withSpur.tracks["new-spur"]?.start);
  expect(changed?.legs[0]).toBe(withSpur.tracks["new-spur"]?.legs[0]);
});

test("flipping twice, and sizing back, gives an equal turnout", () => {
  for (const what of ["hand", "facing"] as const) {
    const twice = andThen(turnouts.flipTurnout(plan, "west", what), (next) => turnouts.flipTurnout(next, "west", what));
    expect(after(twice)).toEqual(plan);
  }
  const sized = after(turnouts.sizeTurnout(plan, "west", { template: "short-six" }));
  expect(sized.turnouts["west"]).not.toHaveProperty("number");
  expect(after(turnouts.sizeTurnout(sized, "west", { number: 6 }))).toEqual(plan);
});

describe("what changes nothing gives back the very plan", () => {
  const main = plan.tracks["main"];
  const leg = main?.legs[0];
  if (main === undefined || leg === undefined) throw new Error("no main");
  test.each<[string, Edit]>([
    ["the same record", putRecord(plan, "tracks", "main", main)],
    ["the same leg", tracks.setLeg(plan, "main", 0, leg)],
    ["the same class", tracks.setTrack(plan, "main", { class: "main" })],
    ["taking out what is not there", tracks.setTrack(plan, "main", { option: undefined })],
    ["the same place", turnouts.moveTurnout(plan, "west", { on: "main", at: 200 })],
    ["the same id", renameRecord(plan, { collection: "tracks", id: "main" }, "main")],
    ["the same title", settings.setTitle(plan, plan.title)],
    ["the same units", settings.setUnits(plan, "metric")],
    ["the same option", settings.chooseOption(plan, "with-loop")],
  ])("%s", (_, edit) => {
    expect(after(edit)).toBe(plan);
  });
});

describe("what cannot be done is answered with a sentence", () => {
  test.each<[Edit, string]>([
    [tracks.addTrack(plan, "main", SPUR), 'there is a track "main" already'],
    [
      tracks.addTrack(plan, "a b", SPUR),
      '"a b": expected an id of up to 40 letters, digits, hyphens and underscores, found the text "a b"',
    ],
    [tracks.addTrack(plan, "toString", SPUR), '"toString": not usable as an id'],
    [tracks.addTrack(plan, "x", { ...SPUR, deck: "attic" }), 'deck: there is no deck "attic"'],
    [
      tracks.addTrack(plan, "x", { ...SPUR, legs: [{ straight: -1 }] }),
      "legs.0.straight: must be more than 0, found -1",
    ],
    [tracks.setLeg(plan, "main", 6, { straight: 1 }), 'track "main" has 6 legs, none at place 6'],
    [tracks.removeLeg(plan, "gone", 0), 'there is no track "gone"'],
    [tracks.moveTrackStart(plan, "main", { turnout: "gone" }), 'start.turnout: there is no turnout "gone"'],
    [tracks.removeTrack(plan, "spur"), "tracks.spur is needed by turnouts.fork, tracks.crossover"],
    [turnouts.flipTurnout(plan, "fork", "hand"), 'turnout "fork" is a wye and has no hand'],
    [turnouts.flipTurnout(plan, "gone", "hand"), 'there is no turnout "gone"'],
    [turnouts.sizeTurnout(plan, "west", { number: 99 }), "number: must be at most 40, found 99"],
    [renameRecord(plan, { collection: "tracks", id: "main" }, "spur"), 'there is a track "spur" already'],
    [renameRecord(plan, { collection: "tracks", id: "gone" }, "new"), 'there is no track "gone"'],
    [settings.overruleSetting(plan, "train", 5000, " "), "a setting is overruled with a reason"],
    [settings.overruleSetting(plan, "train", "long", "so"), 'train.value: expected a number, found the text "long"'],
    [settings.acceptReading(plan, "grade", ""), "a reading is accepted with a reason"],
    [settings.withdrawAcceptance(plan, "radius"), '"radius" is not accepted'],
    [settings.chooseOption(plan, "gone"), 'there is no option "gone"'],
    [settings.setTitle(plan, "x".repeat(201)), "title: must have at most 200 characters"],
    [settings.discardSetAside(plan, 2), "nothing is set aside at place 2"],
  ])("%#: %j", (edit, message) => {
    expect(edit).toEqual({ ok: false, message });
  });
});

test("a reference that led nowhere before does not stand in the way", () => {
  const dangling = { ...plan, tracks: { ...plan.tracks, lost: { ...SPUR, deck: "attic" } } };
  expect(tracks.appendLeg(dangling, "lost", { straight: 1 }).ok).toBe(true);
  expect(tracks.moveTrackStart(dangling, "lost", { turnout: "gone" }).ok).toBe(false);
});

describe("removing", () => {
  test("with dependants takes whatever could not stand, and leaves no reference behind", () => {
    const next = after(tracks.removeTrack(plan, "main", "with-dependants"));
    expect(Object.keys(next.tracks)).toEqual([]);
    expect(Object.keys(next.turnouts)).toEqual([]);
    expect(Object.keys(next.pins)).toEqual([]);
    expect(danglingReferences(next)).toEqual([]);
    expect(next.benches).toBe(plan.benches);
  });
  test("leaving dependants leaves them as they are", () => {
    const next = after(turnouts.removeTurnout(plan, "west", "leave"));
    expect(danglingReferences(next)).toEqual([
      {
        from: { collection: "tracks", id: "passing" },
        property: "start.turnout",
        to: { collection: "turnouts", id: "west" },
      },
    ]);
    expect(next.tracks).toBe(plan.tracks);
  });
  test("the chosen option is no longer chosen", () => {
    expect(after(removeRecord(plan, { collection: "options", id: "with-loop" }, "with-dependants"))).not.toHaveProperty(
      "option",
    );
  });
});

test("renaming: everything that named the record follows, and back again is as it was", () => {
  for (const collection of COLLECTIONS) {
    for (const id of Object.keys(plan[collection])) {
      const renamed = after(renameRecord(plan, { collection, id }, "fresh-name"));
      expect(danglingReferences(renamed)).toEqual([]);
      expect(Object.keys(renamed[collection]).indexOf("fresh-name")).toBe(Object.keys(plan[collection]).indexOf(id));
      expect(
        allReferences(renamed).filter((r) => r.to.id === "fresh-name" && r.to.collection === collection),
      ).toHaveLength(allReferences(plan).filter((r) => r.to.id === id && r.to.collection === collection).length);
      expect(after(renameRecord(renamed, { collection, id: "fresh-name" }, id))).toEqual(plan);
    }
  }
});

test("settings: overruled with a reason, restored; a class without limits takes the main's", () => {
  const { yard: _, ...classes } = plan.standards.classes;
  const bare: Plan = { ...plan, standards: { ...plan.standards, classes } };
  expect(settings.settingAt(bare.standards, "classes.yard.radius")).toBe(bare.standards.classes.main.radius);
  const next = after(settings.overruleSetting(bare, "classes.yard.radius", 400, "small engines only"));
  expect(next.standards.classes.yard).toEqual({
    ...bare.standards.classes.main,
    radius: { value: 400, source: "the owner", reason: "small engines only" },
  });
  expect(next.standards.classes.main).toBe(bare.standards.classes.main);
  const aisle = after(settings.overruleSetting(plan, "aisle", 900, "a wheelchair"));
  expect(planChanges(plan, aisle)).toEqual({ added: [], updated: [], removed: [], properties: ["standards"] });
  expect(after(settings.restoreSetting(aisle, "aisle", plan.standards))).toEqual(plan);
});

test("the plan's own properties", () => {
  expect(after(settings.setNotes(plan, ""))).not.toHaveProperty("notes");
  expect(after(settings.setUnits(plan, "imperial")).units).toBe("imperial");
  expect(after(settings.chooseOption(plan, undefined))).not.toHaveProperty("option");
  const accepted = settings.acceptReading(plan, "radius:yard", "one engine");
  expect(after(accepted).accepted["radius:yard"]).toEqual({ reason: "one engine" });
  expect(after(andThen(accepted, (next) => settings.withdrawAcceptance(next, "radius:yard")))).toEqual(plan);
  const once = settings.discardSetAside(plan, 0);
  expect(after(once).setAside).toEqual(plan.setAside?.slice(1));
  expect(after(andThen(once, (next) => settings.discardSetAside(next, 0)))).not.toHaveProperty("setAside");
});

test("random edits keep the schema and never add a reference that leads nowhere", () => {
  const ids = [...new Set(COLLECTIONS.flatMap((collection) => Object.keys(plan[collection]))), "gone"];
  const step = fc.record({
    what: fc.constantFrom("remove", "rename", "start", "on", "leg", "flip"),
    collection: fc.constantFrom<Collection>(...COLLECTIONS),
    id: fc.constantFrom<Id>(...ids),
    other: fc.constantFrom<Id>(...ids),
    index: fc.nat(6),
    value: fc.double({ min: -10, max: 1e7, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(step, { maxLength: 8 }), (steps) => {
      let current = plan;
      for (const { what, collection, id, other, index, value } of steps) {
        const edits: Record<typeof what, () => Edit> = {
          remove: () => removeRecord(current, { collection, id }, "with-dependants"),
          rename: () => renameRecord(current, { collection, id }, other),
          start: () => tracks.moveTrackStart(current, id, { track: other, end: "end" }),
          on: () => turnouts.moveTurnout(current, id, { on: other, at: value }),
          leg: () => tracks.insertLeg(current, id, index, { straight: value }),
          flip: () => turnouts.flipTurnout(current, id, index % 2 ? "hand" : "facing"),
        };
        const edit = edits[what]();
        if (edit.ok) current = edit.plan;
        else expect(edit.message).not.toBe("");
      }
      expect(planSchema.safeParse(current).success).toBe(true);
      expect(danglingReferences(current)).toEqual([]);
    }),
    { seed: 24, numRuns: 150 },
  );
});
