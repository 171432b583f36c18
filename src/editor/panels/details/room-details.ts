/** Details of the room's parts: walls, openings, obstacles. */
import { reshapeRoom } from "../../../drafting/reshape-room.js";
import { setWallLength, wallLength } from "../../../drafting/wall-length.js";
import { amend, type Edit, refused } from "../../../plan/edit.js";
import { putObstacle, putOpening, setCeiling } from "../../../plan/room-edits.js";
import { type Id, OPENING_KINDS, type Obstacle, type Opening, type Plan } from "../../../plan/schema.js";
import { CAUTIONS } from "../../help/cautions.js";
import type { Details, Field } from "./field.js";
import { listed, wallName } from "./names.js";
import { choice, number, optional } from "./parts.js";

export function wallDetails(plan: Plan, wall: number): Details | undefined {
  const { outline } = plan.room;
  const next = (wall + 1) % outline.length;
  const [a, b] = [outline[wall], outline[next]];
  if (!a || !b) return undefined;
  const heading = (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI;
  const corner = (index: number, key: "x" | "y", label: string, note: string, value: number): Field =>
    number({ id: `corner.${index === wall ? "first" : "last"}.${key}`, label, note, value }, (now, to) => {
      const point = now.room.outline[index];
      const { outline } = now.room;
      return point
        ? reshapeRoom(now, outline.with(index, amend(point, { [key]: to })), "Move corner")
        : refused("that corner is gone");
    });
  const fields: Field[] = [
    number({ id: "length", label: "Length", value: wallLength(plan, wall) }, (now, length) =>
      setWallLength(now, wall, length),
    ),
    {
      kind: "fact",
      id: "heading",
      label: "Heading",
      note: "follows",
      value: `${heading.toFixed(2).replace(/\.?0+$/, "")}°`,
    },
    corner(wall, "x", "First corner", "from the left", a.x),
    corner(wall, "y", "and", "up the sheet", a.y),
    corner(next, "x", "Last corner", "from the left", b.x),
    corner(next, "y", "and", "up the sheet", b.y),
    ceilingField(plan),
  ];
  const hung = Object.entries(plan.room.openings).filter(([, opening]) => opening.wall === wall);
  const shelves = Object.entries(plan.benches).filter(
    ([, { shape }]) => "shelf" in shape && (shape.shelf.from.wall === wall || shape.shelf.to.wall === wall),
  );
  const carried = [
    ...hung.map(([id, opening]) => opening.name ?? id),
    ...shelves.map(([id, bench]) => bench.name ?? id),
  ];
  return {
    title: "Wall",
    about: wallName(plan, wall),
    sections: [{ id: "wall", fields }],
    ...(carried.length > 0 && { consequence: `Moving this wall carries ${listed(carried)} with it.` }),
  };
}

export const ceilingField = (plan: Plan): Field =>
  number({ id: "ceiling", label: "Ceiling", note: "above the floor", value: plan.room.ceiling }, setCeiling);

const NO_SWING = "none";
const SWINGS = ["near", "far"].flatMap((hinge) => ["room", "outside"].map((into) => ({ hinge, into })));

export function openingDetails(plan: Plan, id: Id): Details | undefined {
  const opening = plan.room.openings[id];
  if (!opening) return undefined;
  const change = (now: Plan, part: { readonly [K in keyof Opening]?: Opening[K] | undefined }): Edit => {
    const before = now.room.openings[id];
    return before ? putOpening(now, id, amend(before, part)) : refused("that opening is gone");
  };
  const { swing } = opening;
  const fields: Field[] = [
    nameField(opening.name, (now, name) => change(now, { name })),
    choice(
      { id: "kind", label: "Kind", value: opening.kind },
      OPENING_KINDS.map((kind) => [kind, kind] as const),
      (now, kind) => change(now, { kind }),
    ),
    {
      kind: "choice",
      id: "wall",
      label: "In",
      value: String(opening.wall),
      choices: plan.room.outline.map((_, i) => ({ value: String(i), name: wallName(plan, i) })),
      set: (now, wall) => change(now, { wall: Number(wall) }),
    },
    number({ id: "at", label: "At", note: "from the wall’s first corner", value: opening.at }, (now, at) =>
      change(now, { at }),
    ),
    number({ id: "width", label: "Width", value: opening.width }, (now, width) => change(now, { width })),
    optional(
      { id: "sill", label: "Sill", note: "above the floor", value: opening.sill, without: "the floor" },
      (now, sill) => change(now, { sill }),
    ),
    optional(
      { id: "head", label: "Head", note: "above the floor", value: opening.head, without: "the ceiling" },
      (now, head) => change(now, { head }),
    ),
  ];
  if (opening.kind === "door") {
    fields.push({
      kind: "choice",
      id: "swing",
      label: "Opens",
      value: swing ? `${swing.hinge} ${swing.into}` : NO_SWING,
      choices: [
        { value: NO_SWING, name: "slides, or has no leaf" },
        ...SWINGS.map(({ hinge, into }) => ({
          value: `${hinge} ${into}`,
          name: `${into === "room" ? "into the room" : "outward"}, hung on the ${hinge} side`,
        })),
      ],
      set: (now, value) => {
        const [hinge, into] = value.split(" ");
        return change(now, {
          swing:
            value === NO_SWING
              ? undefined
              : { hinge: hinge === "far" ? "far" : "near", into: into === "room" ? "room" : "outside" },
        });
      },
    });
  }
  return {
    title: opening.kind === "door" ? "Door" : opening.kind === "window" ? "Window" : "Passage",
    about: `${opening.name ?? id}, ${wallName(plan, opening.wall)}`,
    sections: [{ id: "opening", fields }],
    caution: CAUTIONS.exits,
  };
}

export function obstacleDetails(plan: Plan, id: Id): Details | undefined {
  const obstacle = plan.room.obstacles[id];
  if (!obstacle) return undefined;
  const change = (now: Plan, part: { readonly [K in keyof Obstacle]?: Obstacle[K] | undefined }): Edit => {
    const before = now.room.obstacles[id];
    return before ? putObstacle(now, id, amend(before, part)) : refused("that obstacle is gone");
  };
  const fields: Field[] = [
    nameField(obstacle.name, (now, name) => change(now, { name })),
    optional(
      { id: "from", label: "Bottom", note: "above the floor", value: obstacle.from, without: "the floor" },
      (now, from) => change(now, { from }),
    ),
    optional(
      { id: "to", label: "Top", note: "above the floor", value: obstacle.to, without: "the ceiling" },
      (now, to) => change(now, { to }),
    ),
    ...cornerFields(obstacle.outline, (now, outline) => change(now, { outline: [...outline] })),
  ];
  return { title: "Obstacle", about: obstacle.name ?? id, sections: [{ id: "obstacle", fields }] };
}

const nameField = (value: string | undefined, set: (plan: Plan, name: string | undefined) => Edit): Field => ({
  kind: "text",
  id: "name",
  label: "Name",
  value: value ?? "",
  set: (plan, name) => set(plan, name.trim() === "" ? undefined : name.trim()),
});

/** Beyond this many corners a shape is dragged, not typed. */
const MOST_TYPED = 24;

export function cornerFields<P extends { readonly x: number; readonly y: number }>(
  outline: readonly P[],
  set: (plan: Plan, outline: readonly P[]) => Edit,
): Field[] {
  if (outline.length > MOST_TYPED) {
    return [{ kind: "fact", id: "corners", label: "Corners", value: String(outline.length) }];
  }
  return outline.flatMap((point, i) => {
    const put = (now: Plan, part: Partial<P>): Edit => set(now, outline.with(i, amend(point, part)));
    const part = (key: "x" | "y", value: number): Partial<P> => {
      const changed: Partial<P> = {};
      Reflect.set(changed, key, value);
      return changed;
    };
    return [
      number({ id: `corner.${i}.x`, label: `Corner ${i + 1}`, note: "from the left", value: point.x }, (now, x) =>
        put(now, part("x", x)),
      ),
      number({ id: `corner.${i}.y`, label: "and", note: "up the sheet", value: point.y }, (now, y) =>
        put(now, part("y", y)),
      ),
    ];
  });
}
