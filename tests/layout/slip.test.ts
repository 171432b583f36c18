import { describe, expect, it } from "vitest";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { samePose } from "../../src/geometry/pose.js";
import { wrapAngle } from "../../src/geometry/units.js";
import { straightHeightAt } from "../../src/layout/profile.js";
import { findRoute } from "../../src/layout/route.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Plan, Slip } from "../../src/plan/schema.js";
import { joint } from "../../src/readings/joint.js";
import { reverseCurve } from "../../src/readings/reverse-curve.js";
import { trackSpacing } from "../../src/readings/track-spacing.js";
import { frogAngle, largestLeadRadius, turnoutDimensions } from "../../src/standards/turnouts.js";
import { at, curve, HO_GAUGE, layoutOf, lineAt, straight, track } from "./small-plan.js";

const degrees = (number: number): number => (frogAngle(number) * 180) / Math.PI;
const slip = (more: Partial<Slip> = {}): Slip => ({ on: "a", at: 1500, across: "b", kind: "double", ...more });

/** Two tracks that cross 1500 mm along the first, at the angle of a frog number; `turned` runs the second the other way. */
function crossing(number: number, more: Partial<Slip> = {}, turned = false): Layout {
  const angle = degrees(number);
  const r = (1500 * Math.PI) / 180;
  const [x, y] = [1500 - 1500 * Math.cos((angle * r) / 1500), 2000 - 1500 * Math.sin((angle * r) / 1500)];
  const b = turned
    ? track(at(3000 - x, 4000 - y, angle - 180), [straight(3000)], { class: "lead" })
    : track(at(x, y, angle), [straight(3000)], { class: "lead" });
  return layoutOf({
    tracks: { a: track(at(0, 2000), [straight(3000)], { class: "lead" }), b },
    slips: { x: slip(more) },
  });
}
const crosses = (layout: Layout, a: string, b: string): boolean => findRoute(layout, a, b) !== undefined;

describe("a slip", () => {
  it.each([
    [6, false],
    [6, true],
    [8, false],
    [5, true],
  ])("number %d lies within its crossing, tangent to both tracks (second track turned: %s)", (number, turned) => {
    const layout = crossing(number, {}, turned);
    expect(layout.findings).toEqual([]);
    const placed = layout.slips.get("x");
    expect(placed?.number).toBeCloseTo(number, 6);
    expect(placed?.on.s).toBeCloseTo(1500, 6);
    expect(placed?.across.s).toBeCloseTo(1500, 6);
    expect(placed?.routes.map(({ side }) => side).sort()).toEqual(["left", "right"]);
    const { frogToe } = turnoutDimensions(HO_GAUGE, number);
    // The curve ends a frog's toe short of the frog point, which lies N x gauge from where the tracks cross.
    expect(placed?.tangent).toBeCloseTo(number * HO_GAUGE - frogToe, 6);
    for (const { line, side, start, end, endWay } of placed?.routes ?? []) {
      const { path } = lineAt(layout, line);
      expect(
        samePose(
          path.start,
          { ...poseAt(lineAt(layout, start.line).path, start.s), heading: path.start.heading },
          1e-6,
          1,
        ),
      ).toBe(true);
      const there = poseAt(lineAt(layout, end.line).path, end.s);
      const heading = endWay === 1 ? there.heading : there.heading + Math.PI;
      expect(samePose(path.end, { ...there, heading: wrapAngle(heading) }, 1e-6, 1e-9)).toBe(true);
      const k = Math.abs(curvatureAt(path, path.length / 2));
      expect(1 / k).toBeCloseTo(largestLeadRadius(HO_GAUGE, number, frogToe), 3);
      // To its side of the first track, which runs east along y = 2000.
      expect(Math.sign(poseAt(path, path.length / 2).y - 2000)).toBe(side === "left" ? 1 : -1);
    }
  });

  it("lets a train change tracks both ways, a single one only one way", () => {
    const ends = ["a@100", "a@2900", "b@100", "b@2900"] as const;
    const ways = (layout: Layout) =>
      ends.flatMap((from, i) =>
        ends.slice(i + 1).flatMap((to) => (crosses(layout, from, to) ? [`${from} ${to}`] : [])),
      );
    const through = ["a@100 a@2900", "b@100 b@2900"];
    // The second track crosses to the left: from the first it is reached on by a curve to the left.
    expect(ways(crossing(6)).sort()).toEqual([...through, "a@100 b@2900", "a@2900 b@100"].sort());
    expect(ways(crossing(6, { kind: "single", side: "left" })).sort()).toEqual([...through, "a@100 b@2900"].sort());
    expect(ways(crossing(6, { kind: "single", side: "right" })).sort()).toEqual([...through, "a@2900 b@100"].sort());
    expect(ways(crossing(6, { kind: "single" }, true)).sort()).toEqual([...through, "a@100 b@100"].sort());
  });

  it("is clear of what readings say of joints, spacing and reverse curves", () => {
    for (const number of [5, 6, 8, 10]) {
      const layout = crossing(number);
      const told = [joint, trackSpacing, reverseCurve]
        .flatMap((rule) => rule.take({ plan: layout.plan, layout }))
        .filter(({ verdict }) => verdict === "fails");
      expect(told.map(({ id, places }) => [id, places[0]])).toEqual([]);
    }
  });

  it("holds its tracks at one height where they cross", () => {
    const pins: Plan["pins"] = {
      a0: { track: "a", at: 0, height: 1000 },
      a1: { track: "a", at: 3000, height: 1060 },
      b0: { track: "b", at: 0, height: 1000 },
      b1: { track: "b", at: 3000, height: 1000 },
    };
    const layout = layoutOf({ ...crossing(6).plan, pins });
    const [a, b] = [layout.profiles.get("track:a"), layout.profiles.get("track:b")];
    expect(a && b && straightHeightAt(a, 1500) - straightHeightAt(b, 1500)).toBeCloseTo(0, 9);
    expect(layout.crossings).toHaveLength(1);
  });

  it("lies on curves too", () => {
    const layout = layoutOf({
      tracks: {
        a: track(at(0, 2000), [straight(800), curve(2000, 40, "left"), straight(500)]),
        b: track(at(600, 2020), [straight(2000)]),
      },
      slips: { x: slip({ at: 1200 }) },
    });
    expect(layout.findings).toEqual([]);
    for (const { line, end, endWay } of layout.slips.get("x")?.routes ?? []) {
      const there = poseAt(lineAt(layout, end.line).path, end.s);
      const heading = wrapAngle(endWay === 1 ? there.heading : there.heading + Math.PI);
      expect(samePose(lineAt(layout, line).path.end, { ...there, heading }, 1e-6, 1e-9)).toBe(true);
    }
  });

  it.each([
    ["too sharp a crossing", crossing(4), /number 4\.0; a slip wants number 5/],
    [
      "tracks that do not cross",
      layoutOf({
        tracks: { a: track(at(0, 0), [straight(900)]), b: track(at(0, 90), [straight(900)]) },
        slips: { x: slip() },
      }),
      /do not cross/,
    ],
    [
      "a track that is not there",
      layoutOf({ tracks: { a: track(at(0, 0), [straight(900)]) }, slips: { x: slip() } }),
      /no track b/,
    ],
    [
      "a track that ends too soon",
      layoutOf({
        tracks: { a: track(at(0, 0), [straight(900)]), b: track(at(850, -5, degrees(6)), [straight(900)]) },
        slips: { x: slip() },
      }),
      /mm short of the slip's points/,
    ],
  ])("is a finding for %s", (_, layout, note) => {
    expect(layout.findings.map(({ thing }) => thing)).toEqual(["slips.x"]);
    expect(layout.findings[0]?.note).toMatch(note);
    expect([...layout.lines.keys()].filter((key) => key.startsWith("slip:"))).toEqual([]);
  });
});
