/** A small plan of an invented railway for the drawings: two decks, a turnout, a climb, a hidden stretch, a door. */
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";

const bare = emptyPlan({ title: "Hillfoot & Hilltop", width: 4000, depth: 3000, scale: "HO", units: "metric" });

export const hillPlan: Plan = {
  ...bare,
  room: {
    ...bare.room,
    openings: {
      door: { kind: "door", wall: 1, at: 200, width: 800, swing: { hinge: "near", into: "outside" } },
      window: { kind: "window", wall: 2, at: 1000, width: 900 },
    },
    obstacles: {
      bench: {
        name: "workbench",
        outline: [
          { x: 1500, y: 1300 },
          { x: 2300, y: 1300 },
          { x: 2300, y: 1700 },
          { x: 1500, y: 1700 },
        ],
      },
    },
  },
  decks: {
    foot: { name: "Hillfoot", kind: "scenic", height: 1000, thickness: 90 },
    top: { name: "Hilltop", kind: "scenic", height: 1060, thickness: 50 },
  },
  benches: {
    south: { deck: "foot", shape: { shelf: { from: { wall: 0, at: 100 }, to: { wall: 0, at: 3900 }, depth: 600 } } },
    north: { deck: "top", shape: { shelf: { from: { wall: 2, at: 100 }, to: { wall: 2, at: 3900 }, depth: 500 } } },
  },
  tracks: {
    main: {
      name: "Main",
      class: "main",
      deck: "foot",
      start: { pose: { x: 300, y: 300, heading: 0 } },
      legs: [{ straight: 2400 }],
      hidden: [{ from: 1800, to: 2400 }],
    },
    climb: {
      class: "branch",
      deck: "foot",
      start: { track: "main", end: "end" },
      legs: [{ curve: { radius: 900, angle: 180, hand: "left", easement: 200 } }],
    },
    loop: {
      class: "spur",
      deck: "foot",
      start: { turnout: "points" },
      legs: [{ straight: 500 }],
    },
    upper: {
      name: "Upper road",
      class: "branch",
      deck: "top",
      start: { track: "climb", end: "end" },
      legs: [{ straight: 1500 }],
    },
  },
  turnouts: { points: { on: "main", at: 600, facing: "with", hand: "left", number: 6 } },
  pins: {
    low: { track: "main", at: 2400, deck: "foot" },
    high: { track: "upper", at: 0, deck: "top" },
  },
  labels: {
    foot: { text: "Hillfoot Town", deck: "foot", at: { x: 900, y: 520 } },
    top: { text: "Hilltop", deck: "top", at: { x: 1700, y: 2450 } },
  },
};

/** Names that would be markup if anybody let them. */
export const hostileName = `</text><script>alert("x")</script> & 'q' \u0000\u001b\ud800`;
