/** The words of the climb search, in both units: routes as rows, and what is missing. */
import { describe, expect, it } from "vitest";
import type { ClimbFigures, Relaxation, Shortfall } from "../../src/climb/request.js";
import { areaText, climbTable, relaxationText, shortfallSentences } from "../../src/exchange/climb-text.js";
import { runText } from "../../src/drafting/climb-figures.js";
import type { Units } from "../../src/drafting/figures.js";

describe("runText", () => {
  // An inch is 25.4 mm: 15200 mm are 598.4 in, 49 ft 10 in; 18 394 mm are 724.2 in, 60 ft 4 in and a little.
  it.each<[run: number, units: Units, way: "up" | "down", text: string]>([
    [15_207, "metric", "down", "15.2 m"],
    [18_394, "metric", "up", "18.4 m"],
    [8000, "metric", "up", "8 m"],
    [15_200, "imperial", "down", "49′ 10″"],
    [18_394, "imperial", "up", "60′ 5″"],
    [914.4, "imperial", "up", "36″"],
    [0, "metric", "down", "0 m"],
  ])("%d mm, %s, %s", (run, units, way, text) => {
    expect(runText(run, units, way)).toBe(text);
  });
});

describe("relaxationText", () => {
  it.each<[what: Relaxation, units: Units, text: string]>([
    [{ what: "grade", value: 2.7, unit: "percent" }, "metric", "at 2.7 %"],
    // Told no gentler than searched: 26 in are 660.4 mm.
    [{ what: "radius", value: 661.2, unit: "mm" }, "imperial", "at 26″ radius"],
    [{ what: "radius", value: 660.9, unit: "mm" }, "metric", "at 660 mm radius"],
    [{ what: "rise", value: 54.1, unit: "mm" }, "metric", "with the upper deck 55 mm lower"],
    [{ what: "rise", value: 50, unit: "mm" }, "imperial", "with the upper deck 2″ lower"],
  ])("%j, %s", (what, units, text) => {
    expect(relaxationText(what, units)).toBe(text);
  });

  it("calls the deck by its name", () => {
    expect(relaxationText({ what: "rise", value: 20, unit: "mm" }, "metric", "Summit")).toBe(
      "with the deck Summit 20 mm lower",
    );
  });
});

describe("shortfallSentences", () => {
  const short: Shortfall = { needed: 18_394, grade: 2.2, longest: 15_207, fits: [] };
  const fits: Relaxation[] = [
    { what: "grade", value: 2.7, unit: "percent" },
    { what: "radius", value: 660.4, unit: "mm" },
    { what: "rise", value: 55, unit: "mm" },
  ];
  it.each<[shortfall: Shortfall, units: Units, sentences: readonly string[]]>([
    [
      { ...short, fits },
      "metric",
      [
        "It needs 18.4 m of run at 2.2 %, the longest legal run found is 15.2 m.",
        "It fits at 2.7 %, or at 660 mm radius, or with the upper deck 55 mm lower.",
      ],
    ],
    [
      { ...short, fits },
      "imperial",
      [
        "It needs 60′ 5″ of run at 2.2 %, the longest legal run found is 49′ 10″.",
        "It fits at 2.7 %, or at 26″ radius, or with the upper deck 2 3/16″ lower.",
      ],
    ],
    [
      { ...short, longest: undefined },
      "metric",
      [
        "It needs 18.4 m of run at 2.2 %, and no way leads there within the benches at this radius.",
        "No steeper grade, sharper radius or lower deck was found to help.",
      ],
    ],
    // Long enough, and yet none is legal: the gap, or track in the way.
    [
      { ...short, longest: 21_000, fits: fits.slice(0, 1) },
      "metric",
      [
        "It needs 18.4 m of run at 2.2 %; runs up to 21 m were found, but none that keeps every limit on the way.",
        "It fits at 2.7 %.",
      ],
    ],
  ])("%#", (shortfall, units, sentences) => {
    expect(shortfallSentences(shortfall, units)).toEqual(sentences);
  });
});

describe("climbTable", () => {
  const figures: ClimbFigures = {
    run: 12_345,
    rise: 290,
    ruling: 2.484,
    felt: 3.2,
    gap: 112.06,
    hidden: 0,
    curvature: 359.6,
    curves: 3,
    reversals: 0,
    leastRadius: 609.6,
    newBench: 0,
  };
  const heads = (routes: readonly { readonly figures: ClimbFigures }[]) =>
    climbTable(routes, "metric").columns.map(({ id }) => id);

  it("has a text for every figure", () => {
    const { columns, rows } = climbTable([{ figures }], "imperial");
    expect(Object.fromEntries(columns.map(({ head }, i) => [head, rows[0]?.[i]]))).toEqual({
      Run: "40′ 6″",
      Ruling: "2.48 %",
      Felt: "3.2 %",
      "Gap over itself": "4⅜″",
      Turning: "360°",
      Curves: "3",
      Reversals: "0",
      "Least radius": "24″",
    });
  });

  it("leaves out what no route has, and shows a dash where one has not", () => {
    expect(heads([{ figures }])).not.toContain("bench");
    const built = { figures: { ...figures, newBench: 1_250_000, gap: undefined, reach: 610, cars: 14 } };
    const { columns, rows } = climbTable([{ figures }, built], "metric");
    const at = (id: string) => rows.map((row) => row[columns.findIndex((column) => column.id === id)]);
    expect(at("bench")).toEqual(["–", "1.25 m²"]);
    expect(at("gap")).toEqual(["112 mm", "–"]);
    expect(at("cars")).toEqual(["–", "14"]);
    expect(at("reach")).toEqual(["–", "610 mm"]);
  });

  it("tells areas as carpenters do", () => {
    // 4 ft by 8 ft, 32 square feet, 2.97 m2.
    const sheet = 1219.2 * 2438.4;
    expect([areaText(sheet, "imperial"), areaText(sheet, "metric")]).toEqual(["32.0 ft²", "2.97 m²"]);
  });
});
