/** The drawn sheet: true to scale, complete, the same every time, and never markup from a name. */
import { describe, expect, it } from "vitest";
import { type DrawOptions, drawSvg } from "../../src/exchange/svg/draw.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { takeReadings } from "../../src/readings/take.js";
import { hillPlan, hostileName } from "./hill-plan.js";

const layout = deriveLayout(hillPlan);
const draw = (options: DrawOptions, plan = hillPlan) => drawSvg(plan, layout, options);
const linesIn = (svg: string) => new Set([...svg.matchAll(/data-line="([^"]*)"/g)].map((match) => match[1]));
const pathsOf = (svg: string, line: string) =>
  [...svg.matchAll(/<path [^>]*data-line="([^"]*)"[^>]* d="([^"]*)"|<path [^>]* d="([^"]*)"[^>]*data-line="([^"]*)"/g)]
    .filter((match) => (match[1] ?? match[4]) === line)
    .map((match) => match[2] ?? match[3] ?? "");
const numbers = (data: string) => [...data.matchAll(/-?\d+(?:\.\d+)?/g)].map((match) => Number(match[0]));

describe("drawSvg", () => {
  it.each([1, 10, 20, 43.5])("draws at 1:%d what a ruler measures", (scale) => {
    const svg = draw({ view: "deck", deck: "foot", scale });
    const size = /^<svg [^>]*width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg);
    expect(size?.slice(1, 3)).toEqual(size?.slice(3, 5));
    const main = pathsOf(svg, "track:main").map(numbers);
    const begin = main[0] ?? [];
    const end = main.at(-1) ?? [];
    expect((end.at(-2) ?? 0) - (begin[0] ?? 0)).toBeCloseTo(2400 / scale, 2);
    expect((end.at(-1) ?? 0) - (begin[1] ?? 0)).toBeCloseTo(0, 2);
  });

  it("draws curves as cubic curves whose ends are the track's", () => {
    const scale = 20;
    const svg = draw({ view: "deck", deck: "foot", scale });
    const [origin] = pathsOf(svg, "track:main").map(numbers);
    const [climb] = pathsOf(svg, "track:climb");
    expect(climb).toMatch(/^M[\d. -]+(C[\d. -]+)+$/);
    const end = numbers(climb ?? "").slice(-2);
    const path = layout.lines.get("track:climb")?.path;
    const main = layout.lines.get("track:main")?.path;
    expect((end[0] ?? 0) - (origin?.[0] ?? 0)).toBeCloseTo(((path?.end.x ?? 0) - (main?.start.x ?? 0)) / scale, 2);
    expect((origin?.[1] ?? 0) - (end[1] ?? 0)).toBeCloseTo(((path?.end.y ?? 0) - (main?.start.y ?? 0)) / scale, 2);
  });

  it("holds every line of the decks it shows and no other", () => {
    const all = new Set(layout.lines.keys());
    const foot = new Set([...layout.lines.values()].filter((line) => line.deck === "foot").map((line) => line.key));
    expect(linesIn(draw({ view: "all" }))).toEqual(all);
    expect(linesIn(draw({ view: "see-through", deck: "top" }))).toEqual(all);
    expect(linesIn(draw({ view: "deck", deck: "foot" }))).toEqual(foot);
    expect(linesIn(draw({ view: "deck", deck: "no-such-deck" }))).toEqual(new Set());
  });

  it("dashes what is hidden and only that", () => {
    const svg = draw({ view: "deck", deck: "foot" });
    const main = [...svg.matchAll(/<path [^>]*data-line="track:main"[^>]*>/g)].map((match) => match[0]);
    expect(main.map((path) => path.includes("stroke-dasharray"))).toEqual([false, true]);
  });

  it("says what it should: radius, grade, frog number, names, scale, dimensions", () => {
    const svg = draw({ view: "deck", deck: "foot", scale: 10 });
    const texts = [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/g)].map((match) => match[1]);
    for (const text of [
      "R 900 mm",
      "No. 6 left",
      "Hillfoot Town",
      "4000 mm",
      "3000 mm",
      "HO 1:87 · drawn 1:10",
      "workbench",
    ]) {
      expect(texts.map((t) => t?.replace("H0", "HO"))).toContain(text);
    }
    expect(texts.some((text) => /^\d\.\d %$/.test(text ?? ""))).toBe(true);
    expect(draw({ view: "deck", deck: "foot", labels: false })).not.toContain("R 900 mm");
  });

  it("draws two rails the gauge apart", () => {
    const svg = draw({ view: "deck", deck: "foot", rails: true, scale: 1 });
    const [data] = pathsOf(svg, "track:main");
    const [, left, right] = (data ?? "").split("M").map(numbers);
    expect((right?.[1] ?? 0) - (left?.[1] ?? 0)).toBeCloseTo(16.5, 3);
  });

  it("keeps names text", () => {
    const plan = {
      ...hillPlan,
      title: hostileName,
      decks: { ...hillPlan.decks, foot: { ...hillPlan.decks["foot"], name: hostileName } as never },
      labels: { a: { text: hostileName, at: { x: 2000, y: 500 } } },
    };
    const svg = drawSvg(plan, deriveLayout(plan), { view: "see-through" });
    expect(svg).not.toContain("<script");
    expect(svg).toContain("&lt;script&gt;");
    // oxlint-disable-next-line no-control-regex
    expect(svg).not.toMatch(/[\u0000-\u0008\u001b\ud800-\udfff]/);
  });

  it("is the same text every time", () => {
    const options: DrawOptions = { view: "see-through", readings: takeReadings(hillPlan, layout) };
    expect(draw(options)).toBe(drawSvg(hillPlan, deriveLayout(hillPlan), options));
  });

  it("fits a screen without stating a scale", () => {
    const svg = draw({ view: "see-through", fit: { width: 1200, height: 900 } });
    const [, width, height] = /^<svg [^>]*width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
    expect(Number(width)).toBeLessThanOrEqual(1200.5);
    expect(Number(height)).toBeLessThanOrEqual(900.5);
    expect(Number(width) > 1199 || Number(height) > 899).toBe(true);
    expect(svg).not.toContain("drawn 1:");
  });

  it("draws an empty room", () => {
    const plan = { ...hillPlan, decks: {}, tracks: {}, turnouts: {}, pins: {}, benches: {}, labels: {} };
    const svg = drawSvg(plan, deriveLayout(plan), { view: "all" });
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(linesIn(svg).size).toBe(0);
  });
});
