/** Climb routes from the sheet: both ends picked, searched, looked at, taken, and what a bench dragged afterwards does. */
import { afterEach, describe, expect, it } from "vitest";
import type { ClimbRequest, ClimbStep } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { type ClimbStore, climbs, createClimbs } from "../../src/editor/climb-store.js";
import { type ClimbDesk, makeClimbDesk } from "../../src/editor/climbs/desk.js";
import { climbEnds } from "../../src/editor/climbs/ends.js";
import { inSlices } from "../../src/editor/climbs/in-slices.js";
import type { Searcher } from "../../src/editor/climbs/searcher.js";
import { isStale, takeRoute } from "../../src/editor/climbs/take-route.js";
import { ARROW, anyTool } from "../../src/editor/tools/arrow.js";
import { climbRoutesTool } from "../../src/editor/tools/climb-routes.js";
import { reshapeTool } from "../../src/editor/tools/frame-reshape.js";
import { putRecord } from "../../src/plan/edit.js";
import { addAndChoose } from "../../src/plan/option-edits.js";
import { moveTrackStart } from "../../src/plan/track-edits.js";
import type { Plan } from "../../src/plan/schema.js";
import { writePlan } from "../../src/plan/write.js";
import { takeReadings } from "../../src/readings/take.js";
import { balloon, pad, shelfOnly } from "../climb/rooms.js";
import { Chance } from "../layout/random-plan.js";
import { box } from "../readings/fixture.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

let leave = (): void => {};
afterEach(() => leave());

interface Opened {
  readonly sheet: SheetDriver;
  readonly store: ClimbStore;
  readonly desk: ClimbDesk;
  /** Runs one slice of the search; false where there is none. */
  readonly slice: () => boolean;
  readonly finish: () => void;
}

const answers = new Map<string, readonly ClimbStep[]>();

/** Every question is searched once, and told again when it is asked again. */
function stepsOf(plan: Plan, request: ClimbRequest): readonly ClimbStep[] {
  const key = JSON.stringify([plan, request]);
  let steps = answers.get(key);
  if (!steps) answers.set(key, (steps = [...searchClimb(plan, request)]));
  return steps;
}

/** A step a slice. */
function tellingAgain(later: (work: () => void) => void): Searcher {
  let time = 0;
  let end = (): void => {};
  const never = (error: unknown): never => {
    throw error;
  };
  return {
    search({ layout, request }, told) {
      end();
      const steps = stepsOf(layout.plan, request).values();
      end = inSlices(steps, (some) => some.forEach((step) => told(step)), never, {
        now: () => time++,
        later,
        length: 2,
      });
    },
    stop: () => end(),
  };
}

function open(plan: Plan, searcher?: Searcher): Opened {
  const store = createClimbs();
  const sheet = openSheet(plan, { tools: [ARROW, anyTool(climbRoutesTool(store)), anyTool(reshapeTool)] });
  const waiting: (() => void)[] = [];
  const later = (work: () => void): void => void waiting.push(work);
  const desk = makeClimbDesk(sheet.store, store, searcher ?? tellingAgain(later));
  leave = desk.attend();
  const slice = (): boolean => {
    const work = waiting.shift();
    work?.();
    return work !== undefined;
  };
  return {
    sheet: sheet.stage("grade"),
    store,
    desk,
    slice,
    finish: () => {
      while (slice());
    },
  };
}

const SHELF = shelfOnly(122).plan;
/** The lower track's end and the upper track's start. */
const LOW = [1000, 300] as const;
const HIGH = [6400, 300] as const;

const pickBoth = ({ sheet }: Opened): SheetDriver =>
  sheet
    .take("climb-routes")
    .click(...LOW)
    .click(...HIGH);

const found = (opened: Opened) => {
  pickBoth(opened).key("Enter");
  opened.finish();
  return opened.store.getState().search?.routes ?? [];
};

describe("the ends", () => {
  it("are caught on either deck, the deck above coming to hand after the first", () => {
    const opened = open(SHELF);
    const { sheet, store } = opened;
    expect(store.getState().open).toBe(false);
    sheet.take("climb-routes").click(...LOW);
    expect(store.getState().open).toBe(true);
    expect(sheet.state.deck).toBe("upper");
    expect(sheet.state.show.hint).toMatch(/arrives/);
    sheet.click(...HIGH);
    expect(store.getState().wishes).toMatchObject({
      from: { track: "low", end: "end" },
      to: { track: "high", end: "start" },
    });
    expect(sheet.state.show.hint).toMatch(/^Enter searches/);
    expect(sheet.plan).toBe(SHELF);
  });

  it("are stepped through by key", () => {
    const { sheet, store } = open(SHELF);
    sheet.take("climb-routes").key("ArrowRight").key("ArrowRight").key("Enter");
    expect(store.getState().wishes.from).toEqual({ track: "low", end: "end" });
    sheet.key("ArrowLeft").key("ArrowLeft").key("Enter");
    expect(store.getState().wishes.to).toEqual({ track: "high", end: "start" });
  });

  it("may be a place on a track, and are moved by a click on their own deck", () => {
    const opened = open(SHELF);
    const { sheet, store } = opened;
    pickBoth(opened).click(7000, 300);
    expect(store.getState().wishes.to).toEqual({ track: "high", at: expect.closeTo(600, 0) });
    sheet.deck("lower").click(600, 300);
    expect(store.getState().wishes.from).toEqual({ track: "low", at: expect.closeTo(400, 0) });
  });

  it("are given up one by one, and what is no end is not picked", () => {
    const { sheet, store } = open(SHELF);
    sheet.take("climb-routes").click(3000, 2000);
    expect(store.getState().wishes.from).toBeUndefined();
    sheet.click(...LOW).cancel();
    expect(store.getState().wishes.from).toBeUndefined();
    expect(sheet.state.deck).toBe("lower");
    expect(sheet.state.tool).toBe("climb-routes");
    sheet.cancel();
    expect(sheet.state.tool).toBe(ARROW.id);
  });

  it("leave out ends with a bumper", () => {
    const { low } = SHELF.tracks;
    if (!low) throw new Error("no track");
    const { sheet } = open({ ...SHELF, tracks: { ...SHELF.tracks, low: { ...low, bumpers: ["start"] } } });
    expect(climbEnds(sheet.state.settled).map(({ word }) => word)).toEqual([
      "end of main",
      "start of main",
      "end of main",
    ]);
  });
});

describe("limits, wishes and ground", () => {
  it("are typed before the search and go into the request", () => {
    const opened = open(SHELF);
    const { sheet, store } = opened;
    pickBoth(opened)
      .type("3")
      .key("Tab")
      .type("550 mm")
      .key("Enter")
      .choose("rank", "least-grade")
      .choose("class", "branch");
    expect(store.getState().wishes).toMatchObject({ grade: 3, radius: 550, rankBy: "least-grade", class: "branch" });
    sheet.choose("rank", "");
    expect("rankBy" in store.getState().wishes).toBe(false);
  });

  it("ground is drawn with corners and closed by Enter", () => {
    const opened = open(SHELF);
    const { sheet, store } = opened;
    pickBoth(opened).key("g").click(3000, 1000).click(5000, 1000).click(5000, 2500).click(3000, 2500).key("Enter");
    const [area] = store.getState().wishes.allow ?? [];
    expect(area?.[0]).toHaveLength(4);
    expect(sheet.state.show.hint).toMatch(/^Enter searches/);
    expect(sheet.plan).toBe(SHELF);
  });
});

describe("the search", () => {
  it("lists routes as they come, and shows the first over the sheet without touching the plan", () => {
    const opened = open(SHELF);
    const { sheet, store, desk } = opened;
    const routes = found(opened);
    expect(routes.length).toBeGreaterThanOrEqual(1);
    const { shown, proposed, search } = store.getState();
    expect(search?.state).toBe("answered");
    expect(shown).toBe(routes[0]);
    expect(proposed?.route.length).toBeCloseTo(routes[0]?.figures.run ?? 0, 6);
    expect(sheet.state.laidOver).toMatchObject([{ kind: "path", style: "selected" }]);
    // Pointed at in its profile, the place shows on the sheet.
    sheet.state.setHover({ line: `track:${routes[0]?.track ?? ""}`, s: 1000 });
    expect(sheet.state.laidOver).toMatchObject([{ kind: "path" }, { kind: "handle", shape: "ring", at: { x: 2000 } }]);
    sheet.state.setHover(undefined);
    expect(sheet.state.laidOver).toHaveLength(1);
    desk.show(undefined);
    expect(sheet.state.laidOver).toEqual([]);
    expect(sheet.state.plan).toBe(SHELF);
    expect(sheet.state.history.past).toBeUndefined();
  });

  it("sorts the ends by height, whichever was picked first", () => {
    const opened = open(SHELF);
    opened.sheet
      .take("climb-routes")
      .deck("upper")
      .click(...HIGH)
      .deck("lower")
      .click(...LOW)
      .key("Enter");
    opened.finish();
    expect(opened.store.getState().search?.routes.length).toBeGreaterThan(0);
    expect(opened.store.getState().wishes.from).toEqual({ track: "high", end: "start" });
  });

  it("is stopped by Esc, what it found until then staying", () => {
    const opened = open(SHELF);
    const { sheet, store } = opened;
    pickBoth(opened).key("Enter");
    opened.slice();
    expect(store.getState().search?.state).toBe("searching");
    sheet.cancel();
    expect(store.getState().search?.state).toBe("stopped");
    expect(sheet.state.tool).toBe("climb-routes");
    opened.finish();
    expect(store.getState().search).toMatchObject({ state: "stopped", routes: [] });
  });

  it("says in figures what is missing where there is no route", () => {
    const opened = open(shelfOnly(160).plan);
    expect(found(opened)).toEqual([]);
    const { shortfall } = opened.store.getState().search ?? {};
    expect(shortfall?.longest).toBeLessThan(shortfall?.needed ?? 0);
    expect(shortfall?.fits.map(({ what }) => what)).toContain("grade");
    expect(opened.store.getState().proposed).toBeUndefined();
  });

  it("is dropped with its ends when another plan is opened", () => {
    const opened = open(SHELF);
    found(opened);
    opened.sheet.state.open(balloon(250).plan, "other.plan.json", true);
    expect(opened.store.getState()).toMatchObject({ search: undefined, shown: undefined, wishes: { class: "main" } });
    expect(opened.store.getState().wishes.from).toBeUndefined();
  });
});

const fails = (plan: Plan, sheet: SheetDriver): string[] =>
  takeReadings(plan, sheet.state.settled)
    .filter(({ verdict }) => verdict === "fails")
    .map(({ id }) => id);

describe("a route taken", () => {
  it("is an option in hand, by one step that undo takes back to the same bytes", () => {
    const opened = open(SHELF);
    const { sheet, store, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    const before = writePlan(sheet.plan);
    const had = fails(SHELF, sheet);
    expect(desk.take(route, "option")).toBe(true);
    const [option] = Object.entries(sheet.plan.options);
    expect(option?.[1].name).toBe("Climb A");
    expect(sheet.plan.option).toBe(option?.[0]);
    const track = sheet.plan.tracks[route.track];
    expect(track).toMatchObject({ option: option?.[0], name: "Climb A", legs: route.legs });
    expect(fails(sheet.plan, sheet)).toEqual(had);
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "tracks", id: route.track }]);
    expect(sheet.state.laidOver).toEqual([]);
    expect(store.getState().search?.routes).toContain(route);
    sheet.undo();
    expect(sheet.plan).toBe(SHELF);
    expect(writePlan(sheet.plan)).toBe(before);
  });

  it("may be taken again as the next option: what the first added is not in hand there", () => {
    const opened = open(SHELF);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    desk.take(route, "option");
    expect(isStale(SHELF, sheet.plan)).toBe(false);
    expect(desk.take(route, "option")).toBe(true);
    expect(Object.values(sheet.plan.options).map(({ name }) => name)).toEqual(["Climb A", "Climb B"]);
    const own = Object.values(sheet.plan.tracks).filter(({ option }) => option === sheet.plan.option);
    expect(own.map(({ name }) => name)).toEqual(["Climb B"]);
    expect(fails(sheet.plan, sheet)).toEqual(fails(SHELF, open(SHELF).sheet));
  });

  it("may belong to all options", () => {
    const opened = open(SHELF);
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    expect(opened.desk.take(route, "here")).toBe(true);
    expect(opened.sheet.plan.options).toEqual({});
    expect(opened.sheet.plan.tracks[route.track]?.option).toBeUndefined();
    // There it lies now; a second would lie on it.
    expect(opened.desk.take(route, "here")).toBe(false);
    expect(opened.sheet.state.said).toMatch(/does not fit the plan as it is now/);
    expect(opened.sheet.undo().plan).toBe(SHELF);
  });

  it("belongs to the option in hand, where it is taken there", () => {
    const added = addAndChoose(SHELF, "No peninsula");
    if (!added.edit.ok) throw new Error(added.edit.message);
    const opened = open(added.edit.plan);
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    expect(opened.desk.take(route, "here")).toBe(true);
    expect(opened.sheet.state.said).toBe("Taken into No peninsula.");
    expect(opened.sheet.plan.tracks[route.track]).toMatchObject({ option: added.option, name: "No peninsula" });
    expect(Object.keys(opened.sheet.plan.options)).toEqual([added.option]);
  });

  it("that needs what an option brings does not fit in one of its own", () => {
    const { shelf, ...benches } = SHELF.benches;
    const added = addAndChoose({ ...SHELF, benches }, "Long shelf");
    if (!added.edit.ok || !shelf) throw new Error("no option");
    const { plan } = added.edit;
    const opened = open({ ...plan, benches: { ...plan.benches, shelf: { ...shelf, option: added.option } } });
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    expect(opened.desk.take(route, "option")).toBe(false);
    expect(opened.sheet.state.said).toMatch(/^It does not fit without what belongs to Long shelf: /);
    expect(opened.desk.take(route, "here")).toBe(true);
  });

  it("brings the bench it needs, of ground that was allowed", () => {
    const { shelf } = SHELF.benches;
    if (!shelf) throw new Error("no shelf");
    const half = (from: number, to: number) => ({ ...shelf, shape: { outline: box(from, 0, to, 600) } });
    const opened = open({ ...SHELF, benches: { ...SHELF.benches, shelf: half(0, 3000), east: half(5000, 8000) } });
    const { sheet, desk } = opened;
    pickBoth(opened).key("g");
    for (const { x, y } of box(2900, 0, 5100, 600)) sheet.click(x, y, { alt: true });
    sheet.key("Enter").key("Enter");
    opened.finish();
    const [route] = opened.store.getState().search?.routes ?? [];
    if (!route) throw new Error("no route");
    expect(route.figures.newBench).toBeCloseTo(2000 * 600, -3);
    expect(sheet.state.laidOver).toMatchObject([
      { kind: "line", closed: true, style: "guide" },
      { kind: "path", style: "selected" },
    ]);
    desk.take(route, "option");
    const added = Object.values(sheet.plan.benches).filter(({ option }) => option === sheet.plan.option);
    expect(added).toHaveLength(1);
  });

  it("brings the limits it was searched with", () => {
    const opened = open(shelfOnly(140).plan);
    pickBoth(opened).type("3").key("Enter").key("Enter");
    opened.finish();
    const [route] = opened.store.getState().search?.routes ?? [];
    if (!route) throw new Error("no route");
    opened.desk.take(route, "option");
    expect(opened.sheet.plan.standards.classes.main.grade.value).toBe(3);
    expect(opened.sheet.undo().plan.standards.classes.main.grade.value).toBe(2.5);
  });
});

describe("a plan changed since", () => {
  it("in what no search sees makes nothing old", () => {
    const opened = open(SHELF);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    sheet.state.edit({ ok: true, name: "Title", plan: { ...sheet.plan, title: "Another" } });
    expect(isStale(SHELF, sheet.plan)).toBe(false);
    expect(desk.take(route, "option")).toBe(true);
    expect(sheet.plan.title).toBe("Another");
  });

  it("while it is searched makes what is found old, and lets it be taken where it fits", () => {
    const opened = open(SHELF);
    const { sheet, store, desk } = opened;
    pickBoth(opened).key("Enter");
    opened.slice();
    sheet.state.edit(moveTrackStart(SHELF, "high", { pose: { x: 6400, y: 320, heading: 0 } }));
    opened.finish();
    const { search } = store.getState();
    expect(search?.layout.plan).toBe(SHELF);
    expect(isStale(SHELF, sheet.plan)).toBe(true);
    const [route] = search?.routes ?? [];
    if (!route) throw new Error("no route");
    const before = sheet.plan;
    // Either it is laid to where the end is now, or refused in words; never anything that fails.
    const had = fails(before, sheet);
    if (!desk.take(route, "option")) expect(sheet.state.said).toMatch(/^It does not fit the plan as it is now: /);
    expect(fails(sheet.plan, sheet)).toEqual(had);
  });

  it("elsewhere leaves the route to be taken, held against the readings anew", () => {
    const opened = open(SHELF);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    const outline = [
      { x: 0, y: 3000 },
      { x: 2000, y: 3000 },
      { x: 2000, y: 3600 },
      { x: 0, y: 3600 },
    ];
    sheet.state.edit(putRecord(sheet.plan, "benches", "far", { deck: "lower", shape: { outline } }));
    expect(isStale(SHELF, sheet.plan)).toBe(true);
    expect(desk.take(route, "option")).toBe(true);
    expect(sheet.plan.benches["far"]).toBeDefined();
  });

  it("under the route refuses it, in words, and stays as it is", () => {
    const opened = open(SHELF);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    const bench = sheet.plan.benches["shelf"];
    if (!bench) throw new Error("no bench");
    const outline = [
      { x: 0, y: 0 },
      { x: 3000, y: 0 },
      { x: 3000, y: 600 },
      { x: 0, y: 600 },
    ];
    sheet.state.edit(putRecord(sheet.plan, "benches", "shelf", { ...bench, shape: { outline } }));
    const before = sheet.plan;
    expect(desk.take(route, "option")).toBe(false);
    expect(sheet.state.said).toMatch(/^It does not fit the plan as it is now: .+ \(≥ /);
    expect(sheet.plan).toBe(before);
  });

  it("where an end has gone or moved refuses it too", () => {
    const opened = open(SHELF);
    const { sheet } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    const { low: _, ...rest } = SHELF.tracks;
    const without: Plan = { ...SHELF, tracks: rest, pins: {} };
    const gone = takeRoute(openSheet(without).state.settled, SHELF, "main", route, "option");
    expect(gone.edit).toMatchObject({ ok: false, message: expect.stringMatching(/no track "low"/) });
    sheet.state.edit(moveTrackStart(SHELF, "low", { pose: { x: 1000, y: 300, heading: 180 } }));
    expect(takeRoute(sheet.state.settled, SHELF, "main", route, "option").edit).toMatchObject({
      ok: false,
      message: expect.stringMatching(/does not fit the plan as it is now/),
    });
  });
});

describe("the peninsula dragged after a route was taken", () => {
  it("is read at once: what no longer fits is told, and told no more when it lies there again", () => {
    const { plan } = pad(210, 1700);
    const opened = open(plan);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    desk.take(route, "option");
    const taken = sheet.plan;
    const had = fails(taken, sheet);
    expect(had).not.toContain("edge");
    const places = (): string[] => {
      const readings = takeReadings(sheet.state.plan, sheet.state.layout);
      const edge = readings.find(({ id, verdict }) => id === "edge" && verdict === "fails");
      return edge?.places.map(({ thing }) => thing) ?? [];
    };
    sheet.take("reshape").deck("lower").click(4600, 1600);
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "benches", id: "pad" }]);
    sheet.pointerDown(4600, 1600).pointerMove(4800, 1600).pointerMove(4900, 1600);
    // While it is in the hand already.
    expect(places()).toContain(`tracks.${route.track}`);
    sheet.pointerUp();
    expect(sheet.plan.benches["pad"]).not.toBe(taken.benches["pad"]);
    // The legs lie where they were laid: they follow their ends, and the bench has gone from under them.
    expect(sheet.plan.tracks[route.track]).toBe(taken.tracks[route.track]);
    expect(places()).toContain(`tracks.${route.track}`);
    sheet.drag([4900, 1600], [4600, 1600]);
    expect(places()).toEqual([]);
    sheet.undo();
    sheet.undo();
    expect(fails(sheet.plan, sheet)).toEqual(had);
  });

  it("and an end moved with its track: the last leg finds its way anew, or the joint is told", () => {
    const opened = open(SHELF);
    const { sheet, desk } = opened;
    const [route] = found(opened);
    if (!route) throw new Error("no route");
    desk.take(route, "option");
    const line = () => sheet.state.settled.lines.get(`track:${route.track}`)?.path.end;
    sheet.state.edit(moveTrackStart(sheet.plan, "high", { pose: { x: 6400, y: 340, heading: 0 } }));
    expect(line()?.y).toBeCloseTo(340, 6);
    sheet.state.edit(moveTrackStart(sheet.plan, "high", { pose: { x: 6400, y: 300, heading: 180 } }));
    expect(
      takeReadings(sheet.plan, sheet.state.settled).filter(({ verdict }) => verdict === "fails").length,
    ).toBeGreaterThan(0);
  });
});

const KEYS = ["Enter", "Tab", "g", "2", "ArrowRight", "ArrowUp", "Backspace", "."] as const;
const CHOICES = [
  ["class", "branch"],
  ["rank", "least-hidden"],
  ["rank", ""],
  ["pick", "ground"],
  ["pick", ""],
  ["", ""],
] as const;

it.each([1, 2, 3, 4, 5, 6])("whatever a hand does with the tool the plan stays as it is, hand %i", (seed) => {
  const chance = new Chance(seed);
  const { sheet } = open(SHELF, { search: () => {}, stop: () => {} });
  sheet.take("climb-routes");
  for (let step = 0; step < 120; step++) {
    const what = chance.below(10);
    const at = chance.below(3) === 0 ? LOW : ([chance.below(8000), chance.below(4000)] as const);
    if (what < 4) sheet.click(...at);
    else if (what < 5) sheet.pointerMove(...at);
    else if (what < 7) sheet.key(chance.one(KEYS));
    else if (what < 8) sheet.choose(...chance.one<readonly [string, string]>(CHOICES));
    else if (what < 9) sheet.deck(chance.below(2) === 0 ? "lower" : "upper");
    else sheet.cancel();
    if (sheet.state.tool !== "climb-routes") sheet.take("climb-routes");
    expect(sheet.state.plan).toBe(SHELF);
    expect(sheet.state.show.hint).not.toBe("");
  }
});

it("the page's own store begins empty", () => {
  expect(climbs.getState()).toMatchObject({ open: false, search: undefined, wishes: { class: "main" } });
});
