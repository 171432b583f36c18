import { describe, expect, it } from "vitest";
import { distance } from "../../src/geometry/pose.js";
import { freeEnds } from "../../src/drafting/snap-targets.js";
import { straightHeightAt } from "../../src/layout/profile.js";
import { findRoute } from "../../src/layout/route.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Plan, Turntable } from "../../src/plan/schema.js";
import { joint } from "../../src/readings/joint.js";
import { trackSpacing } from "../../src/readings/track-spacing.js";
import { at, curve, join, layoutOf, lineAt, straight, track } from "./small-plan.js";

const BRIDGE = 300;
const table = (more: Partial<Turntable> = {}): Turntable => ({
  on: "approach",
  end: "end",
  bridge: BRIDGE,
  stalls: [-20, 0, 20, 90],
  ...more,
});
const stall = (n: number) => ({ turntable: "pit", stall: n });

/** An approach 1000 mm to the east, the pit's centre at (1150, 0), stalls 0 and 2 with track, stall 1 led to. */
const SHED: Partial<Plan> = {
  tracks: {
    approach: track(at(0, 0), [straight(1000)], { class: "lead" }),
    s0: track(stall(0), [straight(400)], { class: "spur", bumpers: ["end"] }),
    s1: track(at(1900, 0, 180), [join(stall(1))], { class: "spur" }),
    s2: track(stall(2), [straight(400)], { class: "spur" }),
  },
  turntables: { pit: table() },
};

const jointOf = (layout: Layout) => joint.take({ plan: layout.plan, layout })[0];
const route = (layout: Layout, a: string, b: string) => findRoute(layout, a, b);

describe("a turntable", () => {
  const layout = layoutOf(SHED);

  it("lies half a bridge beyond its approach, and stalls begin half a bridge from its centre", () => {
    const pit = layout.turntables.get("pit");
    expect(pit?.centre).toEqual({ x: 1150, y: 0 });
    for (const pose of pit?.stalls ?? []) expect(distance(pose, pit?.centre ?? pose)).toBeCloseTo(BRIDGE / 2, 9);
    const { start } = lineAt(layout, "track:s2").path;
    // 20 degrees to the left: cos 20 = 0.939693, sin 20 = 0.342020.
    expect(start.x).toBeCloseTo(1150 + 150 * 0.939693, 3);
    expect(start.y).toBeCloseTo(150 * 0.34202, 3);
  });

  it("is one node: the approach on one side, every stall on the other", () => {
    const node = [...layout.network.nodes.values()].find(({ kind }) => kind === "turntable");
    const keys = node?.sides.map((side) =>
      side.map((i) => String(layout.network.edges[i]?.line)).sort((a, b) => (a < b ? -1 : 1)),
    );
    expect(keys).toContainEqual(["track:approach"]);
    expect(keys).toContainEqual(["track:s0", "track:s1", "track:s2"]);
  });

  it("leads from stall to approach and back, but not from stall to stall", () => {
    expect(route(layout, "s0", "approach")?.stretches.map(({ line }) => line)).toEqual(["track:s0", "track:approach"]);
    expect(route(layout, "approach", "s1")).toBeDefined();
    expect(route(layout, "s0", "s2")).toBeUndefined();
  });

  it("is nothing a joint's gap or a crowd of tracks is told of", () => {
    expect(layout.findings).toEqual([]);
    expect(jointOf(layout)?.verdict).toBe("clear");
  });

  it("holds its stalls level with the approach where that comes up a grade", () => {
    const pins = {
      low: { track: "approach", at: 0, height: 1000 },
      high: { track: "approach", at: 1000, height: 1020 },
    };
    const graded = layoutOf({ ...SHED, pins });
    for (const [key, s] of [
      ["track:s0", 0],
      ["track:s0", 400],
      ["track:s2", 0],
    ] as const) {
      const profile = graded.profiles.get(key);
      expect(profile && straightHeightAt(profile, s)).toBeCloseTo(1020, 9);
    }
  });

  it("offers the stalls without track to what is laid next, and its approach to nothing", () => {
    const anchors = freeEnds(layout).map(({ anchor }) => anchor);
    expect(anchors).toContainEqual(stall(3));
    expect(anchors.filter((anchor) => "turntable" in anchor)).toHaveLength(1);
    expect(anchors).not.toContainEqual({ track: "approach", end: "end" });
    const bare = layoutOf({
      tracks: { approach: SHED.tracks?.["approach"] ?? track(at(0, 0), []) },
      turntables: { pit: table() },
    });
    expect(freeEnds(bare).filter(({ anchor }) => "turntable" in anchor)).toHaveLength(4);
    expect(freeEnds(bare).map(({ anchor }) => anchor)).not.toContainEqual({ track: "approach", end: "end" });
  });

  it("may stand before the start of a track", () => {
    const turned = layoutOf({ ...SHED, turntables: { pit: table({ end: "start" }) } });
    expect(turned.turntables.get("pit")?.centre.x).toBeCloseTo(-150, 9);
    expect(route(turned, "s0", "approach")).toBeDefined();
  });

  it.each([
    ["its track is missing", { turntables: { pit: table({ on: "nowhere" }) } }, "anchor-missing turntables.pit"],
    ["a stall is missing", { turntables: { pit: table({ stalls: [0] }) } }, "anchor-missing tracks.s2.start"],
    // 300 sin 1.5 degrees is 7.9 mm, less than 16.5; 300 sin 4 degrees is 20.9 mm.
    [
      "stalls are too close",
      { turntables: { pit: table({ stalls: [-20, 0, 20, 23] }) } },
      "turntable-unfit turntables.pit",
    ],
    [
      "a stall lies on the approach",
      { turntables: { pit: table({ stalls: [-20, 0, 20, 180] }) } },
      "turntable-unfit turntables.pit",
    ],
  ])("is a finding where %s", (_, change, told) => {
    expect(layoutOf({ ...SHED, ...change }).findings.map(({ kind, thing }) => `${kind} ${thing}`)).toContain(told);
  });

  it("is clear with stalls eight degrees apart", () => {
    expect(layoutOf({ ...SHED, turntables: { pit: table({ stalls: [-8, 0, 8] }) } }).findings).toEqual([]);
  });
});

describe("stalls that part from the pit on", () => {
  const spacing = (legs: readonly Parameters<typeof track>[1][]) => {
    const layout = layoutOf({
      tracks: {
        approach: track(at(0, 0), [straight(1000)], { class: "lead" }),
        ...Object.fromEntries(legs.map((own, i) => [`s${i}`, track(stall(i), own, { class: "spur" })])),
      },
      turntables: { pit: table({ stalls: [-10, 0, 10] }) },
    });
    expect(layout.findings).toEqual([]);
    return trackSpacing.take({ plan: layout.plan, layout }).filter(({ verdict }) => verdict === "fails");
  };

  it("are not asked for their spacing", () => {
    expect(spacing([[straight(600)], [straight(600)], [straight(600)]])).toEqual([]);
  });

  it("are where one turns back toward the other", () => {
    const [told] = spacing([[straight(100)], [straight(600)], [straight(30), curve(600, 12, "right"), straight(400)]]);
    expect(told?.places[0]?.thing).toMatch(/^tracks\.s[12]$/);
  });
});

describe("a bumper", () => {
  it("belongs on an end where nothing follows", () => {
    const ends = {
      tracks: {
        a: track(at(0, 0), [straight(500)], { bumpers: ["start", "end"] }),
        b: track({ track: "a", end: "end" }, [straight(300)]),
      },
    };
    const told = jointOf(layoutOf(ends));
    expect(told?.verdict).toBe("fails");
    expect(told?.places.map(({ thing, s }) => [thing, s])).toEqual([["tracks.a", 500]]);
  });
});
