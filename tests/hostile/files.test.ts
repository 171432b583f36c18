/** Files that are cut off, empty, huge, of another version, or made to trip a program up. */
import { describe, expect, test } from "vitest";
import { printProblem } from "../../src/plan/problem.js";
import { MOST_TEXT, readPlan } from "../../src/plan/read.js";
import { writePlan } from "../../src/plan/write.js";
import { goldenContents, goldenText, setAt } from "../plan/golden-plan.js";
import { readLawfully } from "./nothing-lost.js";

test("a file cut off anywhere says so", () => {
  const text = goldenText(1);
  for (let length = 0; length < text.length - 2; length += 37) {
    const result = readPlan(text.slice(0, length));
    expect(result.ok).toBe(false);
    expect(result.report.problems).toHaveLength(1);
    expect(result.report.problems[0]?.message).toMatch(length === 0 ? /empty$/ : /cut off$/);
  }
});

test.each([
  ["nothing", ""],
  ["spaces", " \n\t"],
  ["a byte order mark", "\uFEFF"],
  ["null", "null"],
  ["a number", "17"],
  ["a text", '"plan"'],
  ["another kind of file", "%PDF-1.7\n\u0000\u0001"],
  ["markup", "<html></html>"],
])("%s is refused in one line", (_, text) => {
  const result = readLawfully(text, undefined);
  expect(result.ok).toBe(false);
  expect(result.report.problems).toHaveLength(1);
});

describe("sizes", () => {
  test("a text beyond the bound is not looked into", () => {
    const result = readPlan("[".repeat(3 * MOST_TEXT));
    expect(result.ok).toBe(false);
    expect(result.report.problems.map((problem) => problem.message)).toEqual([
      "60000000 characters is too much for a plan; at most 20000000 are read",
    ]);
  });

  test("ten thousand tracks are read", () => {
    const contents = goldenContents();
    const track = {
      class: "spur",
      deck: "lower",
      start: { pose: { x: 0, y: 0, heading: 0 } },
      legs: [{ straight: 10 }],
    };
    setAt(contents, ["tracks"], Object.fromEntries(Array.from({ length: 10_000 }, (_, i) => [`t${i}`, track])));
    const result = readPlan(JSON.stringify(contents));
    if (!result.ok) throw new Error("not read");
    expect(Object.keys(result.plan.tracks)).toHaveLength(10_000);
  });

  test("records beyond the bound are set aside", () => {
    const contents = goldenContents();
    setAt(
      contents,
      ["labels"],
      Object.fromEntries(Array.from({ length: 50_003 }, (_, i) => [`l${i}`, { text: "a", at: { x: 0, y: 0 } }])),
    );
    const result = readPlan(JSON.stringify(contents));
    if (!result.ok) throw new Error("not read");
    expect(Object.keys(result.plan.labels)).toHaveLength(50_000);
    expect(result.plan.setAside?.filter((entry) => entry.record.startsWith("labels."))).toHaveLength(3);
  });

  test.each<[string, (string | number)[], unknown]>([
    ["200,000 corners", ["room", "outline"], Array.from({ length: 200_000 }, () => 0)],
    ["200,000 legs", ["tracks", "main", "legs"], Array.from({ length: 200_000 }, () => 0)],
    [
      "200,000 corners of a bench",
      ["benches", "peninsula", "shape", "outline"],
      Array.from({ length: 200_000 }, () => ({})),
    ],
    ["200,000 hidden stretches", ["tracks", "main", "hidden"], Array.from({ length: 200_000 }, () => [])],
    ["a text of a million letters", ["tracks", "main", "name"], "a".repeat(1_000_000)],
    [
      "2,000 empty legs in each of 300 tracks",
      ["tracks"],
      Object.fromEntries(
        Array.from({ length: 300 }, (_, i) => [
          `t${i}`,
          { class: "main", deck: "lower", start: { turnout: "west" }, legs: Array.from({ length: 2000 }, () => 0) },
        ]),
      ),
    ],
  ])("%s: set aside, with few words", (_, path, value) => {
    const contents = goldenContents();
    setAt(contents, path, value);
    const result = readPlan(JSON.stringify(contents));
    if (!result.ok) throw new Error("not read");
    expect(result.report.problems.length).toBeLessThan(10_000);
    for (const problem of result.report.problems) expect(printProblem(problem).length).toBeLessThan(300);
    expect(
      result.plan.setAside?.some(
        (entry) =>
          entry.record.startsWith(path.slice(0, 2).join(".")) ||
          entry.record === path[0] ||
          entry.record.startsWith(`${path[0]}.`),
      ),
    ).toBe(true);
  });

  test.each(["[", '{"a":', '{"format":"ruling-grade-plan","version":1,"notes":['])(
    "100,000 levels of %s are refused",
    (open) => {
      const result = readPlan(open.repeat(100_000));
      expect(result.ok).toBe(false);
      expect(result.report.problems[0]?.message).toMatch(/nested more than 100 levels deep$/);
    },
  );

  test("10,001 names given twice are refused, 9,000 are reported", () => {
    const twice = (count: number): string =>
      goldenText(1).replace('"title":', `${'"title": "x",'.repeat(count)}"title":`);
    expect(readPlan(twice(10_001)).ok).toBe(false);
    const result = readPlan(twice(9_000));
    if (!result.ok) throw new Error("not read");
    expect(result.plan.setAside?.filter((entry) => entry.property === "title")).toHaveLength(9_000);
  });
});

describe("names that reach into every object", () => {
  const POISON = '{"polluted": "yes", "toString": 1}';
  test.each([
    ["at the top", '"title":', `"__proto__": ${POISON}, "title":`, "plan", "__proto__"],
    ["as an id", '"passing": {', `"__proto__": ${POISON}, "passing": {`, "tracks.__proto__", undefined],
    ["as another id", '"west": {', `"constructor": ${POISON}, "west": {`, "turnouts.constructor", undefined],
    ["in a record", '"text": "Brackwater"', `"text": "Brackwater", "prototype": ${POISON}`, "labels.town", "prototype"],
    [
      "in a leg",
      '{ "straight": 1200 }',
      `{ "straight": 1200, "__proto__": ${POISON} }`,
      "tracks.main",
      "legs.0.__proto__",
    ],
    ["in a setting", '"body": "NEM"', `"body": "NEM", "__proto__": ${POISON}`, "standards", "__proto__"],
    ["as an opening", '"door": {', `"__proto__": ${POISON}, "door": {`, "room.openings.__proto__", undefined],
  ])("%s", (_, find, put, record, property) => {
    expect(goldenText(1)).toContain(find);
    const text = goldenText(1).replace(find, put);
    const result = readPlan(text);
    if (!result.ok) throw new Error("not read");
    expect(Reflect.get({}, "polluted")).toBeUndefined();
    expect(Reflect.get(result.plan, "polluted")).toBeUndefined();
    expect(result.report.problems).toContainEqual(
      expect.objectContaining({ record, property: property ?? "", severity: "error" }),
    );
    const entry = result.plan.setAside?.find((one) => one.record === record && one.property === property);
    expect(JSON.stringify(entry?.value)).toBe(JSON.stringify(JSON.parse(POISON)));
    // And it survives being saved and opened again.
    const again = readPlan(writePlan(result.plan));
    expect(again.ok && again.plan).toEqual(result.plan);
  });

  test.each(["toString", "hasOwnProperty", "valueOf", "constructor"])("%s is no id, and no reference", (id) => {
    const contents = goldenContents();
    setAt(contents, ["tracks", "spur", "deck"], id);
    setAt(contents, ["decks", id], { name: "x", kind: "scenic", height: 1, thickness: 1 });
    const result = readPlan(JSON.stringify(contents));
    if (!result.ok) throw new Error("not read");
    expect(Object.keys(result.plan.decks)).toEqual(["lower", "upper", "hidden"]);
    const told = result.report.problems.map(printProblem);
    expect(told).toContain("plan: tracks.spur: deck: not usable as an id");
    expect(told.some((line) => line.startsWith(`plan: decks.${id}: `))).toBe(true);
  });
});

describe("what only the layout can judge is read without a word", () => {
  test.each<[string, [(string | number)[], unknown][]]>([
    [
      "tracks that start from each other",
      [
        [["tracks", "main", "start"], { track: "climb", end: "end" }],
        [["tracks", "climb", "start"], { track: "main", end: "end" }],
      ],
    ],
    ["a track that starts from itself", [[["tracks", "main", "start"], { track: "main", end: "end" }]]],
    [
      "a room that crosses itself",
      [
        [
          ["room", "outline"],
          [
            { x: 0, y: 0 },
            { x: 5000, y: 4000 },
            { x: 5000, y: 0 },
            { x: 0, y: 4000 },
          ],
        ],
      ],
    ],
    [
      "a room without any area",
      [
        [
          ["room", "outline"],
          [
            { x: 0, y: 0 },
            { x: 0, y: 0 },
            { x: 0, y: 0 },
            { x: 0, y: 0 },
          ],
        ],
      ],
    ],
    ["a turnout beyond its track", [[["turnouts", "west", "at"], 999_999]]],
  ])("%s", (_, changes) => {
    const contents = goldenContents();
    setAt(contents, ["setAside"], undefined);
    for (const [path, value] of changes) setAt(contents, path, value);
    const result = readLawfully(JSON.stringify(contents), contents);
    expect(result.ok).toBe(true);
    expect(result.report.problems).toEqual([]);
  });
});

test("what was set aside is kept through opening and saving, however often", () => {
  const contents = goldenContents();
  setAt(contents, ["tracks", "main", "legs"], 7);
  setAt(contents, ["setAside", 2], "not an entry");
  const first = readLawfully(JSON.stringify(contents), contents);
  if (!first.ok) throw new Error("not read");
  const second = readPlan(writePlan(first.plan));
  if (!second.ok) throw new Error("not read again");
  expect(second.plan).toEqual(first.plan);
  expect(second.report.problems.filter((problem) => problem.severity === "error")).toEqual([]);
});
