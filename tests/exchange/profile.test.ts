/** The drawn profile: as long as its route, at the layout's heights, with its scales and figures. */
import { describe, expect, it } from "vitest";
import { drawProfileSvg } from "../../src/exchange/svg/profile.js";
import { gradeRuns, legsOf, routeHeights } from "../../src/exchange/svg/profile-run.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { heightOn } from "../../src/layout/place-names.js";
import { findRoute, type Route, routePlaceAt } from "../../src/layout/route.js";
import { hillPlan, hostileName } from "./hill-plan.js";

const layout = deriveLayout(hillPlan);
const route = (from: string, to: string): Route => {
  const found = findRoute(layout, from, to);
  if (!found) throw new Error(`no route from ${from} to ${to}`);
  return found;
};
const up = route("main@0", "upper@1500");
const down = route("upper@1500", "main@0");

describe("a route laid out straight", () => {
  it.each([
    ["up", up],
    ["down", down],
  ])("has the layout's heights going %s", (_, way) => {
    const points = routeHeights(layout, legsOf(way));
    expect(points[0]?.d).toBe(0);
    expect(points.at(-1)?.d).toBeCloseTo(way.length, 6);
    for (const { d, h } of points) {
      const place = routePlaceAt(way, d);
      expect(place && heightOn(layout, place.line, place.s)).toBeCloseTo(h, 6);
    }
  });

  it("climbs one way and falls the other", () => {
    const steepest = (way: Route) => gradeRuns(layout, legsOf(way)).map((run) => run.percent);
    expect(Math.max(...steepest(up))).toBeGreaterThan(1);
    expect(Math.min(...steepest(down))).toBeCloseTo(-Math.max(...steepest(up)), 9);
  });
});

describe("drawProfileSvg", () => {
  const svg = drawProfileSvg(hillPlan, layout, up, { ends: { from: "Hillfoot", to: "Hilltop" } });
  const texts = [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/g)].map((match) => match[1] ?? "");

  it("says where from, where to, how long, how high and at what scales", () => {
    const heading = texts.find((text) => text.includes("ruling grade")) ?? "";
    expect(heading).toContain("Hillfoot to Hilltop");
    expect(heading).toContain("rises 60 mm");
    expect(heading).toMatch(/distances 1:\d+, heights 1:\d+/);
    expect(Number(/data-length="([\d.]+)"/.exec(svg)?.[1])).toBeCloseTo(up.length, 2);
  });

  it("names decks with their structure, pins with their height, and the distances", () => {
    for (const text of ["Hilltop · 50 mm structure", "Hillfoot · 90 mm structure", "1000 mm", "1060 mm", "0 m"]) {
      expect(texts).toContain(text);
    }
  });

  it("dashes the hidden stretch", () => {
    const line = /<g data-layer="line">(.*?)<\/g>/.exec(svg)?.[1] ?? "";
    expect(line.match(/<path/g)).toHaveLength(3);
    expect(line.match(/stroke-dasharray/g)).toHaveLength(1);
  });

  it("keeps names text, and draws a route of no length", () => {
    const plan = { ...hillPlan, title: hostileName, labels: { a: { text: hostileName, at: { x: 900, y: 400 } } } };
    const still = findRoute(layout, "main@100", "main@100");
    expect(still?.length).toBe(0);
    const drawn = drawProfileSvg(plan, deriveLayout(plan), still ?? up, { ends: { from: hostileName, to: "b" } });
    expect(drawn).not.toContain("<script");
    expect(drawn).not.toMatch(/NaN|Infinity|undefined/);
  });
});
