import { describe, expect, test } from "vitest";
import { OPENING_KINDS } from "../../src/plan/schema.js";
import { printProblem } from "../../src/plan/problem.js";
import { readPlan, type ReadResult } from "../../src/plan/read.js";
import { goldenContents, goldenPlan, goldenText, setAt } from "./golden-plan.js";

type Key = string | number;

function readSpoiled(...changes: readonly (readonly [path: readonly Key[], value: unknown])[]): ReadResult {
  const contents = goldenContents();
  setAt(contents, ["setAside"], undefined);
  for (const [path, value] of changes) setAt(contents, path, value);
  return readPlan(JSON.stringify(contents), "a.plan.json");
}

const lines = (result: ReadResult): string[] => result.report.problems.map(printProblem);

test("a sound file gives no problems", () => {
  expect(lines(readSpoiled())).toEqual([]);
});

describe("one line names file, record and property", () => {
  const legs = ["tracks", "main", "legs"] as const;
  const KEYS = "straight, curve, toward, join, beside or flex";
  test.each<[readonly Key[], unknown, string]>([
    [[...legs, 1, "curve", "radius"], -3, "tracks.main: legs.1.curve.radius: must be more than 0, found -3"],
    [[...legs, 1, "curve", "radius"], undefined, "tracks.main: legs.1.curve.radius: expected a number, it is missing"],
    [
      [...legs, 1, "curve", "hand"],
      "up",
      'tracks.main: legs.1.curve.hand: expected "left" or "right", found the text "up"',
    ],
    [
      [...legs, 1, "curve", "easement"],
      "long",
      'tracks.main: legs.1.curve.easement: expected a number or an object, found the text "long"',
    ],
    [
      [...legs, 1, "curve", "easement"],
      { in: 3 },
      "tracks.main: legs.1.curve.easement.out: expected a number, it is missing",
    ],
    [[...legs, 1, "curve", "easement"], -1, "tracks.main: legs.1.curve.easement: must be at least 0, found -1"],
    [[...legs, 0], {}, `tracks.main: legs.0: needs one of ${KEYS}`],
    [[...legs, 0], 7, `tracks.main: legs.0: expected an object with ${KEYS}, found 7`],
    [
      [...legs, 0],
      { straight: 5, flex: [] },
      "tracks.main: legs.0: has straight and flex but may have only one of them",
    ],
    [
      [...legs, 0],
      { straight: 5, curve: { radius: 5, angle: 5, hand: "left" } },
      "tracks.main: legs.0: has straight and curve but may have only one of them",
    ],
    [
      [...legs, 5, "join", "to"],
      { track: "main" },
      'tracks.main: legs.5.join.to.end: expected "start" or "end", it is missing',
    ],
    [
      [...legs, 5, "join", "to", "pose", "x"],
      null,
      "tracks.main: legs.5.join.to.pose.x: expected a number, found null",
    ],
    [
      [...legs, 4, "flex"],
      [{ x: 1, y: 2 }],
      "tracks.main: legs.4.flex: must have at least 3 items, a list of 1 is there",
    ],
    [
      ["tracks", "main", "start"],
      undefined,
      "tracks.main: start: expected an object with pose, turnout, track, beside or turntable, it is missing",
    ],
    [
      ["tracks", "main", "start"],
      { turnout: "a b" },
      'tracks.main: start.turnout: expected an id of up to 40 letters, digits, hyphens and underscores, found the text "a b"',
    ],
    [
      ["tracks", "main", "hidden"],
      "yes",
      'tracks.main: hidden: expected true or false or a list, found the text "yes"',
    ],
    [["tracks", "main", "hidden"], [{ from: 1 }], "tracks.main: hidden.0.to: expected a number, it is missing"],
    [["tracks", "main"], [], "tracks.main: expected an object, found a list of 0"],
    [["benches", "blob", "shape"], {}, "benches.blob: shape: needs one of outline, shelf or disc"],
    [
      ["benches", "blob", "shape", "disc", "radius"],
      0,
      "benches.blob: shape.disc.radius: must be more than 0, found 0",
    ],
    [["pins", "high", "deck"], "lower", "pins.high: needs either height or deck"],
    [["turnouts", "west", "number"], 99, "turnouts.west: number: must be at most 40, found 99"],
    [
      ["room", "openings", "door", "kind"],
      "hatch",
      `room.openings.door: kind: expected "${OPENING_KINDS.slice(0, -1).join('", "')}" or "${OPENING_KINDS.at(-1)}", found the text "hatch"`,
    ],
    [["room", "openings", "door", "wall"], 1.5, "room.openings.door: wall: expected a whole number, found 1.5"],
    [
      ["room", "outline"],
      [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
      ],
      "room: outline: must have at least 3 items, a list of 2 is there; an empty room's walls stand in",
    ],
    [["room", "ceiling"], "high", 'room: ceiling: expected a number, found the text "high"; 2440 mm stands in'],
    [["room"], undefined, "plan: room: it is missing; an empty room stands in"],
    [
      ["standards", "train", "value"],
      0,
      "standards: train.value: must be more than 0, found 0; the scale's own stands in",
    ],
    [
      ["standards", "classes", "main", "radius"],
      600,
      "standards: classes.main.radius: expected an object, found 600; the scale's own stands in",
    ],
    [
      ["standards", "classes", "yard"],
      600,
      "standards: classes.yard: expected an object of limits; the scale's own stand in",
    ],
    [["title"], 7, "plan: title: expected a text, found 7; it is left empty"],
    [["scale", "gauge"], undefined, "scale: gauge: expected a number, it is missing; H0 stands in"],
    [
      ["units"],
      "furlongs",
      'plan: units: expected "imperial" or "metric", found the text "furlongs"; metric stands in',
    ],
    [["pins"], [], "plan: pins: expected an object of records by id"],
    [["accepted", "grade:branch"], "yes", 'accepted.grade:branch: expected an object, found the text "yes"'],
  ])("%j set to %j", (path, value, expected) => {
    const result = readSpoiled([path, value]);
    expect(lines(result)).toContain(`a.plan.json: ${expected}`);
    expect(result.ok).toBe(true);
    expect(result.report.problems.some((problem) => problem.severity === "error")).toBe(true);
  });
});

describe("references that lead nowhere are remarked on, and the record stays", () => {
  test.each<[readonly Key[], unknown, string]>([
    [["tracks", "spur", "deck"], "attic", "tracks.spur: deck: there is no decks.attic"],
    [["tracks", "climb", "start", "track"], "gone", "tracks.climb: start.track: there is no tracks.gone"],
    [["tracks", "passing", "start", "turnout"], "gone", "tracks.passing: start.turnout: there is no turnouts.gone"],
    [
      ["tracks", "passing", "legs", 1, "join", "to", "turnout"],
      "gone",
      "tracks.passing: legs.1.join.to.turnout: there is no turnouts.gone",
    ],
    [
      ["tracks", "passing", "legs", 0, "beside", "track"],
      "gone",
      "tracks.passing: legs.0.beside.track: there is no tracks.gone",
    ],
    [
      ["tracks", "spur", "start", "beside", "track"],
      "gone",
      "tracks.spur: start.beside.track: there is no tracks.gone",
    ],
    [["turnouts", "west", "on"], "gone", "turnouts.west: on: there is no tracks.gone"],
    [["turnouts", "east", "template"], "gone", "turnouts.east: template: there is no templates.gone"],
    [["turnouts", "west", "number"], undefined, "turnouts.west: number: has neither frog number nor template"],
    [
      ["turnouts", "west", "template"],
      "short-six",
      "turnouts.west: number: has a frog number and a template; the template is used",
    ],
    [["pins", "low", "track"], "gone", "pins.low: track: there is no tracks.gone"],
    [["pins", "low", "deck"], "gone", "pins.low: deck: there is no decks.gone"],
    [["benches", "blob", "deck"], "gone", "benches.blob: deck: there is no decks.gone"],
    [["benches", "peninsula", "option"], "gone", "benches.peninsula: option: there is no options.gone"],
    [
      ["benches", "north-shelf", "shape", "shelf", "to", "wall"],
      9,
      "benches.north-shelf: shape.shelf.to.wall: there is no wall 9; the room has walls 0 to 3",
    ],
    [
      ["room", "openings", "door", "wall"],
      4,
      "room.openings.door: wall: there is no wall 4; the room has walls 0 to 3",
    ],
    [["labels", "town", "deck"], "gone", "labels.town: deck: there is no decks.gone"],
    [["option"], "gone", "plan: option: there is no options.gone"],
  ])("%j set to %j", (path, value, expected) => {
    const result = readSpoiled([path, value]);
    expect(lines(result)).toEqual([`a.plan.json: ${expected}`]);
    expect(result.report.problems[0]?.severity).toBe("warning");
    expect(result.report.setAside).toEqual([]);
  });
});

test("a broken record is set aside whole, the others stay as they are", () => {
  const result = readSpoiled([["tracks", "main", "legs", 1, "curve", "radius"], 0]);
  if (!result.ok) throw new Error("not read");
  expect(Object.keys(result.plan.tracks)).toEqual(["passing", "climb", "spur", "crossover", "stall"]);
  const raw = goldenContents();
  setAt(raw, ["tracks", "main", "legs", 1, "curve", "radius"], 0);
  expect(result.plan.setAside).toEqual([
    {
      record: "tracks.main",
      reasons: ["legs.1.curve.radius: must be more than 0, found 0"],
      value: Reflect.get(Object(raw["tracks"]), "main"),
    },
  ]);
  expect(result.report.setAside).toEqual(result.plan.setAside);
  expect(result.plan.tracks["spur"]).toEqual(goldenPlan().tracks["spur"]);
});

test("a broken setting gives way to the scale's own", () => {
  const result = readSpoiled([["standards", "classes", "main", "radius"], "wide"], [["standards", "body"], "NEM"]);
  if (!result.ok) throw new Error("not read");
  // 45 times the gauge of 16.5 mm, NEM 111; see the golden file, which was made from the same preset.
  expect(result.plan.standards.classes.main.radius.value).toBe(742.5);
  expect(result.plan.setAside).toMatchObject([{ record: "standards", property: "classes.main.radius", value: "wide" }]);
});

test("names given twice: nothing is lost, records of a collection given twice are joined", () => {
  const text = goldenText(1)
    .replace('"title":', '"title": "First",\n  "title":')
    .replace(
      '"decks": {',
      '"decks": { "attic": { "name": "Attic", "kind": "scenic", "height": 1900, "thickness": 50 }, "upper": { "name": "Old" } },\n  "decks": {',
    )
    .replace('"low": {', '"low": { "track": "main", "at": 5, "deck": "upper" },\n    "low": {');
  const result = readPlan(text);
  if (!result.ok) throw new Error("not read");
  expect(result.plan.title).toBe("Brackwater and Fell");
  expect(Object.keys(result.plan.decks)).toEqual(["lower", "upper", "hidden", "attic"]);
  expect(result.plan.setAside?.filter((entry) => entry.reasons[0] === "is given twice; the later one is used")).toEqual(
    [
      expect.objectContaining({ record: "plan", property: "title", value: "First" }),
      expect.objectContaining({ record: "decks.upper", value: { name: "Old" } }),
      expect.objectContaining({ record: "pins.low", value: { track: "main", at: 5, deck: "upper" } }),
    ],
  );
  expect(lines(result)).toContain("plan: plan: decks: is given twice; the records of both are used");
});

test("unknown properties are kept at every level", () => {
  const added: (readonly [readonly Key[], unknown])[] = [
    [["lighting"], { lux: 300 }],
    [["room", "paint"], "pale"],
    [["room", "openings", "door", "colour"], "green"],
    [["standards", "humidity"], 40],
    [["standards", "classes", "tram"], {}],
    [["standards", "classes", "main", "ballast"], [1]],
    [["tracks", "main", "rail"], "code 70"],
    [["tracks", "main", "legs", 0, "note"], "level here"],
    [["tracks", "main", "start", "pose", "z"], 1],
  ];
  const result = readSpoiled(...added);
  if (!result.ok) throw new Error("not read");
  expect(lines(result)).toEqual([]);
  for (const [path, value] of added) {
    expect(path.reduce<unknown>((at, key) => Reflect.get(Object(at), key), result.plan)).toEqual(value);
  }
});

describe("files that are no plans", () => {
  test.each<[string, string, string]>([
    ["nothing", "", "plan: line 1, column 1: the text is empty"],
    ["a list", "[]", "plan: expected a plan, found a list of 0"],
    [
      "another format",
      '{"format": "layout", "version": 1}',
      'plan: format: expected "ruling-grade-plan", found the text "layout": this is no plan file',
    ],
    ["no version", '{"format": "ruling-grade-plan"}', "plan: version: expected a whole number from 1, found nothing"],
    [
      "a fractional version",
      '{"format": "ruling-grade-plan", "version": 1.5}',
      "plan: version: expected a whole number from 1, found 1.5",
    ],
    [
      "version 0",
      '{"format": "ruling-grade-plan", "version": 0}',
      "plan: version: expected a whole number from 1, found 0",
    ],
    [
      "NaN",
      '{"format": "ruling-grade-plan", "pins": {"low": {"at": NaN}}}',
      "pins.low: at: line 1, column 56: NaN is no number a plan can hold",
    ],
  ])("%s", (_, text, expected) => {
    const result = readPlan(text, "b.plan.json");
    expect(result.ok).toBe(false);
    expect(lines(result)).toEqual([`b.plan.json: ${expected}`]);
  });
});

test("a newer version is shown, read only", () => {
  const result = readSpoiled([["version"], 7], [["tunnels"], {}]);
  if (!result.ok) throw new Error("not read");
  expect(result.report).toMatchObject({ version: 7, readOnly: true });
  expect(lines(result)).toEqual([
    "a.plan.json: plan: version: version 7 is newer than 1, the newest known here; what is understood is shown, read only",
  ]);
  expect(Object.keys(result.plan.tracks)).toHaveLength(6);
});

test("a byte order mark is no matter", () => {
  expect(readPlan(`\uFEFF${goldenText(1)}`).ok).toBe(true);
});

test("numbers beyond all bounds are called too large", () => {
  const result = readPlan(goldenText(1).replace('"ceiling": 2440', '"ceiling": 1e999'));
  expect(lines(result)).toContain("plan: room: ceiling: is too large to be a number; 2440 mm stands in");
  expect(result.report.setAside).toContainEqual(expect.objectContaining({ property: "ceiling", value: "Infinity" }));
});
