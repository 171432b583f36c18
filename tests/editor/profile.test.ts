/** The profile: which route it shows, where places lie in it, and pins moved in it. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { pinAlong, pinToHeight } from "../../src/editor/panels/profile/pin-drag.js";
import { heightAtY, pinMarks, placeAtX, profileView, spotOf } from "../../src/editor/panels/profile/profile-view.js";
import {
  CHOOSE_START,
  chosenRoute,
  firstChoice,
  namedPlaces,
  type RouteChoice,
} from "../../src/editor/panels/profile/route-choice.js";
import { climbsOf } from "../../src/exchange/shown-route.js";
import { PALETTES } from "../../src/exchange/svg/palette.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { heightOn } from "../../src/layout/place-names.js";
import { straightHeightAt } from "../../src/layout/profile.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { takeReadings } from "../../src/readings/take.js";
import { LONG, planWithTwoClimbs, SHORT } from "../support/option-plan.js";

const file = "sample-plans/larkmoor-and-summit.plan.json";
const read = readPlan(readFileSync(file, "utf8"), file);
if (!read.ok) throw new Error("the sample plan cannot be read");
const { plan } = read;
const layout = deriveLayout(plan);
const readings = takeReadings(plan, layout);
const climb: RouteChoice = { kind: "climb", lower: "lower", upper: "upper" };
const empty = emptyPlan({ title: "Empty", width: 4000, depth: 3000, scale: "HO", units: "metric" });

function routeOf(choice: RouteChoice) {
  const chosen = chosenRoute(layout, choice, []);
  if (!chosen.ok) throw new Error(chosen.message);
  return chosen;
}
const viewOf = (of: Plan = plan, height = 220) =>
  profileView({
    plan: of,
    layout: deriveLayout(of, layout),
    route: routeOf(climb).route,
    palette: PALETTES.light,
    width: 900,
    height,
  });

describe("the route", () => {
  test("is the first climb, where there is one", () => {
    expect(climbsOf(readings)).toContainEqual(climb);
    expect(firstChoice(readings)).toEqual(climbsOf(readings)[0]);
    const { route, name } = routeOf(climb);
    expect(name).toBe("Lower to Upper");
    const last = route.stretches.at(-1);
    const profile = last && layout.profiles.get(last.line);
    // The vertical curve at the top rounds off the break itself.
    expect(profile && straightHeightAt(profile, last.to)).toBeCloseTo(plan.decks["upper"]?.height ?? 0, 6);
  });
  test("is else the track in hand: that selected, or that of the pin or turnout selected, or the longest main", () => {
    expect(firstChoice([])).toEqual({ kind: "track" });
    const named = (collection: "tracks" | "pins" | "turnouts", id: string) => {
      const chosen = chosenRoute(layout, { kind: "track" }, [{ kind: "record", collection, id }]);
      return chosen.ok ? chosen.name : chosen.message;
    };
    expect(named("tracks", "quarry-spur")).toBe("Quarry spur");
    expect(named("pins", "climb-foot")).toBe("Wetherlaw climb");
    expect(named("turnouts", "loop-outer-s")).toBe("Outer main");
    expect(routeOf({ kind: "track" }).name).toMatch(/main/);
  });
  test("goes from one named place to another", () => {
    expect(routeOf({ kind: "between", from: "Larkmoor", to: "summit" }).name).toBe("Larkmoor to summit");
    expect(namedPlaces(plan)).toEqual(expect.arrayContaining(["Larkmoor", "Upper", "Quarry spur"]));
  });
  test.each([
    [{ kind: "between", from: "", to: "" }, CHOOSE_START],
    [{ kind: "between", from: "Larkmoor", to: "" }, "Choose where it ends."],
    [{ kind: "between", from: "Nowhere", to: "Summit" }, "Nothing with track is called “Nowhere”."],
    [{ kind: "between", from: "Larkmoor", to: "Nowhere" }, "Nothing with track is called “Nowhere”."],
  ] as const)("that is not to be had is told: %j", (choice, message) => {
    expect(chosenRoute(layout, choice, [])).toEqual({ ok: false, message });
  });
  test("of an empty plan is asked for", () => {
    expect(chosenRoute(deriveLayout(empty), { kind: "track" }, [])).toEqual({ ok: false, message: CHOOSE_START });
  });
});

describe("the view", () => {
  const view = viewOf();
  test("draws grades, decks, curves and hidden track with the hand of the printed profile", () => {
    for (const layer of ["distances", "decks", "line", "grades", "places", "curves"])
      expect(view.markup).toContain(`data-layer="${layer}"`);
    const lineOf = (markup: string) => /data-layer="line".*?<\/g>/.exec(markup)?.[0];
    expect(lineOf(view.markup)).not.toContain("stroke-dasharray");
    const outer = chosenRoute(layout, { kind: "track" }, [{ kind: "record", collection: "tracks", id: "outer" }]);
    if (!outer.ok) throw new Error(outer.message);
    const hidden = profileView({ plan, layout, route: outer.route, palette: PALETTES.dark, width: 900, height: 220 });
    expect(lineOf(hidden.markup)).toContain("stroke-dasharray");
  });
  test("finds the place under an x, and the x of the place", () => {
    for (const share of [0, 0.2, 0.5, 0.83, 1]) {
      const x = view.sheet.left + share * (view.sheet.right - view.sheet.left);
      const place = placeAtX(view, x);
      const spot = place && spotOf(view, place);
      expect(spot?.x).toBeCloseTo(x, 6);
      expect(spot?.height).toBeCloseTo(place ? heightOn(layout, place.line, place.s) : 0, 0);
      expect(heightAtY(view.sheet, spot?.y ?? 0)).toBeCloseTo(spot?.height ?? 0, 6);
    }
    expect(placeAtX(view, view.sheet.left - 5)).toBeUndefined();
    expect(placeAtX(view, view.sheet.right + 5)).toBeUndefined();
    expect(spotOf(view, { line: "track:quarry-spur", s: 100 })).toBeUndefined();
  });
  test.each([90, 140, 220, 400])("keeps line, decks and pins within its %i px", (height) => {
    const { sheet, heights } = viewOf(plan, height);
    for (const { h } of heights) {
      const y = sheet.bottom - (h - sheet.low) / sheet.up;
      expect(y).toBeGreaterThan(sheet.top);
      expect(y).toBeLessThan(sheet.bottom);
    }
  });
  test("shows the pins of the route, in order, at their heights", () => {
    const marks = pinMarks(plan, view);
    expect(marks.length).toBeGreaterThanOrEqual(2);
    expect(marks.map(({ x }) => x)).toEqual([...marks].map(({ x }) => x).sort((a, b) => a - b));
    for (const mark of marks) expect(heightAtY(view.sheet, mark.y)).toBeCloseTo(mark.height, 6);
  });
});

describe("a pin", () => {
  test("near a deck holds the deck; else the height under the hand, in even steps", () => {
    const upper = plan.decks["upper"]?.height ?? 0;
    const held = pinToHeight(plan, "climb-foot", upper - 3, 4, "imperial");
    expect(held.ok && held.plan.pins["climb-foot"]).toEqual({ track: "climb", at: 450, deck: "upper" });
    const free = pinToHeight(plan, "climb-foot", 1100.3, 4, "imperial");
    const height = free.ok ? (free.plan.pins["climb-foot"]?.height ?? 0) : 0;
    expect(height * (16 / 25.4)).toBeCloseTo(Math.round((1100.3 * 16) / 25.4), 9);
    expect(pinToHeight(plan, "climb-foot", -50, 4, "metric")).toMatchObject({
      plan: { pins: { "climb-foot": { height: 0 } } },
    });
  });
  test("moved along stays on its track", () => {
    const length = layout.lines.get("track:climb")?.path.length ?? 0;
    const at = (to: number) => {
      const edit = pinAlong(plan, layout, "climb-foot", to, "metric");
      return edit.ok ? edit.plan.pins["climb-foot"]?.at : undefined;
    };
    expect(at(453)).toBe(450);
    expect(at(-100)).toBe(0);
    expect(at(length + 100)).toBe(length);
    expect(pinAlong(plan, layout, "no-such", 0, "metric")).toMatchObject({ ok: false });
  });
});

describe("beside the way in hand", () => {
  const two = planWithTwoClimbs();
  const inOption = (option: string) => {
    const own = deriveLayout({ ...two, option });
    const chosen = chosenRoute(own, climb, []);
    if (!chosen.ok) throw new Error(chosen.message);
    return { layout: own, route: chosen.route, name: two.options[option]?.name ?? option };
  };
  const long = inOption(LONG);
  const late = inOption(SHORT);
  const drawn = (own: typeof long, ...besides: (typeof long)[]) =>
    profileView({ plan: own.layout.plan, ...own, palette: PALETTES.light, width: 900, height: 220, besides });

  test("the same way in another option is drawn with its name, from where it sets out", () => {
    const view = drawn(long, late);
    expect(view.markup).toContain('data-layer="beside"');
    expect(view.markup).toContain("Late start");
    expect(view.sheet.length).toBe(long.route.length);
    const x = Number(/data-layer="beside"><path d="M([\d.]+)/.exec(view.markup)?.[1]);
    const ahead = (long.route.length - late.route.length) / view.sheet.across;
    expect(ahead).toBeGreaterThan(100);
    expect(x).toBeCloseTo(view.sheet.left + ahead, 1);
    expect(drawn(long).markup).not.toContain("beside");
  });

  test("a longer one is drawn from the start of the way in hand", () => {
    const view = drawn(late, long);
    const x = Number(/data-layer="beside"><path d="M([\d.]+)/.exec(view.markup)?.[1]);
    expect(x).toBeCloseTo(view.sheet.left, 1);
  });
});
