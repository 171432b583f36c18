/**
 * Doors and windows left free: how far each door that opens into the room swings before its leaf meets a bench, an
 * obstacle or a wall, and what lies across the glass of a window. A door that cannot be opened square fails; one that
 * only a closed gate stops is tight, and so is a window with something across it: it may be the second way out.
 */
import { coveredGlass, opensTo } from "../layout/door-swing.js";
import type { Floor } from "../layout/floor.js";
import type { Id, Opening } from "../plan/schema.js";
import type { Reading } from "./reading.js";
import { rememberBeside } from "./remember.js";
import type { Rule } from "./rule.js";
import { CAUTION, floorOf } from "./walkable.js";

/** A door within a degree of square stands open. */
const SQUARE = 89;

export const door: Rule = {
  id: "door",
  take({ plan, layout }) {
    const floor = floorOf(layout);
    return Object.entries(plan.room.openings).flatMap(([id, opening]) => {
      const reading = opening.kind === "window" ? windowReading(opening, floor, id) : doorReading(opening, floor, id);
      return reading ? [reading] : [];
    });
  },
};

const doorReading = rememberBeside((opening: Opening, floor: Floor, id: Id): Reading | undefined => {
  const open = floor.barriers.filter(({ kind }) => kind !== "gate");
  const [standing, all] = [opensTo(floor, opening, open), opensTo(floor, opening, floor.barriers)];
  if (!standing || !all) return undefined;
  const verdict = standing.angle < SQUARE ? "fails" : all.angle < SQUARE ? "tight" : "clear";
  const worst = standing.angle < SQUARE ? standing : all;
  const gate = verdict === "tight" ? ", when it is closed" : "";
  const name = opening.name ?? opening.kind;
  const note = verdict === "clear" ? "swings free" : `meets ${worst.barrier?.name ?? "a wall"}${gate}`;
  return {
    id: "door",
    scope: id,
    label: `Opens, ${name}`,
    value: worst.angle,
    unit: "degrees",
    limit: 90,
    bound: "least",
    verdict,
    places: [
      { deck: worst.barrier?.deck ?? "", point: worst.point, thing: `room.openings.${id}`, value: worst.angle, note },
    ],
    source: `common practice, no source: keep the door's swing free, and a second way out; ${CAUTION}`,
  };
});

const windowReading = rememberBeside((opening: Opening, floor: Floor, id: Id): Reading | undefined => {
  if (opening.sill === undefined || opening.head === undefined) return undefined;
  const covered = coveredGlass(floor, opening);
  const value = covered ? (100 * covered.width) / opening.width : 0;
  const point = covered?.point;
  return {
    id: "door",
    scope: id,
    label: `Glass covered, ${opening.name ?? "window"}`,
    value,
    unit: "percent",
    limit: 0,
    bound: "most",
    verdict: value > 0 ? "tight" : "clear",
    places:
      covered && point
        ? [{ deck: covered.deck, point, thing: `room.openings.${id}`, value, note: "may be a second way out" }]
        : [],
    source: `common practice, no source: keep windows free that are a way out; ${CAUTION}`,
  };
});
