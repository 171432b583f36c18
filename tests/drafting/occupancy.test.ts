/** Labels never lie over what is taken. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type PaperBox, makeOccupancy } from "../../src/drafting/occupancy.js";

const box: fc.Arbitrary<PaperBox> = fc.record({
  x: fc.double({ min: 0, max: 100, noNaN: true }),
  y: fc.double({ min: 0, max: 100, noNaN: true }),
  width: fc.double({ min: 1, max: 30, noNaN: true }),
  height: fc.double({ min: 1, max: 8, noNaN: true }),
  turn: fc.double({ min: -90, max: 90, noNaN: true }),
});

/** A place inside a box, by parts of its width and height from the middle. */
const within = (b: PaperBox, u: number, v: number) => {
  const angle = (b.turn * Math.PI) / 180;
  const [x, y] = [u * b.width, v * b.height];
  return { x: b.x + x * Math.cos(angle) - y * Math.sin(angle), y: b.y + x * Math.sin(angle) + y * Math.cos(angle) };
};
const part = fc.double({ min: -0.5, max: 0.5, noNaN: true });

describe("occupancy", () => {
  it("finds a marked place anywhere under a box", () => {
    fc.assert(
      fc.property(box, part, part, (b, u, v) => {
        const ground = makeOccupancy(0.75);
        ground.mark(within(b, u, v));
        // Sampled at half a cell, a box may miss a place in a cell it only grazes: a margin of a cell never does.
        expect(ground.isFree(b, 0.75)).toBe(false);
      }),
      { seed: 20, numRuns: 300 },
    );
  });

  it("keeps a box that is free clear of all marks by its margin", () => {
    const ground = makeOccupancy(0.75);
    ground.markLine({ x: 0, y: 50 }, { x: 100, y: 50 });
    expect(ground.isFree({ x: 50, y: 40, width: 20, height: 8, turn: 0 }, 5)).toBe(true);
    expect(ground.isFree({ x: 50, y: 45, width: 20, height: 8, turn: 0 }, 5)).toBe(false);
    expect(ground.isFree({ x: 50, y: 40, width: 20, height: 8, turn: 90 }, 5)).toBe(false);
  });
});
