/** How ends of a climb are called: what is understood, what is not and why, and that what is said is understood again. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { climbEndName, climbEndNamed } from "../../src/climb/name-ends.js";
import type { ClimbEnd } from "../../src/climb/request.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, Draft, straight } from "../readings/fixture.js";

const base = Draft.plan().track("main", at(0, 0), [straight(4000)]).plan;
const track = { class: "main", deck: Object.keys(base.decks)[0] ?? "", start: at(0, 500), legs: [] } as const;
const plan: Plan = {
  ...base,
  tracks: {
    main: { ...track, name: "Main" },
    lead: { ...track, name: "Helix lead" },
    odd: { ...track, name: "Up: the hill" },
    mill: { ...track, name: "Feed mill" },
    bare: track,
    a: { ...track, name: "Twin" },
    b: { ...track, name: "Twin" },
    later: { ...track, name: "Later", option: "other" },
  },
  turnouts: {
    mill: { on: "main", at: 900, facing: "with", hand: "left", number: 6, name: "Feed mill switch" },
    quarry: { on: "main", at: 2000, facing: "with", hand: "left", number: 6, name: "Quarry" },
  },
  options: { other: { name: "Another" } },
};

describe("climbEndNamed", () => {
  it.each<[text: string, end: ClimbEnd]>([
    ["main:end", { track: "main", end: "end" }],
    [" Main : Start ", { track: "main", end: "start" }],
    ["helix LEAD:start", { track: "lead", end: "start" }],
    ['"Helix lead":start', { track: "lead", end: "start" }],
    ['"Up: the hill":end', { track: "odd", end: "end" }],
    ["quarry", { turnout: "quarry" }],
    ["QUARRY", { turnout: "quarry" }],
    ["Feed mill switch", { turnout: "mill" }],
    // One id for a track and a turnout: the end says which.
    ["mill", { turnout: "mill" }],
    ["mill:end", { track: "mill", end: "end" }],
    ["tracks.mill:end", { track: "mill", end: "end" }],
    ["turnouts.mill", { turnout: "mill" }],
    ['tracks."Up: the hill":end', { track: "odd", end: "end" }],
    ["b:end", { track: "b", end: "end" }],
    ["main@1200", { track: "main", at: 1200 }],
    ["main@4 ft", { track: "main", at: 1219.2 }],
    [`"Helix lead"@4' 6"`, { track: "lead", at: 1371.6 }],
  ])("%s", (text, end) => {
    expect(climbEndNamed(plan, text, "metric")).toEqual({ ok: true, end });
  });

  it("reads bare lengths in the units given", () => {
    expect(climbEndNamed(plan, "main@48", "imperial")).toEqual({ ok: true, end: { track: "main", at: 1219.2 } });
  });

  it.each<[text: string, record: string, message: RegExp]>([
    ["twin:end", "tracks", /"twin" may be tracks\.a "Twin", tracks\.b "Twin"; say which by its id/],
    ["helix:end", "tracks", /no track or turnout is called "helix"; there are tracks\.lead "Helix lead"$/],
    ["zebra:end", "tracks", /there are tracks\.main "Main", tracks\.lead .* and 3 more$/],
    ["later:end", "tracks", /no track or turnout is called "later"/],
    ["main", "tracks.main", /say which end of it: main:start, main:end, or a place on it, main@1200/],
    ["main:middle", "tracks.main", /it has no end "middle": main:start/],
    ["quarry:end", "turnouts.quarry", /one diverging route, called by its name alone: quarry/],
    ["main@far", "tracks.main", /"@far": /],
    ["main@-5", "tracks.main", /lies before its start/],
    [":end", "tracks", /":end" names no track or turnout/],
    ["", "tracks", /names no track or turnout/],
  ])("refuses %s", (text, record, message) => {
    const read = climbEndNamed(plan, text, "metric");
    expect(read).toMatchObject({ ok: false, record });
    expect(read.ok ? "" : read.message).toMatch(message);
  });
});

it("is understood as it is said, whatever the names", () => {
  const name = fc.oneof(
    fc.constantFrom("main", "Main", "mill", "tracks.mill", "turnouts.a"),
    fc.string({ maxLength: 12 }),
  );
  const names = fc.tuple(name, name, name, name);
  const places = fc.constantFrom<ClimbEnd>(
    { track: "main", end: "start" },
    { track: "mill", end: "end" },
    { turnout: "mill" },
    { turnout: "quarry" },
    { track: "a", at: 1234.5 },
  );
  fc.assert(
    fc.property(names, places, ([a, b, c, d], end) => {
      const { main, mill, a: twin } = plan.tracks;
      const { mill: points, quarry } = plan.turnouts;
      if (!main || !mill || !twin || !points || !quarry) throw new Error("the plan has these");
      const renamed: Plan = {
        ...plan,
        tracks: { main: { ...main, name: a }, mill: { ...mill, name: b }, a: { ...twin, name: c } },
        turnouts: { mill: { ...points, name: d }, quarry: { ...quarry, name: a } },
      };
      expect(climbEndNamed(renamed, climbEndName(renamed, end))).toEqual({ ok: true, end });
    }),
    { seed: 5, numRuns: 500 },
  );
});
