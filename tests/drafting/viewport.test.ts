/** The window on the sheet: there and back, and what stays in place. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fit,
  panBy,
  SCALES,
  toScreen,
  toSheet,
  type Viewport,
  visibleBox,
  zoomAt,
} from "../../src/drafting/viewport.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const viewport: fc.Arbitrary<Viewport> = fc.record({
  centre: fc.record({ x: number(-1e4, 1e4), y: number(-1e4, 1e4) }),
  scale: number(SCALES.least, SCALES.most),
  width: number(200, 3000),
  height: number(200, 2000),
});
const screen = fc.record({ x: number(0, 3000), y: number(0, 2000) });
const seeded = { seed: 3, numRuns: 300 };

describe("the window", () => {
  it("leads to the screen and back", () => {
    fc.assert(
      fc.property(viewport, screen, (v, p) => {
        const back = toScreen(v, toSheet(v, p));
        expect(back.x).toBeCloseTo(p.x, 5);
        expect(back.y).toBeCloseTo(p.y, 5);
      }),
      seeded,
    );
  });

  it("magnifies about the pointer", () => {
    fc.assert(
      fc.property(viewport, screen, number(0.2, 5), (v, p, factor) => {
        const zoomed = zoomAt(v, p, factor);
        const [before, after] = [toSheet(v, p), toSheet(zoomed, p)];
        expect(Math.hypot(after.x - before.x, after.y - before.y) * zoomed.scale).toBeLessThan(1e-5);
        expect(zoomed.scale).toBeGreaterThanOrEqual(SCALES.least);
        expect(zoomed.scale).toBeLessThanOrEqual(SCALES.most);
      }),
      seeded,
    );
  });

  it("moves with the hand", () => {
    fc.assert(
      fc.property(viewport, screen, number(-500, 500), number(-500, 500), (v, p, dx, dy) => {
        const held = toSheet(v, p);
        const now = toScreen(panBy(v, dx, dy), held);
        expect(now.x).toBeCloseTo(p.x + dx, 4);
        expect(now.y).toBeCloseTo(p.y + dy, 4);
      }),
      seeded,
    );
  });

  it("holds a fitted box whole", () => {
    const v: Viewport = { centre: { x: 0, y: 0 }, scale: 1, width: 900, height: 600 };
    const box = { minX: -1000, minY: 200, maxX: 5000, maxY: 3000 };
    const seen = visibleBox(fit(v, box, 40));
    expect(seen.minX).toBeLessThan(box.minX);
    expect(seen.maxX).toBeGreaterThan(box.maxX);
    expect(seen.minY).toBeLessThan(box.minY);
    expect(seen.maxY).toBeGreaterThan(box.maxY);
    expect(fit(v, { minX: 7, minY: 8, maxX: 7, maxY: 8 }, 40)).toMatchObject({ scale: 1, centre: { x: 7, y: 8 } });
  });
});
