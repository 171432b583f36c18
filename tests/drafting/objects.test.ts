/** Objects in words, and the figure of a chosen curve. */
import { describe, expect, it } from "vitest";
import { curveFigure } from "../../src/drafting/curve-figure.js";
import { objectsOf } from "../../src/drafting/objects.js";
import { deckOf, thingKey } from "../../src/drafting/thing.js";
import { thingBox } from "../../src/drafting/thing-shape.js";
import { distance } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { hillPlan } from "../exchange/hill-plan.js";

const layout = deriveLayout(hillPlan);
const objects = objectsOf(layout, "metric");
const facts = (key: string) => objects.find(({ thing }) => thingKey(thing) === key);

describe("objects", () => {
  it("tells each once", () => {
    const keys = objects.map(({ thing }) => thingKey(thing));
    expect(new Set(keys).size).toBe(keys.length);
    const counts = ["tracks", "turnouts", "pins", "benches", "labels"] as const;
    for (const collection of counts) {
      expect(keys.filter((key) => key.startsWith(`${collection}.`))).toHaveLength(
        Object.keys(hillPlan[collection]).length,
      );
    }
    expect(keys.filter((key) => key.startsWith("wall."))).toHaveLength(hillPlan.room.outline.length);
  });

  it("says what it is, how long, and what it is joined to", () => {
    expect(facts("tracks.main")).toMatchObject({
      name: "main Main",
      facts: "2400 mm, from a place on the sheet",
      deck: "foot",
    });
    expect(facts("tracks.loop")?.facts).toBe("500 mm, from turnout points to its own end");
    expect(facts("turnouts.points")?.facts).toBe("No. 6 left, on Main at 600 mm");
    expect(facts("pins.high")).toMatchObject({ facts: "1060 mm above the floor, on Upper road at 0 mm", deck: "top" });
  });

  it("agrees with where things stand", () => {
    for (const { thing, deck } of objects) {
      if (thing.kind === "record") expect(deckOf(hillPlan, thing)).toBe(deck);
      expect(thingBox(layout, thing)).toBeDefined();
    }
  });
});

describe("the figure of a curve", () => {
  const path = layout.lines.get("track:climb")?.path;
  it("has its centre a radius from where the arc is met", () => {
    const figure = path && curveFigure(path, "metric");
    if (!figure) throw new Error("no figure");
    expect(figure.radius).toBeCloseTo(900, 9);
    for (const pose of [...figure.meets, figure.middle]) expect(distance(figure.centre, pose)).toBeCloseTo(900, 6);
    expect(figure.meets).toHaveLength(2);
    expect(figure.text).toBe("R 900 mm · 180° · easements 200 mm");
    expect(figure.tangents.map((pose) => Math.round(Math.cos(pose.heading)))).toEqual([1, -1]);
  });

  it("is none for a straight", () => {
    const straight = layout.lines.get("track:main")?.path;
    expect(straight && curveFigure(straight, "metric")).toBeUndefined();
  });
});
