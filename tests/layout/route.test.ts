/** Routes: shortest, never reversing, the same length both ways, and named as people name places. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { LinePlace } from "../../src/layout/line.js";
import { placesNamed } from "../../src/layout/place-names.js";
import { findRoute, type Route, routePlaceAt, stretchLength } from "../../src/layout/route.js";
import { hillPlan } from "../exchange/hill-plan.js";

const layout = deriveLayout(hillPlan);
const length = (line: `track:${string}` | `turnout:${string}`) => layout.lines.get(line)?.path.length ?? Number.NaN;
/** Where a place is on the sheet, to a hundredth of a millimetre: ends of joined tracks are one place. */
const at = (place: LinePlace | undefined) => {
  const path = place && layout.lines.get(place.line)?.path;
  const pose = path && poseAt(path, place.s);
  return pose && [Math.round(pose.x * 100), Math.round(pose.y * 100)];
};
const shown = (route: Route | undefined) =>
  route?.stretches.map(({ line, from, to }) => [line, Math.round(from), Math.round(to)]);

describe("findRoute", () => {
  it("runs over joined tracks", () => {
    const route = findRoute(layout, "main@1000", "upper@200");
    expect(shown(route)).toEqual([
      ["track:main", 1000, 2400],
      ["track:climb", 0, Math.round(length("track:climb"))],
      ["track:upper", 0, 200],
    ]);
    expect(route?.length).toBeCloseTo(1400 + length("track:climb") + 200, 6);
  });

  it("runs backwards with from greater than to", () => {
    expect(shown(findRoute(layout, "main@1500", "main@200"))).toEqual([["track:main", 1500, 200]]);
  });

  it("takes the diverging route of a turnout from its points", () => {
    const lines = findRoute(layout, "main@0", "loop@400")?.stretches.map((stretch) => stretch.line);
    expect(lines).toEqual(["track:main", "turnout:points", "track:loop"]);
  });

  it("does not reverse at points", () => {
    expect(findRoute(layout, "loop@400", "upper@200")).toBeUndefined();
    expect(findRoute(layout, "upper@200", "loop@400")).toBeUndefined();
  });

  it("knows no route from or to nothing", () => {
    expect(findRoute(layout, "nowhere", "main")).toBeUndefined();
    expect(findRoute(layout, "main", [])).toBeUndefined();
  });

  it("takes the nearest pair of places between decks", () => {
    const route = findRoute(layout, "Hillfoot", "top");
    expect(shown(route)).toEqual([["track:climb", 0, Math.round(length("track:climb"))]]);
  });

  const places = ["main", "climb", "loop", "upper"] as const;
  const place = fc.tuple(fc.constantFrom(...places), fc.double({ min: 0, max: 1, noNaN: true }));
  it("is as long back as out, and adds up", () => {
    fc.assert(
      fc.property(place, place, ([a, u], [b, v]) => {
        const from = [{ line: `track:${a}` as const, s: u * length(`track:${a}`) }];
        const to = [{ line: `track:${b}` as const, s: v * length(`track:${b}`) }];
        const out = findRoute(layout, from, to);
        const back = findRoute(layout, to, from);
        expect(back === undefined).toBe(out === undefined);
        if (!out || !back) return;
        expect(back.length).toBeCloseTo(out.length, 6);
        expect(out.stretches.reduce((sum, stretch) => sum + stretchLength(stretch), 0)).toBeCloseTo(out.length, 6);
        const end = routePlaceAt(out, out.length);
        expect(end && at(end)).toEqual(at(to[0]));
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});

describe("placesNamed", () => {
  it.each<[string, string, string, number | undefined]>([
    ["a track by id", "main", "track:main", 1200],
    ["a track by name", "upper ROAD", "track:upper", 750],
    ["a distance along a track", "main@250.5", "track:main", 250.5],
    ["a distance past its end", "main@99999", "track:main", 2400],
    ["a label", "HILLTOP ", "track:upper", undefined],
  ])("reads %s", (_, name, line, s) => {
    const places = placesNamed(layout, name);
    expect(places).toHaveLength(1);
    expect(places[0]?.line).toBe(line);
    expect(s === undefined || Math.abs((places[0]?.s ?? Number.NaN) - s) < 1e-6).toBe(true);
  });

  it("reads a deck as all its track at the deck's height", () => {
    const places = placesNamed(layout, "foot");
    expect(places.length).toBeGreaterThan(2);
    expect(places.every(({ line }) => layout.lines.get(line)?.deck === "foot")).toBe(true);
  });

  it("finds nothing for nothing", () => expect(placesNamed(layout, "constructor")).toEqual([]));
});
