/** Hidden track: how much, where its turnouts are, and what the trade advises of them. */
import { describe, expect, test } from "vitest";
import { at, box, type Draft, plan, straight } from "./fixture.js";

/** A shelf along the lower wall with the hidden main `inward` from its edge; the room's floor is before it. */
const shelf = (inward: number, number = 6, hidden: boolean | { from: number; to: number }[] = true): Draft =>
  plan()
    .standards({ reach: [{ height: 1000, reach: 600 }], reachUnder: 100 })
    .bench("shelf", box(0, 0, 8000, 800))
    .track("main", at(1000, 800 - inward), [straight(3000)], { hidden })
    .turnout("t", { on: "main", at: 1200, hand: "left", number });

describe("hidden", () => {
  test.each([
    [400, 6, "clear", "hidden"],
    [400, 5, "tight", "hidden, small"],
    [550, 6, "tight", "hidden, out of reach"],
    [550, 5, "tight", "hidden, small and out of reach"],
  ] as const)("a turnout %d mm in of number %d is %s", (inward, number, verdict, note) => {
    const found = shelf(inward, number).reading("hidden");
    expect(found).toMatchObject({ verdict, unit: "mm", limit: undefined });
    expect(found?.places).toEqual([
      { deck: "lower", thing: "turnouts.t", s: 1200, point: { x: 2200, y: 800 - inward }, value: number, note },
    ]);
    // Hidden track counts so much farther in.
    expect(found?.figures?.["farthest turnout in"]?.value).toBeCloseTo(inward + 100, 1);
    expect(found?.figures?.["turnouts"]).toEqual({ value: 1, unit: "count" });
  });

  test("nothing limits track that is hidden without a turnout in it", () => {
    const found = shelf(400, 5, [{ from: 2000, to: 2750 }]).reading("hidden");
    expect(found).toMatchObject({ value: 750, verdict: "none", places: [] });
    expect(found?.figures).toEqual({ "on Lower": { value: 750, unit: "mm" }, turnouts: { value: 0, unit: "count" } });
  });

  test("lengths are by deck, diverging routes and staging decks among them", () => {
    const draft = shelf(400)
      .deck("under", 700, { kind: "staging", name: "Under" })
      .track("staged", at(1000, 300), [straight(1234)], { deck: "under" });
    const found = draft.reading("hidden");
    const route = draft.layout.lines.get("turnout:t")?.path.length ?? Number.NaN;
    expect(found?.figures?.["on Under"]?.value).toBeCloseTo(1234, 6);
    expect(found?.figures?.["on Lower"]?.value).toBeCloseTo(3000 + route, 6);
    expect(found?.value).toBeCloseTo(4234 + route, 6);
  });

  test("where nothing is hidden there is none", () => {
    expect(shelf(400, 6, false).reading("hidden")).toBeUndefined();
  });
});
