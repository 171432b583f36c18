/**
 * Vertical curves against worked examples and formulas of published manuals; each entry of the data file names its
 * source and how it is known. Stations and elevations stay in the units of the source.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { deriveProfiles } from "../../src/layout/heights.js";
import { heightAt, type Profile, slopeAt } from "../../src/layout/profile.js";
import { networkOf } from "../layout/network-fixture.js";

interface Entry {
  readonly id: string;
  readonly topic: string;
  readonly cite: string;
  readonly how: string;
  readonly tolerance?: number;
}

const { entries } = JSON.parse(readFileSync(new URL("./data/vertical-curves.json", import.meta.url), "utf8")) as {
  readonly entries: readonly (Entry & { readonly given: never; readonly published: never })[];
};

/** An entry with the shape its test knows it has. */
function entry<Given, Published>(
  id: string,
): Entry & { readonly given: Given; readonly published: Published; readonly tolerance: number } {
  const found = entries.find((e) => e.id === id);
  if (!found) throw new Error(`no entry ${id}`);
  return { tolerance: 0, ...found };
}

/** `56+50` is 5650, stations being 100 of the source's units. */
const station = (text: string): number => {
  const [hundreds, rest] = text.split("+").map(Number);
  return 100 * (hundreds ?? Number.NaN) + (rest ?? Number.NaN);
};

/** `36+00 @916.000` as a station and an elevation. */
const placed = (text: string): [number, number] => {
  const [at, elevation] = text.split("@");
  return [station((at ?? "").trim()), Number(elevation)];
};

/** One break at `at`, grades as ratios, run of one curve length to each side. */
function breakOf(at: number, elevation: number, before: number, after: number, length: number): Profile {
  return {
    stations: [at - length, at, at + length],
    heights: [elevation - before * length, elevation, elevation + after * length],
    curves: [{ at, length, wanted: length, change: after - before }],
  };
}

/** Where the profile is level within a curve, by halving. */
function turningPoint(profile: Profile): number {
  const curve = profile.curves[0];
  if (!curve) throw new Error("no curve");
  let low = curve.at - curve.length / 2;
  let high = curve.at + curve.length / 2;
  const sign = Math.sign(slopeAt(profile, low));
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (Math.sign(slopeAt(profile, middle)) === sign) low = middle;
    else high = middle;
  }
  return low;
}

const off = (actual: number, published: number): number => Math.abs(actual - published);

describe("vertical curves as published", () => {
  const v1 = entry<{ PVI: string; elev: number; g1: number; g2: number; L: number }, [string, number, number][]>("V1");
  describe(`${v1.topic}: ${v1.cite} (${v1.how})`, () => {
    const profile = breakOf(station(v1.given.PVI), v1.given.elev, v1.given.g1 / 100, v1.given.g2 / 100, v1.given.L);
    it.each(v1.published)("%s", (at, elevation, grade) => {
      expect(off(heightAt(profile, station(at)), elevation)).toBeLessThanOrEqual(v1.tolerance);
      expect(off(100 * slopeAt(profile, station(at)), grade)).toBeLessThanOrEqual(v1.tolerance);
    });
    it("high point (computed from the published figures)", () => {
      expect(turningPoint(profile)).toBeCloseTo(5694.118, 3);
      expect(heightAt(profile, turningPoint(profile))).toBeCloseTo(1319.853, 3);
    });
  });

  const v3 = entry<
    { BVC: string; elevB: number; EVC: string; elevE: number; PVI_elev: number },
    [string, number, number][]
  >("V3");
  describe(`${v3.topic}: ${v3.cite} (${v3.how})`, () => {
    const { BVC, elevB, EVC, elevE, PVI_elev } = v3.given;
    const half = (station(EVC) - station(BVC)) / 2;
    const profile = breakOf(
      station(BVC) + half,
      PVI_elev,
      (PVI_elev - elevB) / half,
      (elevE - PVI_elev) / half,
      2 * half,
    );
    it.each(v3.published)("%s", (at, elevation, grade) => {
      expect(off(heightAt(profile, station(at)), elevation)).toBeLessThanOrEqual(v3.tolerance);
      expect(off(100 * slopeAt(profile, station(at)), grade)).toBeLessThanOrEqual(v3.tolerance);
    });
    it("high point", () => {
      expect(turningPoint(profile)).toBeCloseTo(3600, 6);
      expect(off(heightAt(profile, turningPoint(profile)), 916)).toBeLessThanOrEqual(v3.tolerance);
    });
  });

  const v4 = entry<
    { g1: number; g2: number; L: number; PVI: string; elev: number },
    { PVC: string; PVT: string; high_x: number; high: number; table: [string, number][] }
  >("V4");
  describe(`${v4.topic}: ${v4.cite} (${v4.how})`, () => {
    const { g1, g2, L, PVI, elev } = v4.given;
    const profile = breakOf(station(PVI), elev, g1, g2, L);
    it.each([...v4.published.table, placed(v4.published.PVC), placed(v4.published.PVT)])("%s", (at, elevation) => {
      const s = typeof at === "number" ? at : station(at);
      expect(off(heightAt(profile, s), elevation)).toBeLessThanOrEqual(v4.tolerance);
    });
    it("high point", () => {
      expect(turningPoint(profile)).toBeCloseTo(placed(v4.published.PVC)[0] + v4.published.high_x, 6);
      expect(off(heightAt(profile, turningPoint(profile)), v4.published.high)).toBeLessThanOrEqual(v4.tolerance);
    });
  });

  const v6 = entry<{ L: number; g1: number; g2: number; VPI: string }, { VPC: string; VPT: string }>("V6");
  it.each(["VPC", "VPT"] as const)(`${v6.topic}: ${v6.cite} (${v6.how}): %s`, (name) => {
    const [at, elevation] = placed(v6.given.VPI);
    const profile = breakOf(at, elevation, v6.given.g1 / 100, v6.given.g2 / 100, v6.given.L);
    const [s, published] = placed(v6.published[name]);
    expect(off(heightAt(profile, s), published)).toBeLessThanOrEqual(v6.tolerance);
  });

  const v7 = entry<{ g1: number; g2: number; PVI: string; L: number }, { low: string }>("V7");
  it(`${v7.topic}: ${v7.cite} (${v7.how})`, () => {
    const [at, elevation] = placed(v7.given.PVI);
    const profile = breakOf(at, elevation, v7.given.g1 / 100, v7.given.g2 / 100, v7.given.L);
    const [s, published] = placed(v7.published.low);
    expect(off(turningPoint(profile), s)).toBeLessThanOrEqual(v7.tolerance);
    expect(off(heightAt(profile, turningPoint(profile)), published)).toBeLessThanOrEqual(v7.tolerance);
  });
});

/** Level, then `percent` up, on one line of 20 m with the break half way. */
function levelThenUp(percent: number, verticalCurve: number): Profile {
  const rise = percent * 100;
  const { network, lines, decks } = networkOf({
    lines: {
      "track:a": {
        stops: [
          [0, "a0"],
          [10_000, "break"],
          [20_000, "a1"],
        ],
      },
    },
    nodes: { a0: { pinned: 900 }, break: { pinned: 900 }, a1: { pinned: 900 + rise } },
  });
  const profile = deriveProfiles({ network, lines, decks, verticalCurve }).profiles.get("track:a");
  if (!profile) throw new Error("no profile");
  return profile;
}

describe("lengths of derived vertical curves", () => {
  const v10 = entry<never, string[]>("V10");
  it.each([1, 2.5, 4])(`${v10.cite} (${v10.how}): L = G / r and e = L G / 8, G = %d %%`, (change) => {
    // r is the change of grade per station of 100; e is in feet for L in stations and G in percent.
    const rate = 0.5;
    const profile = levelThenUp(change, 100 / rate);
    const [curve] = profile.curves;
    const stations = change / rate;
    expect(curve?.length).toBeCloseTo(100 * stations, 6);
    expect(heightAt(profile, 10_000) - 900).toBeCloseTo((stations * change) / 8, 9);
  });

  it.each([4.5, 6, 9])("module rule, %d %%: 1/16 in under a 12 in straightedge is a radius of 288 in", (change) => {
    // Common practice, no source: the two figures are checked against one another. Radius R gives R / 100 per percent.
    const inch = 25.4;
    const profile = levelThenUp(change, (288 * inch) / 100);
    const reach = 6 * inch;
    // The changes are such that the curve is longer than the straightedge.
    expect(profile.curves[0]?.length).toBeGreaterThan(2 * reach);
    const gap = (heightAt(profile, 10_000 - reach) + heightAt(profile, 10_000 + reach)) / 2 - heightAt(profile, 10_000);
    expect(gap).toBeCloseTo(inch / 16, 9);
  });
});
