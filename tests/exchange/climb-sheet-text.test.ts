/** The climb sheet's words and tables, in both units. Figures are worked out by hand beside them. */
import { describe, expect, it } from "vitest";
import { climbSheet, type ClimbWishes } from "../../src/climb/climb-sheet.js";
import { deckTable, gradeTable, sheetFacts, sheetSentences } from "../../src/exchange/climb-sheet-text.js";
import { Draft } from "../readings/fixture.js";

/** Drag 800 / R, 200 mm of vertical curve a percent, 80 clear over a railhead and 30 of structure. */
const { plan } = Draft.plan()
  .standards({ curveDrag: 800, verticalCurve: 200, benchEdge: 30, wall: 50 })
  .limits({ radius: 600, grade: 2.5, feltGrade: 4 });

function sheetOf(wishes: ClimbWishes) {
  const result = climbSheet(plan, "main", wishes);
  if (!result.ok) throw new Error(result.message);
  return result.sheet;
}

describe("facts", () => {
  const facts = sheetFacts(sheetOf({ rise: 400, grade: 2, radius: 800 }), "metric");
  const fact = (id: string) => facts.find((one) => one.id === id);

  it("tells lengths in both units, and limits with their verdict", () => {
    expect(fact("grade")).toMatchObject({ value: "2 %, 1 in 50", other: undefined, limit: { text: "≤ 2.5 %" } });
    expect(fact("felt")).toMatchObject({ value: "3 %", limit: { text: "≤ 4 %", verdict: "clear" } });
    // 400 / 2 % and 400 mm of vertical curve: 20.4 m, 66 ft 11.1 in.
    expect(fact("run")).toMatchObject({ value: "20.4 m", other: "67′" });
    // 20 m over the circle of 5026.5.
    expect(fact("turns")).toMatchObject({ value: "3.98", other: undefined });
    // 5026.5 x 2 %: 100.5 mm, 3.96 in.
    expect(fact("per-turn")).toMatchObject({ value: "101 mm", other: "4″" });
    expect(fact("gap")?.limit).toMatchObject({ text: "≥ 80 mm", verdict: "fails" });
  });

  it("has nothing to say of what lies over what where there is less than a turn", () => {
    const ids = sheetFacts(sheetOf({ rise: 60, grade: 2, radius: 800 }), "imperial").map(({ id }) => id);
    expect(ids).not.toContain("gap");
    expect(ids).not.toContain("clear");
  });
});

describe("tables", () => {
  const wishes: ClimbWishes = { rise: 400, grade: 2.2, radius: 800 };

  it("marks the grade asked about among the others, and those beyond the limits", () => {
    const { heads, rows } = gradeTable(plan, "main", wishes, "metric");
    expect(rows.every(({ cells }) => cells.length === heads.length)).toBe(true);
    expect(rows.map(({ cells }) => cells[0])).toEqual(["1 %", "1.5 %", "2 %", "2.2 %", "2.5 %", "3 %", "3.5 %", "4 %"]);
    expect(rows.filter(({ asked }) => asked).map(({ cells }) => cells[0])).toEqual(["2.2 %"]);
    expect(rows.map(({ verdict }) => verdict)).toEqual([
      "clear",
      "clear",
      "clear",
      "clear",
      "tight",
      "fails",
      "fails",
      "fails",
    ]);
    // 2.5 %: 16 m and 500 of vertical curve; felt with 1 % of drag; 16 000 / 5026.5 turns.
    expect(rows[4]?.cells.slice(0, 5)).toEqual(["2.5 %", "40", "3.5 %", "16.5 m", "3.18"]);
  });

  it("shows runs by rise and grade round the rise asked about, which is a row of its own", () => {
    const { rows, heads } = deckTable(plan, { ...wishes, rise: 410 }, "metric");
    expect(heads).toEqual(["Rise", "inches", "1.5 %", "2 %", "2.2 %", "2.5 %", "3 %", "4 %"]);
    expect(rows.map(({ cells }) => cells[0])).toEqual([
      "250 mm",
      "300 mm",
      "350 mm",
      "400 mm",
      "410 mm",
      "450 mm",
      "500 mm",
      "550 mm",
    ]);
    expect(rows.filter(({ asked }) => asked).map(({ cells }) => cells[0])).toEqual(["410 mm"]);
    // 400 at 2 %: 20 m and 400; 15.75 in.
    expect(rows[3]?.cells.slice(0, 4)).toEqual(["400 mm", "15¾″", "26.97 m", "20.4 m"]);
  });

  it("goes by two inches in imperial units, and never below nothing", () => {
    const { rows } = deckTable(plan, { ...wishes, rise: 4 * 25.4 }, "imperial");
    expect(rows.map(({ cells }) => cells[0])).toEqual(["2″", "4″", "6″", "8″", "10″"]);
  });
});

describe("sentences", () => {
  it.each<[what: string, wishes: ClimbWishes, said: readonly RegExp[]]>([
    [
      "all well",
      { rise: 400, grade: 2.5, radius: 900 },
      // 50 mm at 2.5 % are 2 m, 2000 / 5654.9 of a turn.
      [/^Every 50 mm more from deck to deck costs 2 m of run, or 0\.35 of a turn\.$/],
    ],
    [
      "too steep",
      // On 800 the drag is 1 %: 4 % may be felt, 2.5 % may be climbed.
      { rise: 400, grade: 3, radius: 800 },
      [/^On 800 mm radius a main may climb 2\.5 %\.$/, /^Every/],
    ],
    [
      "too sharp, with turns too near one another",
      // Drag 1.6 %: 2.4 % may be climbed. 500 is below 600.
      { rise: 400, grade: 2, radius: 500 },
      [
        /^A main asks for 600 mm radius at the least\.$/,
        /^Turns lie too near over one another: they clear from [34]\.\d+ % on this radius, or from 9\d\d mm radius at this grade\.$/,
        /^Every/,
      ],
    ],
    ["less than a turn", { rise: 60, grade: 2, radius: 800 }, [/^It takes less than one turn/, /^Every/]],
    [
      "too short for its vertical curves",
      { rise: 12, grade: 2.5, radius: 900 },
      [/^It is too short/, /^It takes/, /^Every/],
    ],
    [
      "drag alone too much",
      { rise: 400, grade: 2, radius: 190 },
      [/the drag of the curve alone/, /^A main asks/, /^Turns/, /^Every/],
    ],
  ])("%s", (_, wishes, said) => {
    const sentences = sheetSentences(plan, sheetOf(wishes), "metric");
    expect(sentences).toHaveLength(said.length);
    sentences.forEach((sentence, i) => expect(sentence).toMatch(said[i] ?? /^$/));
  });
});
