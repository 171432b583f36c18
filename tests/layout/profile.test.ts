import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { curveAt, heightAt, type Profile, slopeAt } from "../../src/layout/profile.js";

/** Grades in percent between stations, and a curve at each break that takes its part of the room there is. */
function profileOf(pieces: readonly { length: number; grade: number; part: number }[]): Profile {
  const stations = [0];
  const heights = [1000];
  for (const { length, grade } of pieces) {
    stations.push((stations.at(-1) ?? 0) + length);
    heights.push((heights.at(-1) ?? 0) + (length * grade) / 100);
  }
  const curves = pieces.slice(1).map((after, i) => {
    const before = pieces[i] ?? after;
    const length = after.part * Math.min(before.length, after.length);
    return { at: stations[i + 1] ?? 0, length, wanted: length, change: (after.grade - before.grade) / 100 };
  });
  return { stations, heights, curves };
}

const pieces = fc.array(
  fc.record({
    length: fc.double({ min: 50, max: 5000, noNaN: true }),
    grade: fc.double({ min: -6, max: 6, noNaN: true }),
    part: fc.double({ min: 0.05, max: 1, noNaN: true }),
  }),
  { minLength: 1, maxLength: 12 },
);

const place = fc.double({ min: 0, max: 1, noNaN: true });

describe("profile", () => {
  it("has the derivative of its height for slope", () => {
    fc.assert(
      fc.property(pieces, place, (list, t) => {
        const profile = profileOf(list);
        const length = profile.stations.at(-1) ?? 0;
        const step = 0.01;
        const s = step + t * (length - 2 * step);
        const measured = (heightAt(profile, s + step) - heightAt(profile, s - step)) / (2 * step);
        // The central difference of a parabola is exact; across the end of a curve it is off by step x change / length.
        expect(Math.abs(measured - slopeAt(profile, s))).toBeLessThan(1e-3);
      }),
      { seed: 11, numRuns: 500 },
    );
  });

  it("is continuous in height and slope through curves, at breaks and where curves begin and end", () => {
    fc.assert(
      fc.property(pieces, (list) => {
        const profile = profileOf(list);
        for (const { at, length } of profile.curves) {
          for (const s of [at - length / 2, at, at + length / 2]) {
            expect(Math.abs(heightAt(profile, s + 1e-6) - heightAt(profile, s - 1e-6))).toBeLessThan(1e-6);
            expect(Math.abs(slopeAt(profile, s + 1e-6) - slopeAt(profile, s - 1e-6))).toBeLessThan(1e-6);
          }
          const middle = (slopeAt(profile, at - length / 2) + slopeAt(profile, at + length / 2)) / 2;
          expect(slopeAt(profile, at)).toBeCloseTo(middle, 9);
        }
      }),
      { seed: 12, numRuns: 200 },
    );
  });

  it("finds the one curve a place is in", () => {
    fc.assert(
      fc.property(pieces, place, (list, t) => {
        const profile = profileOf(list);
        const s = t * (profile.stations.at(-1) ?? 0);
        expect(curveAt(profile, s)).toBe(profile.curves.find((c) => Math.abs(s - c.at) < c.length / 2));
      }),
      { seed: 13, numRuns: 500 },
    );
  });

  it("is the same travelled either way", () => {
    const list = [
      { length: 1000, grade: 2, part: 1 },
      { length: 800, grade: -1, part: 0.6 },
      { length: 1200, grade: 0, part: 1 },
    ];
    const there = profileOf(list);
    const length = 3000;
    const back: Profile = {
      stations: there.stations.map((s) => length - s).reverse(),
      heights: [...there.heights].reverse(),
      curves: there.curves.map((c) => ({ ...c, at: length - c.at })).reverse(),
    };
    for (let s = 0; s <= length; s += 37) {
      expect(heightAt(back, length - s)).toBeCloseTo(heightAt(there, s), 9);
      expect(slopeAt(back, length - s)).toBeCloseTo(-slopeAt(there, s), 9);
    }
  });

  it("takes curves whose break is at the line's ends or beyond them", () => {
    const curve = { length: 200, wanted: 200, change: 0.02 };
    const level = { stations: [0, 1000], heights: [900, 900] };
    const profile: Profile = {
      ...level,
      curves: [
        { ...curve, at: -50 },
        { ...curve, at: 1000 },
      ],
    };
    // change x reach^2 / 2 length: reach 50 at the start, 100 at the end.
    expect(heightAt(profile, 0)).toBeCloseTo(900 + (0.02 * 2500) / 400, 12);
    expect(slopeAt(profile, 0)).toBeCloseTo((-0.02 * 50) / 200, 12);
    expect(heightAt(profile, 1000)).toBeCloseTo(900 + (0.02 * 200) / 8, 12);
    expect(slopeAt(profile, 1000)).toBeCloseTo(0.01, 12);
    expect(slopeAt(profile, 500)).toBe(0);
  });

  it("does not mind a curve without length or a line without stations", () => {
    const broken: Profile = {
      stations: [0, 100, 200],
      heights: [0, 2, 2],
      curves: [{ at: 100, length: 0, wanted: 80, change: -0.02 }],
    };
    expect(heightAt(broken, 100)).toBe(2);
    expect(slopeAt(broken, 99)).toBeCloseTo(0.02, 12);
    expect(slopeAt(broken, 100)).toBe(0);
    expect(heightAt({ stations: [], heights: [], curves: [] }, 5)).toBe(0);
    expect(heightAt({ stations: [0], heights: [7], curves: [] }, 5)).toBe(7);
  });
});
