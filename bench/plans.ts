/**
 * Seeded plans of any size: districts of twenty tracks in a large hall, each with a double track, a passing siding, a
 * ladder of yard tracks, spurs, and a branch that climbs a helix to an upper deck; the districts are joined to one network.
 */
import { toDegrees } from "../src/geometry/units.js";
import { emptyPlan } from "../src/plan/empty-plan.js";
import type { Bench, Leg, Pin, Plan, Side, Track, Turnout } from "../src/plan/schema.js";
import { frogAngle } from "../src/standards/turnouts.js";

export const TRACKS_IN_DISTRICT = 20;
const WIDE = 6600;
const DEEP = 5200;
const MAIN = 5400;
const FROG = 6;
const FROG_DEGREES = toDegrees(frogAngle(FROG));
const YARD_TRACKS = 6;

/** Mulberry32 (public domain, T. Ettinger): the same numbers for the same seed. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

interface Records {
  readonly tracks: Record<string, Track>;
  readonly turnouts: Record<string, Turnout>;
  readonly pins: Record<string, Pin>;
  readonly benches: Record<string, Bench>;
}

/** A plan of `tracks` tracks, rounded up to whole districts. */
export function hallPlan(tracks: number, seed = 1): Plan {
  const districts = Math.ceil(tracks / TRACKS_IN_DISTRICT);
  const columns = Math.max(1, Math.round(Math.sqrt((districts * DEEP) / WIDE)));
  const rows = Math.ceil(districts / columns);
  const random = seeded(seed);
  const records: Records = { tracks: {}, turnouts: {}, pins: {}, benches: {} };
  for (let i = 0; i < districts; i++) {
    const row = Math.floor(i / columns);
    const along = i % columns;
    // Every other row runs back, so that the line goes on from the end of one to the beginning of the next.
    const back = row % 2 === 1;
    const column = back ? columns - 1 - along : along;
    const x = 2000 + column * WIDE + (back ? MAIN : 0);
    const y = 2500 + row * DEEP;
    addDistrict(records, i, x, y, back ? 180 : 0, i + 1 < districts, random);
  }
  const empty = emptyPlan({
    title: `Hall of ${tracks} tracks`,
    width: columns * WIDE + 4000,
    depth: rows * DEEP + 4000,
    scale: "HO",
    units: "imperial",
  });
  const decks = {
    lower: { name: "Lower deck", kind: "scenic", height: 1000, thickness: 60 },
    upper: { name: "Upper deck", kind: "scenic", height: 1400, thickness: 60 },
  } as const;
  return { ...empty, ...records, decks };
}

function addDistrict(
  { tracks, turnouts, pins, benches }: Records,
  index: number,
  x: number,
  y: number,
  heading: number,
  linked: boolean,
  random: () => number,
): void {
  const id = (name: string): string => `d${index}-${name}`;
  const next = (name: string): string => `d${index + 1}-${name}`;
  const vary = (least: number, most: number): number => Math.round((least + (most - least) * random()) * 10) / 10;
  const turnout = (name: string, on: string, at: number, hand: Side, facing: Turnout["facing"] = "with"): void => {
    turnouts[id(name)] = { on: id(on), at, facing, hand, number: FROG };
  };
  const track = (name: string, kind: Track["class"], start: Track["start"], legs: Leg[], deck = "lower"): void => {
    tracks[id(name)] = { class: kind, deck, start, legs };
  };
  const straighten = (hand: Side): Leg => ({ curve: { radius: 900, angle: FROG_DEGREES, hand, easement: 0 } });

  track("main", "main", { pose: { x, y, heading } }, [{ straight: MAIN }]);
  track("east", "main", { beside: { track: id("main"), at: 0, side: "right", spacing: 52 } }, [
    { beside: { track: id("main"), from: 0, to: MAIN, side: "right", spacing: 52 } },
  ]);

  turnout("west", "main", 300, "left");
  turnout("close", "main", MAIN - 300, "right", "against");
  track("siding", "siding", { turnout: id("west") }, [
    straighten("right"),
    { straight: 3600 },
    { join: { to: { turnout: id("close") }, radius: 800 } },
  ]);

  turnout("lead", "east", 500, "right");
  const ladder: Leg[] = [];
  for (let i = 0; i < YARD_TRACKS; i++) {
    const name = `yard${i}`;
    turnout(name, "lead", 130 + i * 330, "left");
    ladder.push({ straight: 330 });
    const length = vary(1200, 1900);
    track(name, "yard", { turnout: id(name) }, [{ straight: length }]);
  }
  track("lead", "lead", { turnout: id("lead") }, [...ladder, { straight: 200 }]);

  for (let i = 0; i < 3; i++) {
    turnout(`spur${i}`, "siding", 500 + i * 600, "left");
    const angle = vary(15, 40);
    const radius = vary(560, 700);
    const length = vary(250, 500);
    track(`spur${i}`, "spur", { turnout: id(`spur${i}`) }, [
      { straight: 150 },
      { curve: { radius, angle, hand: "left" } },
      { straight: length },
    ]);
  }

  turnout("branch", "siding", 2700, "left");
  const radius = vary(700, 760);
  track("branch", "branch", { turnout: id("branch") }, [
    { straight: vary(150, 300) },
    { curve: { radius, angle: 80.5 + 720, hand: "left" } },
    { straight: 900 },
    { curve: { radius: 760, angle: 90, hand: "left" } },
  ]);
  track("shelf", "branch", { track: id("branch"), end: "end" }, [{ straight: 1900 }], "upper");
  for (let i = 0; i < 3; i++) {
    turnout(`top${i}`, "shelf", 250 + i * 500, i % 2 === 0 ? "left" : "right");
    const angle = vary(10, 35);
    track(
      `top${i}`,
      "spur",
      { turnout: id(`top${i}`) },
      [{ curve: { radius: 620, angle, hand: i % 2 === 0 ? "left" : "right" } }, { straight: vary(200, 400) }],
      "upper",
    );
  }

  // The link lies in the district it leaves; the last district has stubs instead.
  const link = (name: "main" | "east"): Leg[] =>
    linked ? [{ join: { to: { track: next(name), end: "start" }, radius: 800 } }] : [{ straight: 400 }];
  track("link", "main", { track: id("main"), end: "end" }, link("main"));
  track("link-east", "main", { track: id("east"), end: "end" }, link("east"));

  pins[id("main")] = { track: id("main"), at: 100, deck: "lower" };
  pins[id("east")] = { track: id("east"), at: 100, deck: "lower" };
  pins[id("foot")] = { track: id("siding"), at: 2600, deck: "lower" };
  pins[id("top")] = { track: id("shelf"), at: 0, deck: "upper" };

  const across = (lower: number, upper: number): Bench["shape"] => {
    const [a, b] = heading === 0 ? [y - lower, y + upper] : [y - upper, y + lower];
    const [west, east] = heading === 0 ? [x - 300, x + MAIN + 300] : [x - MAIN - 300, x + 300];
    return {
      outline: [
        { x: west, y: a },
        { x: east, y: a },
        { x: east, y: b },
        { x: west, y: b },
      ],
    };
  };
  benches[id("bench")] = { deck: "lower", shape: across(900, 1900) };
  benches[id("upper")] = { deck: "upper", shape: across(100, 2100) };
}
