/** A route taken: into the plan, where what is drawn belongs, or as an option; and the class a climb has by itself. */
import { describe, expect, it } from "vitest";
import { deckOfEnd, usualClass } from "../../src/climb/end-class.js";
import { takeFoundRoute } from "../../src/climb/take-found-route.js";
import { type Edit, putRecord } from "../../src/plan/edit.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, Draft, endOf, straight } from "../readings/fixture.js";

const bare = Draft.plan()
  .track("low", at(200, 300), [straight(800)], { class: "branch" })
  .track("main", at(200, 900), [straight(3000)])
  .turnout("switch", { on: "main", at: 900, hand: "left" }).plan;
const plan: Plan = { ...bare, options: { a: { name: "Climb A" } } };

/** What a search would find: a track from the end of `low`, with a pin. */
function routeOf(of: Plan, start = endOf("low")) {
  const track = { class: "main", deck: "lower", start, legs: [straight(500)] } as const;
  const laid = putRecord(of, "tracks", "climb", { ...track, legs: [...track.legs] });
  if (!laid.ok) throw new Error(laid.message);
  const pinned = putRecord(laid.plan, "pins", "climb-pin", { track: "climb", at: 0, height: 1000 });
  if (!pinned.ok) throw new Error(pinned.message);
  return { track: "climb", edit: { ok: true, name: "Lay climb", plan: pinned.plan } as const };
}
const planOf = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};

describe("takeFoundRoute", () => {
  it("is the edit as it was found where nothing is said of options", () => {
    const route = routeOf(plan);
    expect(planOf(takeFoundRoute(plan, route))).toBe(route.edit.plan);
  });

  it("belongs to the option in hand", () => {
    const inHand: Plan = { ...plan, option: "a" };
    const taken = planOf(takeFoundRoute(inHand, routeOf(inHand)));
    expect([taken.tracks["climb"]?.option, taken.pins["climb-pin"]?.option]).toEqual(["a", "a"]);
    expect(taken.tracks["low"]?.option).toBeUndefined();
  });

  it("is an option of its own, called by it and in hand", () => {
    const taken = planOf(takeFoundRoute(plan, routeOf(plan), " Climb B "));
    const option = taken.option ?? "";
    expect(taken.options[option]).toEqual({ name: "Climb B" });
    expect(Object.keys(taken.options)).toHaveLength(2);
    expect(taken.tracks["climb"]).toMatchObject({ name: "Climb B", option });
    expect(taken.pins["climb-pin"]?.option).toBe(option);
    expect(plan.options).toEqual({ a: { name: "Climb A" } });
  });

  it("is refused under a name there is, and where it would hang on another option", () => {
    expect(takeFoundRoute(plan, routeOf(plan), "climb a")).toMatchObject({ ok: false });
    const { low, main } = plan.tracks;
    if (!low || !main) throw new Error("the plan has these");
    const owned: Plan = { ...plan, option: "a", tracks: { main, low: { ...low, option: "a" } } };
    expect(takeFoundRoute(owned, routeOf(owned), "Climb B")).toMatchObject({ ok: false });
    expect(takeFoundRoute(owned, routeOf(owned)).ok).toBe(true);
  });
});

describe("the end of a climb", () => {
  it.each([
    [{ track: "main", end: "end" }, "main"],
    [{ track: "low", end: "end" }, "branch"],
    [{ turnout: "switch" }, "branch"],
    [{ track: "main", at: 400 }, "branch"],
    [{ track: "gone", end: "end" }, "branch"],
  ] as const)("%j is of class %s", (end, expected) => {
    expect(usualClass(plan, end)).toBe(expected);
  });

  it("lies on the deck of its track", () => {
    expect(deckOfEnd(plan, { turnout: "switch" })?.name).toBe("Lower");
    expect(deckOfEnd(plan, { turnout: "gone" })).toBeUndefined();
  });
});
