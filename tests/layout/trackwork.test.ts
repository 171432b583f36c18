import { describe, expect, it } from "vitest";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { distance, type Pose, reversePose, samePose } from "../../src/geometry/pose.js";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { toRadians } from "../../src/geometry/units.js";
import type { Layout } from "../../src/layout/layout.js";
import type { LineKey } from "../../src/layout/line.js";
import { PATH_FAMILIES, type Leg, type Track } from "../../src/plan/schema.js";
import {
  at,
  curve,
  endOf,
  from,
  join,
  layoutOf,
  lineAt,
  orders,
  planOf,
  startOf,
  straight,
  track,
  turnout,
} from "./small-plan.js";
import { deriveLayout } from "../../src/layout/derive.js";

/** Undefined where a pose is the one expected, else both. */
const off = (actual: Pose, expected: Pose): { actual: Pose; expected: Pose } | undefined =>
  samePose(actual, expected, 1e-6, 1e-9) ? undefined : { actual, expected };
const endPose = (layout: Layout, key: LineKey): Pose => lineAt(layout, key).path.end;
const kinds = (layout: Layout): string[] => layout.findings.map(({ kind, thing }) => `${kind} ${thing}`);

/** Curvature never changes abruptly inside the line, but where it may. */
const jumps = (layout: Layout, key: LineKey): number[] =>
  lineAt(layout, key)
    .path.segments.slice(1)
    .flatMap((g, i) => {
      const before = lineAt(layout, key).path.segments[i]?.k1 ?? 0;
      return Math.abs(g.k0 - before) > 1e-12 ? [g.k0 - before] : [];
    });

describe("legs", () => {
  const one = (leg: Leg, more: Partial<Track> = {}): Layout =>
    layoutOf({ tracks: { t: track(at(1000, 1000), [leg], more) } });

  it("straight", () => {
    const layout = one(straight(900));
    expect(layout.findings).toEqual([]);
    expect(off(endPose(layout, "track:t"), { x: 1900, y: 1000, heading: 0 })).toBeUndefined();
  });

  it.each([
    ["left", 1500, 1500, Math.PI / 2],
    ["right", 1500, 500, -Math.PI / 2],
  ] as const)("curve to the %s without easement is a quarter of a circle", (hand, x, y, heading) => {
    expect(off(endPose(one(curve(500, 90, hand)), "track:t"), { x, y, heading })).toBeUndefined();
  });

  it("curve takes its class's easement when it names none, and its own at either end when it does", () => {
    const plain: Leg = { curve: { radius: 900, angle: 60, hand: "left" } };
    const main = one(plain);
    const { easement } = planOf({}).standards.classes.main;
    expect(easement.value).toBeGreaterThan(0);
    expect(lineAt(main, "track:t").path.segments.map((g) => g.length)[0]).toBeCloseTo(easement.value, 9);
    expect(jumps(main, "track:t")).toEqual([]);
    const own = one({ curve: { radius: 900, angle: 60, hand: "left", easement: { in: 100, out: 250 } } });
    const lengths = lineAt(own, "track:t").path.segments.map((g) => g.length);
    expect([lengths[0], lengths.at(-1)]).toEqual([100, 250]);
    expect(lineAt(own, "track:t").path.end.heading).toBeCloseTo(toRadians(60), 12);
  });

  it("a helix of forty turns", () => {
    const layout = one({ curve: { radius: 600, angle: 40 * 360, hand: "right", easement: 0 } });
    const { path } = lineAt(layout, "track:t");
    expect(path.length).toBeCloseTo(40 * 2 * Math.PI * 600, 6);
    expect(distance(path.end, path.start)).toBeLessThan(1e-6);
    expect(path.end.heading).toBeCloseTo(-80 * Math.PI, 9);
  });

  it("an eased helix turns by exactly its angle and comes out straight", () => {
    const { path } = lineAt(one({ curve: { radius: 600, angle: 1170, hand: "left", easement: 300 } }), "track:t");
    expect(path.end.heading).toBeCloseTo(toRadians(1170), 10);
    expect(path.segments.map((g) => g.k1).at(-1)).toBe(0);
  });

  it.each([
    [2500, 1800],
    [2500, 300],
    [1900, 1000],
    [600, 2900],
  ])("toward (%d, %d) ends there, straight at last", (x, y) => {
    const { path } = lineAt(one({ toward: { x, y, radius: 500 } }), "track:t");
    expect(distance(path.end, { x, y })).toBeLessThan(1e-6);
    expect(curvatureAt(path, path.length)).toBe(0);
  });

  it("toward a point inside the turning circle is a finding with its target, and the rest is left out", () => {
    const legs = [straight(100), { toward: { x: 1100, y: 1200, radius: 500, easement: 0 } }, straight(300)];
    const layout = layoutOf({ tracks: { t: track(at(1000, 1000), legs) } });
    expect(layout.findings).toMatchObject([
      { kind: "leg-unsolved", thing: "tracks.t.legs.1", target: { x: 1100, y: 1200 }, point: { x: 1100, y: 1000 } },
    ]);
    expect(lineAt(layout, "track:t").path.length).toBe(100);
  });

  it("flex follows its control points and ends with their tangent", () => {
    const layout = one({
      flex: [
        { x: 1400, y: 1000 },
        { x: 1700, y: 1200 },
        { x: 2000, y: 1700 },
      ],
    });
    expect(off(endPose(layout, "track:t"), { x: 2000, y: 1700, heading: Math.atan2(500, 300) })).toBeUndefined();
  });

  it("flex with a cusp is a finding", () => {
    const layout = one({
      flex: [
        { x: 1400, y: 1000 },
        { x: 1000, y: 1000.1 },
        { x: 1400, y: 1000 },
      ],
    });
    expect(kinds(layout)).toEqual(["leg-unsolved tracks.t.legs.0"]);
  });
});

describe("join", () => {
  it.each(PATH_FAMILIES.flatMap((family) => [0, 200].map((easement) => [family, easement] as const)))(
    "%s to a pose with easements of %d mm",
    (family, easement) => {
      // Three curves only reach what is near; straights between curves of opposite hand only what is not.
      const goal = family.includes("S") ? { x: 3600, y: 1900, heading: 35 } : { x: 1500, y: 1100, heading: 35 };
      const layout = layoutOf({
        tracks: { t: track(at(1000, 1000, -20), [join({ pose: goal }, 400, { family, easement })]) },
      });
      expect(layout.findings).toEqual([]);
      expect(off(endPose(layout, "track:t"), { ...goal, heading: toRadians(35) })).toBeUndefined();
      if (easement > 0) expect(jumps(layout, "track:t")).toEqual([]);
      const hands = lineAt(layout, "track:t").path.segments.map(({ k0, k1 }) =>
        k0 + k1 > 0 ? "L" : k0 + k1 < 0 ? "R" : "S",
      );
      expect(hands.filter((hand, i) => hand !== hands[i - 1]).join("")).toBe(family);
    },
  );

  it.each([
    ["a track's end", endOf("goal"), { x: 3000, y: 1500, heading: Math.PI }],
    ["a track's start", startOf("goal"), { x: 2500, y: 1500, heading: 0 }],
    ["a turnout", from("t1"), undefined],
    [
      "a place beside a track",
      { beside: { track: "goal", at: 250, side: "left", spacing: 60 } } as const,
      { x: 2750, y: 1560, heading: 0 },
    ],
  ])("to %s", (_, to, expected) => {
    const layout = layoutOf({
      tracks: {
        a: track(at(1000, 1000), [straight(200), join(to, 500)]),
        goal: track(at(2500, 1500), [straight(500)]),
        host: track(at(4500, 2500, 180), [straight(1000)]),
      },
      turnouts: { t1: turnout("host", 300, { hand: "right" }) },
    });
    expect(layout.findings).toEqual([]);
    const goal = expected ?? reversePose(lineAt(layout, "turnout:t1").path.end);
    expect(off(endPose(layout, "track:a"), goal)).toBeUndefined();
  });

  it("of a loop to its own start closes it", () => {
    const legs = [straight(1500), curve(600, 180), straight(1500), join(startOf("loop"), 600)];
    const layout = layoutOf({ tracks: { loop: track(at(2000, 1000), legs) } });
    expect(layout.findings).toEqual([]);
    expect(off(endPose(layout, "track:loop"), { x: 2000, y: 1000, heading: 0 })).toBeUndefined();
    expect(layout.network.edges).toHaveLength(1);
    expect([...layout.network.nodes.values()][0]?.sides).toEqual([[0], [0]]);
  });

  it("to its own end is a circle", () => {
    const layout = layoutOf({ tracks: { t: track(at(2000, 1000), [straight(500), join(endOf("t"))]) } });
    expect(kinds(layout)).toEqual(["anchor-circular tracks.t.legs.1"]);
    expect(lineAt(layout, "track:t").path.length).toBe(500);
  });

  it("of ends that touch already adds no length, on either side of touching", () => {
    for (const off of [-0.004, -1e-7, 0, 1e-7, 0.004]) {
      const layout = layoutOf({
        tracks: {
          a: track(at(1000, 1000), [straight(500 + off), join(startOf("b"))]),
          b: track(at(1500, 1000), [straight(500)]),
        },
      });
      expect(layout.findings).toEqual([]);
      expect(Math.abs(lineAt(layout, "track:a").path.length - 500)).toBeLessThan(0.01);
    }
  });

  it("keeps the least straight between curves of opposite hand", () => {
    const layout = layoutOf({
      tracks: { t: track(at(1000, 1000), [join(at(2500, 1300), 500, { straight: 200, family: "LSR" })]) },
    });
    const between = lineAt(layout, "track:t").path.segments.find((g) => g.k0 === 0 && g.k1 === 0);
    expect(between?.length).toBeGreaterThanOrEqual(200 - 1e-6);
  });
});

describe("beside", () => {
  const loop: Leg[] = [
    straight(1500),
    curve(700, 180, "left", 300),
    straight(1500),
    join(startOf("host"), 700, { easement: 300 }),
  ];

  it.each([
    ["left", "with"],
    ["right", "with"],
    ["left", "against"],
    ["right", "against"],
  ] as const)("on the %s, running %s", (side, way) => {
    const against = way === "against";
    const [begin, end] = against ? [1700, 300] : [300, 1700];
    const start = { beside: { track: "host", at: begin, side, spacing: 50, ...(against && { against }) } } as const;
    const layout = layoutOf({
      tracks: {
        host: track(at(1000, 1000), [straight(2000)]),
        other: track(start, [{ beside: { track: "host", from: begin, to: end, side, spacing: 50 } }]),
      },
    });
    expect(layout.findings).toEqual([]);
    const y = side === "left" ? 1050 : 950;
    expect(off(endPose(layout, "track:other"), { x: 1000 + end, y, heading: against ? Math.PI : 0 })).toBeUndefined();
  });

  it.each(["left", "right"] as const)("a whole loop on its %s closes and keeps its distance", (side) => {
    const start = { beside: { track: "host", at: 0, side, spacing: 55 } } as const;
    const layout = layoutOf({
      tracks: {
        other: track(start, [{ beside: { track: "host", side, spacing: 55 } }]),
        host: track(at(2000, 1000), loop),
      },
    });
    expect(layout.findings).toEqual([]);
    const { path } = lineAt(layout, "track:other");
    expect(distance(path.end, path.start)).toBeLessThan(1e-5);
    const host = lineAt(layout, "track:host").path;
    for (let i = 0; i <= 40; i++) {
      const apart = nearestOnPath(host, poseAt(path, (path.length * i) / 40)).distance;
      expect(apart).toBeGreaterThan(55 - 0.03);
    }
  });

  it("around a helix of three turns", () => {
    const start = { beside: { track: "host", at: 0, side: "left", spacing: 55 } } as const;
    const layout = layoutOf({
      tracks: {
        host: track(at(3000, 1000), [straight(500), curve(700, 1080, "left", 200), straight(500)]),
        other: track(start, [{ beside: { track: "host", side: "left", spacing: 55 } }]),
      },
    });
    expect(layout.findings).toEqual([]);
    const [inner, host] = [lineAt(layout, "track:other").path, lineAt(layout, "track:host").path];
    expect(inner.end.heading).toBeCloseTo(6 * Math.PI, 6);
    expect(inner.length).toBeLessThan(host.length - 5.5 * Math.PI * 55);
  });

  it("that does not begin where the track is, is a gap with the place it begins at", () => {
    const layout = layoutOf({
      tracks: {
        host: track(at(1000, 1000), [straight(2000)]),
        other: track(at(1000, 1052), [{ beside: { track: "host", side: "left", spacing: 50 } }, straight(100)]),
      },
    });
    expect(layout.findings).toMatchObject([
      { kind: "beside-gap", thing: "tracks.other.legs.0", target: { x: 1000, y: 1050 } },
    ]);
    expect(layout.lines.has("track:other")).toBe(false);
  });

  it("may follow a track that waits for it farther on", () => {
    const records = {
      host: track(at(1000, 1000), [straight(1500), curve(700, 90), join(endOf("other"), 300)]),
      other: track({ beside: { track: "host", at: 0, side: "left", spacing: 60 } }, [
        { beside: { track: "host", to: 900, side: "left", spacing: 60 } },
      ]),
    };
    for (const tracks of orders(records)) expect(layoutOf({ tracks }).findings).toEqual([]);
  });
});

describe("start anchors", () => {
  it("at a track's start lead away from it, at its end go on", () => {
    const layout = layoutOf({
      tracks: {
        back: track(startOf("a"), [straight(400)]),
        on: track(endOf("a"), [straight(400)]),
        a: track(at(1000, 1000, 30), [straight(500)]),
      },
    });
    const u = { x: Math.cos(Math.PI / 6), y: 0.5 };
    expect(
      off(endPose(layout, "track:back"), {
        x: 1000 - 400 * u.x,
        y: 1000 - 400 * u.y,
        heading: (-5 * Math.PI) / 6,
      }),
    ).toBeUndefined();
    expect(
      off(endPose(layout, "track:on"), { x: 1000 + 900 * u.x, y: 1000 + 900 * u.y, heading: Math.PI / 6 }),
    ).toBeUndefined();
  });

  it.each([
    ["a track that is not there", endOf("nothing"), "anchor-missing"],
    ["a turnout that is not there", from("nothing"), "anchor-missing"],
    ["a route the turnout has not", from("t1", "right"), "anchor-missing"],
    [
      "beside the end of a track",
      { beside: { track: "host", at: 1500, side: "left", spacing: 50 } } as const,
      "anchor-missing",
    ],
    ["itself", endOf("t"), "anchor-circular"],
    ["beside itself", { beside: { track: "t", at: 100, side: "left", spacing: 50 } } as const, "anchor-circular"],
  ])("%s: a finding, and no line", (_, start, kind) => {
    const layout = layoutOf({
      tracks: { host: track(at(1000, 1000), [straight(1000)]), t: track(start, [straight(100)]) },
      turnouts: { t1: turnout("host", 300) },
    });
    expect(kinds(layout)).toEqual([`${kind} tracks.t.start`]);
    expect([...layout.lines.keys()]).toEqual(["track:host", "turnout:t1"]);
  });
});

describe("tracks that depend on one another", () => {
  const main = track(at(1000, 3000), [straight(1200), straight(800), curve(900, 40), join(from("far"), 700)]);
  const branch = track(from("near"), [straight(400), curve(800, 30), straight(1500), straight(600)]);
  const turnouts = { near: turnout("main", 500), far: turnout("branch", 2500, { facing: "against", hand: "right" }) };

  it("a main that ends at a turnout of a branch which leaves the main further back, in every order", () => {
    const stub = track(endOf("main"), [straight(100)]);
    const layouts = orders({ main, branch, stub }).flatMap((tracks) =>
      orders(turnouts).map((ordered) => layoutOf({ tracks, turnouts: ordered })),
    );
    const [first] = layouts;
    for (const layout of layouts) {
      expect(layout.findings).toEqual([]);
      expect(lineAt(layout, "track:main").path).toEqual(first && lineAt(first, "track:main").path);
      expect(lineAt(layout, "turnout:far").path).toEqual(first && lineAt(first, "turnout:far").path);
    }
  });

  it("a balloon loop from a turnout back to the end of the turnout's host", () => {
    const tracks = {
      main: track(at(1000, 3000), [straight(2000)]),
      balloon: track(from("b"), [straight(300), curve(700, 200), join(endOf("main"), 700)]),
    };
    for (const ordered of orders(tracks)) {
      const layout = layoutOf({ tracks: ordered, turnouts: { b: turnout("main", 1000) } });
      expect(layout.findings).toEqual([]);
      expect(off(endPose(layout, "track:balloon"), { x: 3000, y: 3000, heading: Math.PI })).toBeUndefined();
    }
  });

  it("circles are reported in every order, and nothing else is touched", () => {
    const records = {
      a: track(endOf("c"), [straight(500)]),
      b: track(endOf("a"), [straight(500)]),
      c: track(endOf("b"), [straight(500)]),
      sound: track(at(1000, 1000), [straight(700)]),
    };
    for (const tracks of orders(records)) {
      const layout = layoutOf({ tracks });
      expect(kinds(layout).filter((k) => k.startsWith("anchor-circular"))).toHaveLength(1);
      expect(layout.findings).toHaveLength(3);
      expect([...layout.lines.keys()]).toEqual(["track:sound"]);
    }
  });

  it("a circle by way of turnouts is reported in every order", () => {
    const records = {
      a: track(from("tb"), [straight(1000)]),
      b: track(from("ta"), [straight(1000)]),
    };
    for (const tracks of orders(records)) {
      const layout = layoutOf({ tracks, turnouts: { ta: turnout("a", 300), tb: turnout("b", 300) } });
      expect(kinds(layout).some((k) => k.startsWith("anchor-circular"))).toBe(true);
      expect(layout.lines.size).toBe(0);
    }
  });

  it("joins that lead to one another's ends are a circle in every order; the legs before stay", () => {
    const records = {
      a: track(at(1000, 1000), [straight(500), join(endOf("b"))]),
      b: track(at(3000, 1000), [straight(400), join(endOf("a"))]),
    };
    for (const tracks of orders(records)) {
      const layout = layoutOf({ tracks });
      expect(kinds(layout)).toContain(`anchor-circular tracks.${Object.keys(tracks)[1]}.legs.1`);
    }
  });

  const chain = (count: number): [string, Track][] =>
    Array.from({ length: count }, (_, i) => [
      `t${i}`,
      track(i === 0 ? at(0, 1000) : endOf(`t${i - 1}`), [straight(10)]),
    ]);

  it.each(["in order", "in reverse"])("a chain of 5,000 tracks, each from the one before, %s", (order) => {
    const entries = chain(5000);
    const layout = layoutOf({ tracks: Object.fromEntries(order === "in order" ? entries : entries.reverse()) });
    expect(layout.findings).toEqual([]);
    expect(endPose(layout, "track:t4999").x).toBeCloseTo(50_000, 6);
  });

  it("a chain that begins at its own end is one circle", () => {
    const entries = chain(1500);
    const closed = { ...Object.fromEntries(entries), t0: track(endOf("t1499"), [straight(10)]) };
    const layout = layoutOf({ tracks: closed });
    expect(kinds(layout).filter((k) => k.startsWith("anchor-circular"))).toHaveLength(1);
    expect(layout.lines.size).toBe(0);
  });
});

describe("options", () => {
  const records = {
    tracks: {
      main: track(at(1000, 1000), [straight(1500)]),
      a: track(endOf("main"), [straight(500)], { option: "a" }),
      b: track(endOf("main"), [curve(600, 45)], { option: "b" }),
      after: track(endOf("a"), [straight(100)]),
    },
    turnouts: { t: turnout("main", 300, { option: "b" }) },
    pins: { p: { track: "a", at: 0, height: 950 } },
    options: { a: { name: "Straight on" }, b: { name: "To the left" } },
  };
  it.each([
    [undefined, ["track:main"], ["anchor-missing tracks.after.start", "anchor-missing pins.p"]],
    // What is everyone's hangs on what is of one option: amiss in that option too.
    ["a", ["track:main", "track:a", "track:after"], ["anchor-missing tracks.after", "anchor-missing pins.p"]],
    ["b", ["track:main", "track:b", "turnout:t"], ["anchor-missing tracks.after.start", "anchor-missing pins.p"]],
  ] as const)("%s", (option, lines, findings) => {
    const layout = deriveLayout({ ...planOf(records), ...(option && { option }) });
    expect([...layout.lines.keys()]).toEqual(lines);
    expect(kinds(layout)).toEqual(findings);
  });
});
