import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { scanJson } from "../../src/plan/json-text.js";

const parses = (text: string): boolean => {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
};

describe("where a text is malformed", () => {
  test.each([
    ["", 1, 1, "the text is empty"],
    [" \n ", 2, 2, "the text is empty"],
    ['{"a": 1', 1, 8, "the text ends too early: it seems cut off"],
    ['{"a": "b', 1, 9, "the text ends too early: it seems cut off"],
    ['{\n  "a": NaN\n}', 2, 8, "NaN is no number a plan can hold"],
    ["[-Infinity]", 1, 2, "-Infinity is no number a plan can hold"],
    ["[undefined]", 1, 2, "undefined is no number a plan can hold"],
    ["[nul]", 1, 2, '"nul" is not understood; text stands in double quotes'],
    ['{"a": 1,}', 1, 9, 'a name in double quotes is missing, found "}"'],
    ["[1,]", 1, 4, 'a value is missing, found "]"'],
    ['{"a" 1}', 1, 6, 'a colon is missing after the name, found "1"'],
    ["[1 2]", 1, 4, 'a comma or closing bracket is missing before "2"'],
    ['{"a": 1]', 1, 8, 'a comma or closing bracket is missing before "]"'],
    ["{'a': 1}", 1, 2, 'a name in double quotes is missing, found "\'"'],
    ["[01]", 1, 2, '"01" is not a number as JSON writes them'],
    ["[1.]", 1, 2, '"1." is not a number as JSON writes them'],
    ["[.5]", 1, 2, 'a value is missing, found "."'],
    ["{} {}", 1, 4, 'nothing may follow the plan, found "{"'],
    ['["a\nb"]', 1, 4, "a text is not closed on its line, or holds a control character"],
    ['["\\x41"]', 1, 3, '"\\x" is no escape of JSON'],
    ["// plan\n{}", 1, 1, 'a value is missing, found "/"'],
  ])("%j", (text, line, column, message) => {
    expect(scanJson(text)).toMatchObject({ ok: false, line, column, message });
    expect(parses(text)).toBe(false);
  });
});

test("the fault's path leads into the record", () => {
  expect(scanJson('{"tracks": {"main": {"legs": [1, NaN]}}}')).toMatchObject({
    ok: false,
    path: ["tracks", "main", "legs", 1],
  });
});

test("names given twice are found at any depth, with the span of the earlier value", () => {
  const text = '{"a": {"x": [1, {"k": "one", "k": 2}]}, "a": 3, "a": 4, "\\u0061": 5}';
  const scan = scanJson(text);
  if (!scan.ok) throw new Error(scan.message);
  expect(scan.repeated.map(({ path, from, to }) => [path.join("."), text.slice(from, to)])).toEqual([
    ["a.x.1.k", '"one"'],
    ["a", '{"x": [1, {"k": "one", "k": 2}]}'],
    ["a", "3"],
    ["a", "4"],
  ]);
});

test("depth and the number of repeated names are bounded", () => {
  expect(scanJson("[".repeat(100) + "]".repeat(100)).ok).toBe(true);
  expect(scanJson("[".repeat(101) + "]".repeat(101))).toMatchObject({
    ok: false,
    message: "nested more than 100 levels deep",
  });
  expect(scanJson(`{${'"a":1,'.repeat(20)}"a":1}`, 100, 10)).toMatchObject({
    ok: false,
    message: "more than 10 names are given twice",
  });
});

test("takes exactly what JSON.parse takes", () => {
  const spoiled = fc
    .tuple(
      fc.json(),
      fc.nat(),
      fc.constantFrom("", ",", "]", "{", '"', "\\", "1", "-", "e", ".", "\u0001", "\t", "t", " "),
      fc.nat(2),
    )
    .map(
      ([text, at, put, drop]) =>
        text.slice(0, at % (text.length + 1)) + put + text.slice((at % (text.length + 1)) + drop),
    );
  fc.assert(
    fc.property(
      fc.oneof(fc.json(), spoiled, fc.string({ unit: fc.constantFrom(...'[]{}:,"\\u0eE+-.19 tfn') })),
      (text) => {
        expect(scanJson(text).ok).toBe(parses(text));
      },
    ),
    { seed: 20, numRuns: 3000 },
  );
});
