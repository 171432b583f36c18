/** The rows of the readings, the words on an empty sheet, and flying to a place. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Viewport } from "../../src/drafting/viewport.js";
import { firstWords } from "../../src/editor/help/first-words.js";
import { PAGE_COMMANDS, stepTitle } from "../../src/editor/page-commands.js";
import { between, thingNamed } from "../../src/editor/panels/fly-to.js";
import { nextPlace, readingGroups, rowText } from "../../src/editor/panels/readings/reading-rows.js";
import { COMMANDS } from "../../src/editor/sheet/commands.js";
import { STAGES } from "../../src/editor/tool.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { startHistory, commit, undo } from "../../src/plan/history.js";
import { readPlan } from "../../src/plan/read.js";
import type { Reading, Verdict } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";

const file = "sample-plans/larkmoor-and-summit.plan.json";
const read = readPlan(readFileSync(file, "utf8"), file);
if (!read.ok) throw new Error("the sample plan cannot be read");
const { plan } = read;
const readings = takeReadings(plan, deriveLayout(plan));

test("every reading has a row, grouped Track, Climb, Decks, Room, Trains, lengths last", () => {
  const groups = readingGroups(readings);
  expect(groups.map(({ name }) => name)).toEqual(["Track", "Climb", "Decks", "Room", "Trains", "Lengths"]);
  expect(new Set(groups.flatMap((group) => group.readings))).toEqual(new Set(readings));
});

test("rows keep their order whatever their verdicts", () => {
  const names = (all: readonly Reading[]) => readingGroups(all).flatMap((group) => group.readings.map((r) => r.label));
  const verdicts: readonly Verdict[] = ["fails", "none", "tight", "clear"];
  const shuffled = readings.map((reading, i) => ({ ...reading, verdict: verdicts[i % 4] ?? "clear" }));
  expect(names(shuffled)).toEqual(names(readings));
});

const reading: Reading = {
  id: "radius",
  scope: "main",
  label: "Least radius, main",
  value: 31.75 * 25.4,
  unit: "mm",
  limit: 30 * 25.4,
  bound: "least",
  verdict: "clear",
  places: [],
  source: "",
};

test.each([
  [reading, { word: "Clear", value: "31¾″", limit: "≥ 30″" }],
  [
    { ...reading, verdict: "tight" as const },
    { word: "Tight", value: "31¾″", limit: "≥ 30″" },
  ],
  [
    { ...reading, limit: undefined, bound: undefined, verdict: "none" as const },
    { word: "", value: "31¾″", limit: "No limit" },
  ],
  [
    { ...reading, value: undefined, limit: undefined, bound: undefined, verdict: "none" as const },
    { word: "", value: "–", limit: "No limit" },
  ],
])("sign, word, value and limit of a row", (row, text) => {
  expect(rowText(row, "imperial")).toEqual(text);
});

test("choosing a reading again goes on to its next place, and round", () => {
  const place = { deck: "lower", point: { x: 0, y: 0 }, thing: "tracks.main" };
  const three = { ...reading, places: [place, place, place] };
  expect([undefined, 0, 1, 2].map((before) => nextPlace(three, before))).toEqual([0, 1, 2, 0]);
  expect(nextPlace(reading, undefined)).toBe(0);
});

test.each([
  ["tracks.main", { kind: "record", collection: "tracks", id: "main" }],
  ["tracks.main.legs.2", { kind: "record", collection: "tracks", id: "main", leg: 2 }],
  ["room.openings.door", { kind: "opening", id: "door" }],
  ["room.obstacles.flue", { kind: "obstacle", id: "flue" }],
  ["room", undefined],
  ["", undefined],
])("a place names the thing %j", (name, thing) => {
  expect(thingNamed(name)).toEqual(thing);
});

describe("a flight", () => {
  const from: Viewport = { centre: { x: 0, y: 0 }, scale: 0.1, width: 800, height: 600 };
  test.each([
    { centre: { x: 3000, y: 1000 }, scale: 0.4 },
    { centre: { x: 3000, y: 1000 }, scale: 0.1 },
  ])("starts where one looks and ends at the place: %j", (to) => {
    expect(between(from, to, 0)).toMatchObject({ centre: { x: 0, y: 0 }, scale: 0.1 });
    const end = between(from, to, 1);
    expect(end.scale).toBeCloseTo(to.scale, 12);
    expect(end.centre.x).toBeCloseTo(to.centre.x, 9);
    expect(end.centre.y).toBeCloseTo(to.centre.y, 9);
    const steps = [0, 0.25, 0.5, 0.75, 1].map((part) => between(from, to, part).centre.x);
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
  });
});

describe("an empty sheet", () => {
  const empty = emptyPlan({ title: "Empty", width: 4000, depth: 3000, scale: "HO", units: "metric" });
  test.each(STAGES)("says in %s what to do first", (stage) => {
    expect(firstWords(empty, stage)).toMatch(/\.$/);
  });
  test.each(STAGES)("a full one says nothing in %s", (stage) => {
    expect(firstWords(plan, stage)).toBeUndefined();
  });
  test("has no rows: there is nothing to measure yet", () => {
    expect(readingGroups(takeReadings(empty, deriveLayout(empty)))).toEqual([]);
  });
});

test("undo and redo are named by what they would do", () => {
  const start = startHistory(plan);
  const done = commit(start, "Lay leg", { ...plan });
  expect(stepTitle("undo", { history: start })).toBeUndefined();
  expect(stepTitle("undo", { history: done })).toBe("Undo: lay leg");
  expect(stepTitle("redo", { history: undo(done) })).toBe("Redo: lay leg");
});

test("no key stands for two commands", () => {
  const keys = [...PAGE_COMMANDS, ...COMMANDS].flatMap((command) => command.keys);
  expect(keys.filter((key, i) => keys.indexOf(key) !== i)).toEqual([]);
});
