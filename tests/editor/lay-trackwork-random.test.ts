/** Whatever a hand does with the tools for trackwork: nothing throws, breaks the schema or outlasts its undoing. */
import { expect, it } from "vitest";
import type { Plan } from "../../src/plan/schema.js";
import { expectHarmless } from "./lay-random.js";
import { emptyRoom } from "./lay-plan.js";

const straight = (x: number, y: number, heading: number, length: number): Plan["tracks"][string] => ({
  class: "yard",
  deck: "lower",
  start: { pose: { x, y, heading } },
  legs: [{ straight: length }],
});
/** Two tracks side by side, a third flat across both, and a turntable with a track from one of its stalls. */
const plan: Plan = {
  ...emptyRoom,
  tracks: {
    south: straight(500, 1000, 0, 2500),
    north: straight(500, 1050, 0, 2500),
    across: straight(900, 850, 8, 2000),
    shed: { class: "spur", deck: "lower", start: { turntable: "pit", stall: 1 }, legs: [{ straight: 300 }] },
  },
  turntables: { pit: { on: "south", end: "end", bridge: 300, stalls: [-20, 0, 20] } },
};
const spots: readonly (readonly [number, number])[] = [
  [500, 1000],
  [500, 1050],
  [3000, 1050],
  [1967, 1000],
  [2323, 1050],
  [1200, 1025],
  [3150, 1300],
  [3300, 1055],
  [3600, 1000],
  [4200, 1400],
  [-800, 700],
];

it.each([
  ["crossover", 30],
  ["slip", 30],
  ["ladder", 12],
  ["yard", 12],
  ["turntable", 30],
  ["bumper", 30],
])("%s", (tool, runs) => {
  expect(expectHarmless(tool, { plan, spots, seed: 1865, runs, events: 14 })).toBeGreaterThan(0);
});
