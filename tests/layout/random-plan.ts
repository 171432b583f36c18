/**
 * Plans of chance, the same for the same seed: every kind of leg and anchor, dangling and circular ones too, turnouts,
 * pins, benches and options; and edits of chance on them. Nothing here is meant to be buildable.
 */
import type { Anchor, Bench, Leg, Pin, Plan, Side, Slip, Track, Turnout, Turntable } from "../../src/plan/schema.js";
import { PATH_FAMILIES, TRACK_CLASSES } from "../../src/plan/schema.js";
import { seeded } from "../support/shapes.js";
import { BARE } from "./small-plan.js";

export class Chance {
  private readonly random: () => number;
  constructor(seed: number) {
    this.random = seeded(seed);
  }
  between(least: number, most: number): number {
    return least + (most - least) * this.random();
  }
  /** A whole number below `count`. */
  below(count: number): number {
    return Math.floor(this.random() * count);
  }
  one<T>(items: readonly [T, ...T[]]): T {
    return items[this.below(items.length)] ?? items[0];
  }
  yes(share: number): boolean {
    return this.random() < share;
  }
}

const DECKS = ["lower", "upper", "staging"] as const;
const ids = (record: Readonly<Record<string, unknown>>): string[] => Object.keys(record);

/** An id among those there are or, now and then, of nothing. */
function someId(chance: Chance, known: readonly string[]): string {
  return known.length === 0 || chance.yes(0.03) ? "nothing" : (known[chance.below(known.length)] ?? "nothing");
}

const side = (chance: Chance): Side => chance.one(["left", "right"]);
const place = (chance: Chance) => ({
  x: Math.round(chance.between(0, 8000)),
  y: Math.round(chance.between(0, 6000)),
});

/** Names of what may be anchored to. */
interface Names {
  readonly tracks: readonly string[];
  readonly turnouts: readonly string[];
  readonly turntables?: readonly string[];
}

export function randomAnchor(chance: Chance, { tracks, turnouts, turntables = [] }: Names): Anchor {
  const kind = chance.below(9);
  if (kind === 8) return { turntable: someId(chance, turntables), stall: chance.below(4) };
  if (kind < 3) return { pose: { ...place(chance), heading: Math.round(chance.between(-180, 180)) } };
  if (kind < 5) {
    const route = chance.yes(0.3) ? { route: side(chance) } : {};
    return { turnout: someId(chance, turnouts), ...route };
  }
  if (kind < 7) return { track: someId(chance, tracks), end: chance.one(["start", "end"]) };
  const spacing = chance.between(45, 120);
  const at = chance.yes(0.5) ? 0 : chance.between(0, 1500);
  return {
    beside: {
      track: someId(chance, tracks),
      at,
      side: side(chance),
      spacing,
      ...(chance.yes(0.2) && { against: true }),
    },
  };
}

export function randomLeg(chance: Chance, names: Names): Leg {
  const radius = chance.between(250, 1200);
  const length = chance.between(50, 500);
  const easement = chance.yes(0.3) ? {} : { easement: chance.yes(0.5) ? 0 : length };
  switch (chance.below(12)) {
    case 0:
    case 1:
    case 2:
    case 3:
      return { straight: chance.yes(0.03) ? 0.01 : chance.between(50, 1500) };
    case 4:
    case 5:
    case 6: {
      const angle = chance.yes(0.1) ? chance.between(360, 2500) : chance.between(2, 200);
      const inAndOut = chance.yes(0.2) ? { easement: { in: chance.between(0, 300), out: 0 } } : easement;
      return { curve: { radius, angle, hand: side(chance), ...inAndOut } };
    }
    case 7:
      return { toward: { ...place(chance), radius, ...easement } };
    case 8:
    case 9:
    case 10: {
      const family = chance.yes(0.2)
        ? { family: chance.one(PATH_FAMILIES as readonly ["LSL", ...(typeof PATH_FAMILIES)[number][]]) }
        : {};
      const least = chance.yes(0.2) ? { straight: chance.between(0, 300) } : {};
      return { join: { to: randomAnchor(chance, names), radius, ...easement, ...family, ...least } };
    }
    default:
      return chance.yes(0.5)
        ? { flex: [place(chance), place(chance), place(chance)] }
        : {
            beside: {
              track: someId(chance, names.tracks),
              ...(chance.yes(0.6) && { from: chance.between(0, 800) }),
              ...(chance.yes(0.6) && { to: chance.between(0, 2000) }),
              side: side(chance),
              spacing: chance.between(45, 120),
            },
          };
  }
}

export function randomTrack(chance: Chance, names: Names): Track {
  const anchor = randomAnchor(chance, names);
  const legs = Array.from({ length: chance.below(6) }, () => randomLeg(chance, names));
  // Beside another from its beginning, as an owner would lay it.
  const follows: Leg[] =
    "beside" in anchor && anchor.beside.at === 0 && !anchor.beside.against
      ? [{ beside: { track: anchor.beside.track, side: anchor.beside.side, spacing: anchor.beside.spacing } }]
      : [];
  const hidden = chance.one([{}, {}, {}, { hidden: true }, { hidden: [{ from: 200, to: 700 }] }] as const);
  return {
    class: chance.one(TRACK_CLASSES as unknown as readonly ["main", ...(typeof TRACK_CLASSES)[number][]]),
    deck: chance.one(DECKS),
    start: anchor,
    legs: [...follows, ...legs],
    ...hidden,
    ...(chance.yes(0.05) && { option: chance.one(["one", "two"]) }),
  };
}

export function randomTurnout(chance: Chance, tracks: readonly string[]): Turnout {
  const facing = chance.one<Turnout["facing"]>(["with", "against"]);
  const on = someId(chance, tracks);
  const made = chance.yes(0.15)
    ? { template: chance.one(["m", "m", "m", "lost"]) }
    : { number: chance.one([4, 5, 6, 8, 7.5]) };
  if (chance.yes(0.12)) return { on, facing, hand: "wye", ...made };
  return { on, at: chance.between(0, 1500), facing, hand: side(chance), ...made };
}

export const randomPin = (chance: Chance, tracks: readonly string[]): Pin => ({
  track: someId(chance, tracks),
  at: chance.yes(0.4) ? 0 : chance.between(0, 2500),
  ...(chance.yes(0.7)
    ? { height: Math.round(chance.between(800, 1500)) }
    : { deck: chance.one(["lower", "upper", "attic"]) }),
});

export const randomSlip = (chance: Chance, tracks: readonly string[]): Slip => ({
  on: someId(chance, tracks),
  at: chance.between(0, 2500),
  across: someId(chance, tracks),
  kind: chance.one(["single", "double"]),
  ...(chance.yes(0.5) && { side: side(chance) }),
  ...(chance.yes(0.05) && { option: "one" }),
});

/** Two tracks that cross where a slip finds room, anywhere and in any direction, one of them turned or not. */
function crossedPair(chance: Chance): readonly [Track, Track] {
  const { x, y } = place(chance);
  const [heading, across] = [chance.between(-180, 180), chance.between(3, 11)];
  const through = (way: number, before: number): Track => {
    const angle = (way * Math.PI) / 180;
    const start = { pose: { x: x - before * Math.cos(angle), y: y - before * Math.sin(angle), heading: way } };
    return { class: "yard", deck: "lower", start, legs: [{ straight: chance.between(900, 2000) }] };
  };
  const turned = chance.yes(0.5) ? 180 : 0;
  return [through(heading, chance.between(200, 600)), through(heading + across + turned, chance.between(200, 600))];
}

export const randomTurntable = (chance: Chance, tracks: readonly string[]): Turntable => ({
  on: someId(chance, tracks),
  end: chance.one(["start", "end"]),
  bridge: chance.between(150, 400),
  stalls: Array.from({ length: chance.below(5) }, () => Math.round(chance.between(-170, 170))),
  ...(chance.yes(0.05) && { option: "two" }),
});

function randomBench(chance: Chance): Bench {
  const { x, y } = place(chance);
  const [w, d] = [chance.between(300, 3000), chance.between(300, 900)];
  const outline = [
    { x, y },
    { x: x + w, y },
    { x: x + w, y: y + d },
    { x, y: y + d },
  ];
  return { deck: chance.one(DECKS), shape: { outline } };
}

export function randomPlan(seed: number): Plan {
  const chance = new Chance(seed);
  const tracks: Record<string, Track> = {};
  const turnouts: Record<string, Turnout> = {};
  const pins: Record<string, Pin> = {};
  const benches: Record<string, Bench> = {};
  const names = {
    tracks: Array.from({ length: 2 + chance.below(9) }, (_, i) => `t${i}`),
    turnouts: Array.from({ length: chance.below(7) }, (_, i) => `x${i}`),
    turntables: Array.from({ length: chance.below(3) }, (_, i) => `w${i}`),
  };
  for (const id of names.tracks) tracks[id] = randomTrack(chance, names);
  for (const id of names.turnouts) turnouts[id] = randomTurnout(chance, names.tracks);
  for (let i = chance.below(5); i > 0; i--) pins[`p${i}`] = randomPin(chance, names.tracks);
  for (let i = chance.below(4); i > 0; i--) benches[`b${i}`] = randomBench(chance);
  const slips: Record<string, Slip> = {};
  const turntables: Record<string, Turntable> = {};
  if (chance.yes(0.4)) {
    [tracks["c0"], tracks["c1"]] = crossedPair(chance);
    slips["s"] = { ...randomSlip(chance, names.tracks), on: "c0", across: "c1" };
  }
  for (let i = chance.below(3); i > 0; i--) slips[`s${i}`] = randomSlip(chance, names.tracks);
  for (const id of names.turntables) turntables[id] = randomTurntable(chance, names.tracks);
  return {
    ...BARE,
    tracks,
    turnouts,
    slips,
    turntables,
    pins,
    benches,
    templates: { m: { name: "Measured", length: 230, points: 30, angle: 9, radius: 800 } },
    decks: {
      lower: { name: "Lower", kind: "scenic", height: 1000, thickness: 60 },
      upper: { name: "Upper", kind: "scenic", height: 1400, thickness: 60 },
      staging: { name: "Staging", kind: "staging", height: 800, thickness: 40 },
    },
    options: { one: { name: "One" }, two: { name: "Two" } },
    ...(chance.yes(0.5) && { option: chance.one(["one", "two"]) }),
  };
}

const without = <T>(records: Readonly<Record<string, T>>, id: string): Record<string, T> =>
  Object.fromEntries(Object.entries(records).filter(([key]) => key !== id));

/** The plan with one thing about it changed; every record not touched is the same object. */
export function randomEdit(plan: Plan, chance: Chance): Plan {
  const names: Names = { tracks: ids(plan.tracks), turnouts: ids(plan.turnouts), turntables: ids(plan.turntables) };
  const id = names.tracks[chance.below(names.tracks.length)];
  const track = id === undefined ? undefined : plan.tracks[id];
  const withTrack = (change: Partial<Track>): Plan =>
    id === undefined || !track ? plan : { ...plan, tracks: { ...plan.tracks, [id]: { ...track, ...change } } };
  switch (chance.below(20)) {
    case 0:
    case 1:
      return withTrack({ start: randomAnchor(chance, names) });
    case 2:
    case 3:
    case 4: {
      const legs = track?.legs ?? [];
      const i = chance.below(legs.length + 1);
      return withTrack({ legs: legs.toSpliced(i, chance.below(2), randomLeg(chance, names)) });
    }
    case 5:
      return withTrack({ legs: track?.legs.slice(0, -1) ?? [] });
    case 6:
      return withTrack({ name: `Track ${chance.below(100)}` });
    case 7: {
      const turnout = names.turnouts[chance.below(names.turnouts.length)];
      const before = turnout === undefined ? undefined : plan.turnouts[turnout];
      if (turnout === undefined || !before) return plan;
      return { ...plan, turnouts: { ...plan.turnouts, [turnout]: { ...before, at: chance.between(0, 1500) } } };
    }
    case 8:
      return { ...plan, turnouts: { ...plan.turnouts, [`x${chance.below(8)}`]: randomTurnout(chance, names.tracks) } };
    case 9:
      return { ...plan, tracks: { ...plan.tracks, [`t${chance.below(14)}`]: randomTrack(chance, names) } };
    case 10:
      return id === undefined ? plan : { ...plan, tracks: without(plan.tracks, id) };
    case 11:
      return { ...plan, pins: { ...plan.pins, [`p${chance.below(6)}`]: randomPin(chance, names.tracks) } };
    case 12:
      return chance.yes(0.5)
        ? { ...plan, benches: { ...plan.benches, [`b${chance.below(4)}`]: randomBench(chance) } }
        : { ...plan, benches: without(plan.benches, `b${chance.below(4)}`) };
    case 13: {
      const value = chance.between(200, 900);
      const main = { ...plan.standards.classes.main, easement: { value, source: "test" } };
      return { ...plan, standards: { ...plan.standards, classes: { ...plan.standards.classes, main } } };
    }
    case 15:
      return { ...plan, slips: { ...plan.slips, [`s${chance.below(3)}`]: randomSlip(chance, names.tracks) } };
    case 16:
      return {
        ...plan,
        turntables: { ...plan.turntables, [`w${chance.below(3)}`]: randomTurntable(chance, names.tracks) },
      };
    case 17:
      return chance.yes(0.5)
        ? { ...plan, slips: without(plan.slips, `s${chance.below(3)}`) }
        : { ...plan, turntables: without(plan.turntables, `w${chance.below(3)}`) };
    case 18: {
      // A crossed track slides, and its slip with it.
      const moved = plan.tracks["c1"];
      if (!moved || !("pose" in moved.start)) return plan;
      const { pose } = moved.start;
      const start = { pose: { ...pose, x: pose.x + chance.between(-60, 60), y: pose.y + chance.between(-60, 60) } };
      return { ...plan, tracks: { ...plan.tracks, c1: { ...moved, start } } };
    }
    case 14:
      return { ...plan, option: chance.one(["one", "two"]) };
    default:
      return { ...plan, pins: without(plan.pins, `p${chance.below(6)}`) };
  }
}
