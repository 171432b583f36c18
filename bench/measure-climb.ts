/**
 * The climb search in a room like the samples: an HO shelf of 8 m with a peninsula, both decks, once with routes and once
 * with a peninsula too narrow for any, so that what would have to give is searched for. Held against a piece of work every edit
 * of a plan does, all readings of that plan taken afresh, so that runs on busy machines can be compared.
 */
import type { ClimbRequest, ClimbStep } from "../src/climb/request.js";
import { searchClimb } from "../src/climb/search-climb.js";
import { deriveLayout } from "../src/layout/derive.js";
import { emptyPlan } from "../src/plan/empty-plan.js";
import type { Plan } from "../src/plan/schema.js";
import { takeReadings } from "../src/readings/take.js";
import type { Result } from "./report.js";
import { medianOf } from "./timing.js";

const REQUEST: ClimbRequest = {
  from: { track: "low", end: "end" },
  to: { track: "high", end: "start" },
  class: "main",
};
const RISE = 290;
/** Width of the peninsula where no train can turn on it. */
const NARROW = 1400;
const WIDE = 2000;
/** Goals: the first route, and all there is to say. */
const FIRST_SECONDS = 2;
const FULL_SECONDS = 20;
const MOST_MEGABYTES = 500;

const box = (x0: number, y0: number, x1: number, y1: number) => ({
  outline: [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ],
});

function roomPlan(width: number): Plan {
  const empty = emptyPlan({ title: "Climb", width: 8000, depth: 6000, scale: "HO", units: "metric" });
  const deck = { kind: "scenic", thickness: 80 } as const;
  const start = (x: number, y: number) => ({ pose: { x, y, heading: 0 } });
  return {
    ...empty,
    decks: { lower: { ...deck, name: "Lower", height: 1000 }, upper: { ...deck, name: "Upper", height: 1000 + RISE } },
    benches: {
      shelf: { deck: "lower", shape: box(0, 0, 8000, 650) },
      tongue: { deck: "lower", shape: box(4000 - width / 2, 500, 4000 + width / 2, 4500) },
      above: { deck: "upper", shape: box(5500, 0, 8000, 650) },
    },
    tracks: {
      low: { class: "main", deck: "lower", start: start(200, 300), legs: [{ straight: 800 }] },
      high: { class: "main", deck: "upper", start: start(6400, 300), legs: [{ straight: 1200 }] },
    },
  };
}

/** Processor time of this process, seconds. */
const used = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

function search(plan: Plan): { first: number; full: number; looked: number; last: ClimbStep | undefined } {
  const began = used();
  let [first, looked] = [Number.NaN, 0];
  let last: ClimbStep | undefined;
  for (const step of searchClimb(plan, REQUEST)) {
    if (step.kind === "route" && Number.isNaN(first)) first = used() - began;
    if (step.kind === "progress" && step.stage === "ways") looked = step.looked;
    last = step;
  }
  return { first, full: used() - began, looked, last };
}

export function* measureClimb(): Generator<Result> {
  const plan = roomPlan(WIDE);
  const reference = medianOf(5, () => takeReadings(plan, deriveLayout(plan))) / 1000;
  search(plan);
  const found = search(plan);
  const routes = found.last?.kind === "answer" ? found.last.routes.length : 0;
  const against = (seconds: number): string =>
    `as long as ${(seconds / reference).toFixed(0)} times all readings of the plan from scratch (${(1000 * reference).toFixed(1)} ms)`;
  yield {
    name: "the first climb route in a room with a peninsula",
    value: found.first,
    unit: "s of processor time",
    goal: { most: FIRST_SECONDS },
    note: against(found.first),
    wrong: routes === 0,
  };
  yield {
    name: "all climb routes of that room",
    value: found.full,
    unit: "s of processor time",
    goal: { most: FULL_SECONDS },
    note: `${routes} routes; ${found.looked} ways looked at; ${against(found.full)}`,
    wrong: routes < 3,
  };
  const none = search(roomPlan(NARROW));
  const fits = none.last?.kind === "answer" ? (none.last.shortfall?.fits ?? []) : [];
  yield {
    name: "what would have to give where there is no climb",
    value: none.full,
    unit: "s of processor time",
    goal: { most: FULL_SECONDS },
    note: `${fits.map(({ what, value, unit }) => `${what} ${value} ${unit}`).join(", ")}; ${against(none.full)}`,
    wrong: none.last?.kind !== "answer" || none.last.routes.length > 0,
  };
  yield {
    name: "memory of the process after the climb searches",
    value: process.memoryUsage().rss / 1e6,
    unit: "MB",
    goal: { most: MOST_MEGABYTES },
    note: "resident, whatever was measured before among it",
  };
}
