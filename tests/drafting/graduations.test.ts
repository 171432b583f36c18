/** Rulers: round steps in the display units, never too dense. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { graduationAt, graduationText, scaleBar } from "../../src/drafting/graduations.js";
import { SCALES } from "../../src/drafting/viewport.js";

const scale = fc.double({ min: SCALES.least, max: SCALES.most, noNaN: true });
const units = fc.constantFrom("imperial" as const, "metric" as const);

describe("graduations", () => {
  it("keep their gaps and nest", () => {
    fc.assert(
      fc.property(scale, units, (s, u) => {
        const { major, minor } = graduationAt(s, u);
        expect(major * s).toBeGreaterThanOrEqual(56);
        expect(minor * s).toBeGreaterThanOrEqual(5);
        expect(Math.abs(major / minor - Math.round(major / minor))).toBeLessThan(1e-9);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  it.each([
    [0, 304.8, "imperial", "0"],
    [609.6, 609.6, "imperial", "2′"],
    [1371.6, 152.4, "imperial", "4′ 6″"],
    [190.5, 12.7, "imperial", "7½″"],
    [-304.8, 304.8, "imperial", "−1′"],
    [2500, 500, "metric", "2.5 m"],
    [2000, 1000, "metric", "2 m"],
    [350, 50, "metric", "35 cm"],
    [12, 2, "metric", "12 mm"],
  ] as const)("say %d mm in steps of %d (%s) as %s", (at, major, u, text) => {
    expect(graduationText(at, { major, minor: major / 2 }, u)).toBe(text);
  });

  it("make scale bars that fit", () => {
    fc.assert(
      fc.property(scale, units, (s, u) => {
        const length = scaleBar(s, u, 124);
        expect(length).toBeGreaterThan(0);
        expect(length * s <= 124 || length <= 6.35).toBe(true);
      }),
      { seed: 2, numRuns: 200 },
    );
  });
});
