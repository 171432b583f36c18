/** A small plan of an invented railway to lay track on: two decks, a main with a turnout and its spur, a free straight. */
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";

const bare = emptyPlan({ title: "Fernhollow", width: 6000, depth: 4000, scale: "HO", units: "metric" });

export const emptyRoom: Plan = {
  ...bare,
  decks: {
    lower: { name: "Lower", kind: "scenic", height: 1000, thickness: 90 },
    upper: { name: "Upper", kind: "scenic", height: 1100, thickness: 60 },
  },
};

export const layPlan: Plan = {
  ...emptyRoom,
  benches: {
    south: { deck: "lower", shape: { shelf: { from: { wall: 0, at: 0 }, to: { wall: 0, at: 6000 }, depth: 700 } } },
  },
  tracks: {
    main: {
      name: "Main",
      class: "main",
      deck: "lower",
      start: { pose: { x: 500, y: 300, heading: 0 } },
      legs: [{ straight: 2500 }, { curve: { radius: 900, angle: 90, hand: "left", easement: 200 } }, { straight: 600 }],
    },
    spur: {
      name: "Quarry spur",
      class: "spur",
      deck: "lower",
      start: { turnout: "points" },
      legs: [{ straight: 700 }],
    },
    alone: {
      name: "Shed road",
      class: "yard",
      deck: "lower",
      start: { pose: { x: 1000, y: 2000, heading: 0 } },
      legs: [{ straight: 1200 }],
    },
  },
  turnouts: { points: { name: "Quarry points", on: "main", at: 800, facing: "with", hand: "left", number: 6 } },
  pins: { low: { track: "main", at: 100, deck: "lower" } },
};
