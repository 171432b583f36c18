import { describe, expect, it } from "vitest";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { distance, samePose } from "../../src/geometry/pose.js";
import { toRadians, wrapAngle } from "../../src/geometry/units.js";
import { straightHeightAt } from "../../src/layout/profile.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { PlacedTurnout } from "../../src/layout/line.js";
import type { Leg, Template } from "../../src/plan/schema.js";
import {
  at,
  curve,
  from,
  join,
  layoutOf,
  lineAt,
  planOf,
  startOf,
  straight,
  track,
  turnout,
  wye,
} from "./small-plan.js";

const kinds = (layout: Layout): string[] => layout.findings.map(({ kind, thing }) => `${kind} ${thing}`);

function placed(layout: Layout, id = "t"): PlacedTurnout {
  const found = layout.turnouts.get(id);
  if (!found) throw new Error(`no turnout ${id}: ${JSON.stringify(layout.findings)}`);
  return found;
}

const HOSTS: Readonly<Record<string, readonly Leg[]>> = {
  straight: [straight(2000)],
  "curved left": [curve(1200, 90, "left")],
  "curved right": [curve(1200, 90, "right")],
  eased: [straight(800), { curve: { radius: 900, angle: 70, hand: "left", easement: 500 } }],
};
const ALL = Object.keys(HOSTS).flatMap((host) =>
  (["left", "right"] as const).flatMap((hand) =>
    (["with", "against"] as const).map((facing) => [hand, facing, host] as const),
  ),
);

describe("a turnout on its host", () => {
  it.each(ALL)(
    "%s hand, facing %s, on a %s host: starts tangent on it and leaves to its side",
    (hand, facing, host) => {
      const layout = layoutOf({
        tracks: { main: track(at(3000, 3000), HOSTS[host] ?? []) },
        turnouts: { t: turnout("main", 1000, { hand, facing }) },
      });
      expect(layout.findings).toEqual([]);
      const { departs, heel, joint, direction, angle } = placed(layout);
      const main = lineAt(layout, "track:main").path;
      const route = lineAt(layout, "turnout:t").path;
      const along = poseAt(main, departs);
      const turn = direction === 1 ? 0 : Math.PI;
      expect(samePose(route.start, { ...along, heading: along.heading + turn }, 1e-9, 1e-12)).toBe(true);
      // The frog angle opens between the routes at the same distance from where they part, whatever the host does.
      expect(route.length).toBeLessThanOrEqual(Math.abs(heel - departs));
      const abreast = poseAt(main, departs + direction * route.length);
      const opened = wrapAngle(route.end.heading - abreast.heading - turn);
      expect(opened).toBeCloseTo((hand === "left" ? 1 : -1) * angle, 10);
      expect(direction * (heel - departs)).toBeGreaterThan(0);
      expect(direction * (departs - joint)).toBeGreaterThanOrEqual(0);
    },
  );

  it("curvatures add up, place by place", () => {
    const layout = layoutOf({
      tracks: { main: track(at(1000, 1000), HOSTS["eased"] ?? []) },
      turnouts: { t: turnout("main", 850, { hand: "right" }) },
    });
    const { departs, radius, angle } = placed(layout);
    const [main, route] = [lineAt(layout, "track:main").path, lineAt(layout, "turnout:t").path];
    for (let s = 0.5; s < radius * angle; s += 7) {
      expect(curvatureAt(route, s)).toBeCloseTo(curvatureAt(main, departs + s) - 1 / radius, 12);
    }
  });

  it("is the same whether its host goes on or ends at its heel, straight or into a curve", () => {
    const only = layoutOf({
      tracks: { main: track(at(1000, 1000), [straight(700)]) },
      turnouts: { t: turnout("main", 300) },
    });
    const heel = placed(only).heel;
    for (const more of [
      [straight(heel)],
      [straight(heel), curve(500, 60, "left")],
      [straight(heel), curve(500, 60, "right")],
    ]) {
      const layout = layoutOf({
        tracks: { main: track(at(1000, 1000), more) },
        turnouts: { t: turnout("main", 300) },
      });
      const [a, b] = [lineAt(layout, "turnout:t").path, lineAt(only, "turnout:t").path];
      expect(samePose(a.end, b.end, 1e-9, 1e-12)).toBe(true);
    }
  });

  it.each([
    [10, "with", ["turnout-off-track turnouts.t"]],
    [33, "with", []],
    [32.7, "with", []],
    [900, "with", ["turnout-off-track turnouts.t"]],
    [900, "against", []],
    [990, "against", ["turnout-off-track turnouts.t"]],
    [100, "against", ["turnout-off-track turnouts.t"]],
  ] as const)("at %d facing %s on 1000 mm of track", (place, facing, findings) => {
    const layout = layoutOf({
      tracks: { main: track(at(1000, 1000), [straight(1000)]) },
      turnouts: { t: turnout("main", place, { facing }) },
    });
    expect(kinds(layout)).toEqual(findings);
    const { joint, heel, departs } = layout.turnouts.get("t") ?? { joint: 0, heel: 0, departs: 0 };
    for (const s of [joint, heel, departs]) expect(s === Math.min(Math.max(s, 0), 1000)).toBe(true);
  });

  it.each([
    ["no such track", turnout("nowhere", 300), "anchor-missing"],
    ["no place", turnout("main", undefined), "turnout-unknown"],
    [
      "no such template",
      { on: "main", at: 300, facing: "with", hand: "left", template: "lost" } as const,
      "turnout-unknown",
    ],
    ["neither number nor template", { on: "main", at: 300, facing: "with", hand: "left" } as const, "turnout-unknown"],
    [
      "an impossible template",
      { on: "main", at: 300, facing: "with", hand: "left", template: "bent" } as const,
      "turnout-unknown",
    ],
  ])("with %s is a finding, and so is what starts from it", (_, record, kind) => {
    const layout = layoutOf({
      tracks: { main: track(at(1000, 1000), [straight(1000)]), spur: track(from("t"), [straight(100)]) },
      turnouts: { t: record },
      templates: { bent: { name: "Bent", length: 100, points: 10, angle: 30, radius: 500 } },
    });
    expect(kinds(layout)).toEqual([`${kind} tracks.spur.start`, `${kind} turnouts.t`]);
  });
});

describe("a measured template", () => {
  const template: Template = { name: "Measured", length: 220, points: 25, angle: 10, radius: 700 };

  it.each(["left", "right"] as const)("%s hand has the length, angle and radius measured", (hand) => {
    const layout = layoutOf({
      tracks: { main: track(at(1000, 1000), [straight(1000)]) },
      turnouts: { t: { on: "main", at: 400, facing: "with", hand, template: "m" } },
      templates: { m: template },
    });
    const { joint, heel, departs, radius } = placed(layout);
    const route = lineAt(layout, "turnout:t").path;
    expect([joint, heel, radius]).toEqual([375, 595, 700]);
    expect(departs - joint + route.length).toBeCloseTo(220, 9);
    expect(route.end.heading).toBeCloseTo((hand === "left" ? 1 : -1) * toRadians(10), 12);
    expect(Math.abs(route.segments[0]?.k0 ?? 0)).toBeCloseTo(1 / 700, 15);
  });

  it("whose curve needs more than lies behind the points begins it before them", () => {
    const layout = layoutOf({
      tracks: { main: track(at(1000, 1000), [straight(1000)]) },
      turnouts: { t: { on: "main", at: 400, facing: "with", hand: "left", template: "m" } },
      templates: { m: { ...template, radius: 1200, diverging: 215 } },
    });
    const { departs } = placed(layout);
    const curved = 1200 * toRadians(10);
    expect(departs).toBeCloseTo(400 - 25 + 215 - curved, 9);
    expect(lineAt(layout, "turnout:t").path.length).toBeCloseTo(curved, 9);
  });

  it("changed, changes the turnouts made from it", () => {
    const records = {
      tracks: { main: track(at(1000, 1000), [straight(1000)]) },
      turnouts: { t: { on: "main", at: 400, facing: "with", hand: "left", template: "m" } as const },
    };
    const before = layoutOf({ ...records, templates: { m: template } });
    const plan = planOf({ ...records, templates: { m: { ...template, angle: 12 } } });
    expect(lineAt(deriveLayout(plan, before), "turnout:t").path.end.heading).toBeCloseTo(toRadians(12), 12);
  });
});

describe("a wye at a track's end", () => {
  const records = (facing: "with" | "against", legs: readonly Leg[] = [straight(1000)]) => ({
    tracks: {
      stem: track(at(2000, 2000), legs),
      west: track(from("y", "left"), [straight(500)]),
      east: track(from("y", "right"), [straight(700)]),
    },
    turnouts: { y: wye("stem", facing) },
    pins: { p: { track: "stem", at: 400, height: 1000 }, q: { track: "west", at: 500, height: 1030 } },
  });

  it.each(["with", "against"] as const)("facing %s: both routes leave it by half the frog angle", (facing) => {
    const layout = layoutOf(records(facing));
    expect(layout.findings).toEqual([]);
    const { angle } = placed(layout, "y");
    const stem = lineAt(layout, "track:stem").path;
    const end = facing === "with" ? stem.end : { ...stem.start, heading: stem.start.heading + Math.PI };
    for (const [side, sign] of [
      ["left", 1],
      ["right", -1],
    ] as const) {
      const route = lineAt(layout, `turnout:y:${side}`).path;
      expect(samePose(route.start, end, 1e-9, 1e-12)).toBe(true);
      expect(wrapAngle(route.end.heading - end.heading)).toBeCloseTo((sign * angle) / 2, 12);
    }
    const [left, right] = [lineAt(layout, "turnout:y:left").path, lineAt(layout, "turnout:y:right").path];
    expect(left.length).toBeCloseTo(right.length, 9);
    expect(distance(left.end, lineAt(layout, "track:west").path.start)).toBe(0);
    expect(distance(right.end, lineAt(layout, "track:east").path.start)).toBe(0);
  });

  it("is one plane: its ends are at one height, and the unpinned branch is level", () => {
    const layout = layoutOf(records("with"));
    const height = (key: "track:west" | "track:east", s: number): number => {
      const profile = layout.profiles.get(key);
      return profile ? straightHeightAt(profile, s) : Number.NaN;
    };
    expect(height("track:east", 0)).toBeGreaterThan(1000);
    expect(height("track:east", 0)).toBeCloseTo(height("track:west", 0), 9);
    expect(height("track:east", 700)).toBeCloseTo(height("track:east", 0), 9);
  });

  it("on a curve goes on with the curve's curvature", () => {
    const layout = layoutOf(records("with", [curve(800, 60, "left")]));
    const { radius } = placed(layout, "y");
    for (const [side, sign] of [
      ["left", 1],
      ["right", -1],
    ] as const) {
      const { segments } = lineAt(layout, `turnout:y:${side}`).path;
      expect(segments[0]?.k0).toBeCloseTo(1 / 800, 15);
      expect(segments[1]?.k0).toBeCloseTo(1 / 800 + sign / (2 * radius), 15);
    }
  });

  it("without a route named gives its left one; at the end of no track at all it is a finding", () => {
    const layout = layoutOf({
      tracks: { stem: track(at(0, 0), [straight(500)]), on: track(from("y"), [straight(100)]) },
      turnouts: { y: wye("stem"), z: wye("nothing") },
    });
    expect(kinds(layout)).toEqual(["anchor-missing turnouts.z"]);
    expect(lineAt(layout, "track:on").path.start).toEqual(lineAt(layout, "turnout:y:left").path.end);
  });

  it("makes a triangle with two turnouts of the main", () => {
    const layout = layoutOf({
      tracks: {
        main: track(at(1000, 1000), [straight(4000)]),
        stem: track(at(3000, 3000, -90), [straight(300)]),
        west: track(from("y", "right"), [join(from("w"), 600)]),
        east: track(from("y", "left"), [join(from("e"), 600)]),
        tail: track(startOf("stem"), [straight(800)]),
      },
      turnouts: {
        y: wye("stem"),
        w: turnout("main", 1000, { hand: "left" }),
        e: turnout("main", 3000, { hand: "right", facing: "against" }),
      },
    });
    expect(layout.findings).toEqual([]);
  });
});
