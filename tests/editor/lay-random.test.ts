/** Many hands of forty doings at every tool that lays track or pins it. */
import { describe, expect, it } from "vitest";
import { layPlan } from "./lay-plan.js";
import { expectHarmless } from "./lay-random.js";

/** Ends, the points, the middle of the main and its curve, bare paper, a wall. */
const SPOTS = [
  [500, 300],
  [1000, 300],
  [800, 300],
  [1500, 300],
  [2200, 300],
  [3000, 300],
  [4000, 1200],
  [4000, 1900],
  [1000, 2000],
  [1600, 2000],
  [2200, 2000],
  [1700, 420],
  [600, 300],
  [0, 0],
] as const;

/** HANDS=200 is the long run, of some minutes; this many are tried every time. */
const HANDS = Number(process.env["HANDS"] ?? 8);
/** A hand that winds a helix a hundred times takes its time. */
const PATIENCE = 60_000 + 1_000 * HANDS;

const TOOLS = [
  "select",
  "line",
  "straight",
  "curve",
  "turnout",
  "beside",
  "join",
  "split",
  "reverse",
  "helix",
  "pin",
  "climb",
  "level",
];

describe("whatever the hand does", () => {
  it.each(TOOLS.map((tool, i) => ({ tool, seed: 4100 + i })))(
    "$tool: a plan stays a plan, and undo gives it back",
    ({ tool, seed }) => {
      const changes = expectHarmless(tool, { plan: layPlan, spots: SPOTS, seed, runs: HANDS, events: 40 });
      expect(changes).toBeGreaterThan(HANDS / 2);
    },
    PATIENCE,
  );
});
