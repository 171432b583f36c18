/** Where a hand is caught: by what, at which pose, in which order. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { snap, type SnapWishes } from "../../src/drafting/snap.js";
import { centresBeside, placeOn } from "../../src/drafting/snap-targets.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { hillPlan } from "../exchange/hill-plan.js";

const layout = deriveLayout(hillPlan);
const at = (x: number, y: number, more: Partial<SnapWishes> = {}) =>
  snap(layout, { x, y }, { reach: 30, deck: "foot", ...more });
const centres = hillPlan.standards.classes.main.centres.value;
const loopEnd = layout.lines.get("track:loop")?.path.end ?? { x: 0, y: 0, heading: 0 };

describe("snapping", () => {
  it("goes on from the start of a track, looking away from it", () => {
    const caught = at(290, 310);
    expect(caught).toMatchObject({ kind: "end", anchor: { track: "main", end: "start" }, point: { x: 300, y: 300 } });
    expect(Math.cos(caught.pose?.heading ?? 0)).toBeCloseTo(-1, 12);
  });

  it("goes on from the end of a track, looking the way it runs", () => {
    const caught = at(loopEnd.x + 4, loopEnd.y);
    expect(caught).toMatchObject({ kind: "end", anchor: { track: "loop", end: "end" } });
    expect(caught.pose?.heading).toBe(loopEnd.heading);
  });

  it("is not caught where something follows already", () => {
    expect(at(2700, 300, { kinds: ["end"] }).kind).toBe("free");
  });

  it("starts from a turnout nobody has laid on from", () => {
    const { loop: _, ...tracks } = hillPlan.tracks;
    const bare = deriveLayout({ ...hillPlan, tracks });
    const end = bare.lines.get("turnout:points")?.path.end ?? { x: 0, y: 0, heading: 0 };
    const caught = snap(bare, { x: end.x + 3, y: end.y + 3 }, { reach: 10, deck: "foot" });
    expect(caught).toMatchObject({ kind: "turnout", anchor: { turnout: "points" }, pose: end });
  });

  it("lies on a track", () => {
    expect(at(1500, 312)).toMatchObject({ kind: "track", track: "main", s: 1200, point: { x: 1500, y: 300 } });
  });

  it("lies parallel at the class's centres, left and right", () => {
    const left = at(1500, 300 + centres + 3, { reach: 10 });
    expect(left).toMatchObject({ kind: "parallel", anchor: { beside: { track: "main", at: 1200, side: "left" } } });
    expect(left.point.y).toBeCloseTo(300 + centres, 9);
    const right = at(1500, 300 - centres - 3, { reach: 10 });
    expect(right).toMatchObject({ kind: "parallel", anchor: { beside: { side: "right", spacing: centres } } });
  });

  it("asks for wider centres beside a curve", () => {
    const climb = layout.lines.get("track:climb");
    if (!climb) throw new Error("the plan has lost its climb");
    const middle = placeOn(climb, { x: 4000, y: 1200 });
    const { length, truckCentres } = hillPlan.standards.longestCar.value;
    const throws = length ** 2 / (8 * 900);
    const wanted = centresBeside(hillPlan, climb, middle.s, "main") - centres;
    // Overthrow and end throw together are nearly L^2 / 8R, whatever the truck centres.
    expect(wanted).toBeGreaterThan(0);
    expect(truckCentres).toBeLessThan(length);
    expect(wanted).toBeCloseTo(Math.max(0, throws - (hillPlan.standards.curveSlack?.value ?? 0)), 0);
  });

  it.each([
    ["bench-corner", 112, 588, { x: 100, y: 600 }],
    ["bench-edge", 2400, 610, { x: 2400, y: 600 }],
    ["wall-corner", 3990, 2990, { x: 4000, y: 3000 }],
    ["wall", 3990, 1800, { x: 4000, y: 1800 }],
  ] as const)("is caught by a %s", (kind, x, y, point) => {
    const caught = at(x, y, { kinds: [kind] });
    expect(caught.kind).toBe(kind);
    expect(caught.point.x).toBeCloseTo(point.x, 2);
    expect(caught.point.y).toBeCloseTo(point.y, 2);
  });

  it("takes the grid where it has a step, and nothing otherwise", () => {
    expect(at(3010, 1210, { grid: 100 })).toMatchObject({ kind: "grid", point: { x: 3000, y: 1200 } });
    expect(at(3010, 1210)).toEqual({ point: { x: 3010, y: 1210 }, kind: "free", word: "" });
  });

  it("leaves other decks and what is being dragged alone", () => {
    expect(at(1500, 312, { deck: "top" }).kind).not.toBe("track");
    expect(at(1500, 312, { except: new Set(["main"]) }).kind).not.toBe("track");
  });

  it("never carries the hand farther than its reach", () => {
    const coordinate = fc.double({ min: -100, max: 4100, noNaN: true });
    fc.assert(
      fc.property(coordinate, coordinate, fc.double({ min: 1, max: 200, noNaN: true }), (x, y, reach) => {
        const { point, kind } = at(x, y, { reach, grid: 50 });
        expect(Math.hypot(point.x - x, point.y - y)).toBeLessThanOrEqual(kind === "free" ? 0 : reach + 1e-6);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});
