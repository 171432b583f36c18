import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Edit } from "../../src/plan/edit.js";
import * as room from "../../src/plan/room-edits.js";
import type { Opening, Plan } from "../../src/plan/schema.js";
import { goldenPlan } from "./golden-plan.js";

const plan = goldenPlan();
const after = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};
const walls = (of: Plan): unknown => {
  const shape = of.benches["north-shelf"]?.shape;
  if (shape === undefined || !("shelf" in shape)) throw new Error("no shelf");
  const { door, window } = of.room.openings;
  return [door, window, shape.shelf.from, shape.shelf.to].map((place) => [place?.wall, place?.at]);
};

/** The golden room is 6000 by 4500: door on wall 0 at 400, window on wall 2 at 1000, a shelf from wall 1 at 500 to wall 3 at 800. */
describe("what stands on walls keeps its place when corners come and go", () => {
  test.each<[string, Edit, [number, number][]]>([
    [
      "a corner put in before the door",
      room.insertRoomCorner(plan, 0, { x: 300, y: 0 }),
      [
        [1, 100],
        [3, 1000],
        [2, 500],
        [4, 800],
      ],
    ],
    [
      "a corner put in after the door",
      room.insertRoomCorner(plan, 0, { x: 3000, y: 0 }),
      [
        [0, 400],
        [3, 1000],
        [2, 500],
        [4, 800],
      ],
    ],
    [
      "a corner in the last wall",
      room.insertRoomCorner(plan, 3, { x: 0, y: 4000 }),
      [
        [0, 400],
        [2, 1000],
        [1, 500],
        [4, 300],
      ],
    ],
    [
      "the corner between door and shelf taken out",
      room.removeRoomCorner(plan, 1),
      [
        [0, 400],
        [1, 1000],
        [0, 6500],
        [2, 800],
      ],
    ],
    [
      "the first corner taken out",
      room.removeRoomCorner(plan, 0),
      [
        [2, 4900],
        [1, 1000],
        [0, 500],
        [2, 800],
      ],
    ],
    [
      "the last corner taken out",
      room.removeRoomCorner(plan, 3),
      [
        [0, 400],
        [2, 1000],
        [1, 500],
        [2, 6800],
      ],
    ],
  ])("%s", (_, edit, expected) => {
    expect(walls(after(edit))).toEqual(expected);
  });

  test("a corner put in and taken out again", () => {
    fc.assert(
      fc.property(fc.nat(3), fc.double({ min: 0.001, max: 0.999, noNaN: true }), (wall, part) => {
        const a = plan.room.outline[wall];
        const b = plan.room.outline[(wall + 1) % 4];
        if (a === undefined || b === undefined) throw new Error("no wall");
        const corner = { x: a.x + part * (b.x - a.x), y: a.y + part * (b.y - a.y) };
        const there = after(room.insertRoomCorner(plan, wall, corner));
        const back = after(room.removeRoomCorner(there, wall + 1));
        expect(back.room.outline).toEqual(plan.room.outline);
        const flat = (of: Plan): number[] => [walls(of)].flat(3).map(Number);
        const before = flat(plan);
        for (const [i, value] of flat(back).entries()) expect(value).toBeCloseTo(before[i] ?? Number.NaN, 6);
      }),
      { seed: 25 },
    );
  });
});

test("benches that stand on no wall keep their identity", () => {
  const next = after(room.insertRoomCorner(plan, 0, { x: 300, y: 0 }));
  expect(next.benches["blob"]).toBe(plan.benches["blob"]);
  expect(next.benches["north-shelf"]).not.toBe(plan.benches["north-shelf"]);
  const moved = after(room.moveRoomCorner(plan, 2, { x: 6100, y: 4500 }));
  expect(moved.benches).toBe(plan.benches);
  expect(moved.room.openings).toBe(plan.room.openings);
  expect(moved.room.outline[2]).toEqual({ x: 6100, y: 4500 });
});

const DOOR: Opening = { kind: "door", wall: 1, at: 100, width: 800 };
test("openings and obstacles come and go", () => {
  const withDoor = room.putOpening(plan, "back-door", DOOR);
  expect(withDoor.ok && withDoor.name).toBe("Add opening");
  expect(after(withDoor).room.openings["back-door"]).toBe(DOOR);
  expect(after(room.removeOpening(after(withDoor), "back-door"))).toEqual(plan);
  expect(after(room.putOpening(after(withDoor), "back-door", DOOR))).toBe(after(withDoor));
  const post = { outline: plan.room.outline.slice(0, 3) };
  expect(after(room.removeObstacle(after(room.putObstacle(plan, "post", post)), "post"))).toEqual(plan);
  expect(after(room.setCeiling(plan, plan.room.ceiling))).toBe(plan);
});

test.each<[Edit, string]>([
  [room.putOpening(plan, "hatch", { ...DOOR, wall: 4 }), "there is no wall 4; the room has walls 0 to 3"],
  [
    room.putOpening(plan, "a b", DOOR),
    '"a b": expected an id of up to 40 letters, digits, hyphens and underscores, found the text "a b"',
  ],
  [room.putOpening(plan, "hatch", { ...DOOR, width: 0 }), "openings.hatch.width: must be more than 0, found 0"],
  [room.removeOpening(plan, "gone"), 'there is no opening "gone"'],
  [room.moveRoomCorner(plan, 4, { x: 0, y: 0 }), "there is no corner 4; the room has corners 0 to 3"],
  [room.setRoomOutline(plan, [{ x: 0, y: 0 }]), "outline: must have at least 3 items, a list of 1 is there"],
  [room.setCeiling(plan, Number.NaN), "ceiling: expected a number, found NaN"],
])("refused %#", (edit, message) => {
  expect(edit).toEqual({ ok: false, message });
});

test("three corners stay", () => {
  const three = after(room.removeRoomCorner(plan, 3));
  expect(room.removeRoomCorner(three, 0).ok).toBe(false);
});
