/** The climb sheet's picture: true to scale, well-formed, the same every time. */
import { describe, expect, it } from "vitest";
import { climbSheet, type ClimbWishes } from "../../src/climb/climb-sheet.js";
import { climbSheetMarkup, drawClimbSheetSvg } from "../../src/exchange/svg/climb-sheet.js";
import { PEN_ON_SCREEN } from "../../src/exchange/svg/sheet.js";
import { Draft } from "../readings/fixture.js";

const { plan } = Draft.plan().standards({ curveDrag: 800, verticalCurve: 200 });

function sheetOf(wishes: ClimbWishes) {
  const result = climbSheet(plan, "main", wishes);
  if (!result.ok) throw new Error(result.message);
  return result.sheet;
}
const sheet = sheetOf({ rise: 400, grade: 2, radius: 610 });

/** Points of every path of a layer. */
function pathsOf(svg: string, layer: string): [number, number][][] {
  const [, marks = ""] = new RegExp(`<g data-layer="${layer}">(.*?)</g>`).exec(svg) ?? [];
  return [...marks.matchAll(/ d="([^"]*)"/g)].map(([, d = ""]) =>
    [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]): [number, number] => [Number(x), Number(y)]),
  );
}
const extent = (points: readonly [number, number][], axis: 0 | 1): number =>
  Math.max(...points.map((p) => p[axis])) - Math.min(...points.map((p) => p[axis]));

describe("drawClimbSheetSvg", () => {
  const svg = drawClimbSheetSvg(plan, sheet, { units: "metric" });
  const scale = Number(/data-scale="([\d.]+)"/.exec(svg)?.[1]);
  const runScale = Number(/data-run-scale="([\d.]+)"/.exec(svg)?.[1]);

  it("draws helix and run true to the scales it says, at most a page wide", () => {
    const turns = pathsOf(svg, "far-side").flat();
    expect(extent(turns, 0) * scale).toBeCloseTo(2 * 610, 0);
    const [ramp = []] = pathsOf(svg, "ramp");
    expect(extent(ramp, 0) * runScale).toBeCloseTo(sheet.sums.run, -1);
    expect(extent(ramp, 1) * runScale).toBeCloseTo(400, -1);
    expect(Number(/width="([\d.]+)mm"/.exec(svg)?.[1])).toBeLessThanOrEqual(190);
    expect(svg).toContain(`helix 1:${scale}`);
    expect(svg).toContain(`run 1:${runScale}`);
  });

  it("has its figures on it", () => {
    for (const text of ["400 mm", "track ⌀ 1220 mm", "77 mm", "20.4 m", "felt 3.31 %"]) expect(svg).toContain(text);
  });

  it("is the same every time, and another by night", () => {
    expect(drawClimbSheetSvg(plan, sheet, { units: "metric" })).toBe(svg);
    const night = drawClimbSheetSvg(plan, sheet, { units: "metric", theme: "dark" });
    expect(night).not.toBe(svg);
    expect(night.replaceAll(/#[0-9a-f]{6}/g, "")).toBe(svg.replaceAll(/#[0-9a-f]{6}/g, ""));
  });

  it.each<[what: string, wishes: ClimbWishes]>([
    ["half a turn", { rise: 40, grade: 2, radius: 610 }],
    ["a quarter of a turn", { rise: 15, grade: 2, radius: 610 }],
    ["many turns", { rise: 3000, grade: 1, radius: 400 }],
    ["steep and sharp", { rise: 400, grade: 15, radius: 120 }],
    ["wide and flat", { rise: 5, grade: 0.1, radius: 90_000 }],
  ])("has only figures that are numbers: %s", (_, wishes) => {
    const drawn = drawClimbSheetSvg(plan, sheetOf(wishes));
    expect(drawn).not.toMatch(/NaN|Infinity|undefined/);
    expect(drawn).toMatch(/<\/svg>\n$/);
  });
});

describe("climbSheetMarkup", () => {
  it.each([
    [640, 480],
    [300, 700],
    [120, 90],
  ])("fits a screen of %d by %d px", (width, height) => {
    const markup = climbSheetMarkup(plan, sheet, { width, height });
    const points = ["far-side", "cut", "ramp"].flatMap((layer) => pathsOf(markup, layer).flat());
    expect(points.length).toBeGreaterThan(20);
    // Smaller than a hand's breadth there is no room for it, but then it is cut, not lost.
    if (width < 200) return;
    expect(Math.min(...points.map(([x]) => x))).toBeGreaterThanOrEqual(0);
    expect(Math.max(...points.map(([x]) => x))).toBeLessThanOrEqual(width * PEN_ON_SCREEN);
    expect(Math.max(...points.map(([, y]) => y))).toBeLessThanOrEqual(height * PEN_ON_SCREEN);
  });
});
