import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assembleNetwork, type CutLine } from "../../src/layout/assemble-network.js";
import { deriveJoints } from "../../src/layout/joints.js";
import type { Layout } from "../../src/layout/layout.js";
import type { LineKey } from "../../src/layout/line.js";
import type { NetworkNode } from "../../src/layout/network.js";
import { findRoute } from "../../src/layout/route.js";
import { SidedUnion } from "../../src/layout/sided-union.js";
import { deriveTrackwork } from "../../src/layout/trackwork.js";
import { networkFaults, runName, runsReached } from "./network-walk.js";
import {
  at,
  curve,
  endOf,
  from,
  join,
  layoutOf,
  planOf,
  startOf,
  straight,
  track,
  turnout,
  wye,
} from "./small-plan.js";

const lengths = (layout: Layout): Map<string, number> =>
  new Map([...layout.lines.values()].map((line) => [line.key, line.path.length]));
const nodeAt = (layout: Layout, key: string): NetworkNode => {
  const node = layout.network.nodes.get(key);
  if (!node) throw new Error(`no node ${key} among ${[...layout.network.nodes.keys()].join(", ")}`);
  return node;
};
/** Lines on a node's sides. */
const linesAt = (layout: Layout, key: string): string[][] =>
  nodeAt(layout, key).sides.map((side) => side.map((i) => layout.network.edges[i]?.line ?? "").sort());
const canRun = (layout: Layout, a: readonly [LineKey, number], b: readonly [LineKey, number]): boolean =>
  findRoute(layout, [{ line: a[0], s: a[1] }], [{ line: b[0], s: b[1] }]) !== undefined;

describe("joints", () => {
  const records = {
    tracks: {
      a: track(at(1000, 1000), [straight(500)]),
      on: track(endOf("a"), [straight(100)]),
      back: track(startOf("a"), [straight(100)]),
      into: track(at(3000, 1000, 180), [straight(300), join(endOf("on"))]),
      missing: track(at(3000, 2000, 180), [straight(300), join(endOf("nothing"))]),
      early: track(at(3000, 3000), [straight(300), join(at(3500, 3000)), straight(100)]),
      off: track(from("t"), [straight(200)]),
    },
    turnouts: { t: turnout("a", 200) },
  };
  it("are what the plan says meets, each once", () => {
    const plan = planOf(records);
    const joints = deriveJoints(plan, deriveTrackwork(plan)).map(
      ({ a, b }) => `${a.line} ${a.end} = ${b.line} ${b.end}`,
    );
    expect(joints).toEqual([
      "track:a end = track:on start",
      "track:a start = track:back start",
      "track:into end = track:on end",
      "turnout:t end = track:off start",
    ]);
  });

  it("end to start, start to start and end to end are passed from one side to the other", () => {
    const layout = layoutOf(records);
    expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    expect(canRun(layout, ["track:back", 50], ["track:into", 100])).toBe(true);
    for (const key of ["track:a#end", "track:a#start", "track:into#end"]) {
      expect(linesAt(layout, key).map((side) => side.length)).toEqual([1, 1]);
      expect(nodeAt(layout, key).kind).toBe("joint");
    }
    expect(nodeAt(layout, "track:back#end").kind).toBe("end");
  });
});

it("turnouts whose ends touch are joined by a track that comes to no length", () => {
  const alone = layoutOf({
    tracks: { one: track(at(1000, 1000), [straight(1500)]) },
    turnouts: { a: turnout("one", 500) },
  });
  const meet = alone.lines.get("turnout:a")?.path.end;
  if (!meet) throw new Error("not placed");
  // The other track, run the other way with a like turnout, is the first turned half round about where the routes end.
  const other = { pose: { x: 2 * meet.x - 1000, y: 2 * meet.y - 1000, heading: 180 } };
  const layout = layoutOf({
    tracks: {
      one: track(at(1000, 1000), [straight(1500)]),
      two: track(other, [straight(1500)]),
      between: track(from("a"), [join(from("b"))]),
    },
    turnouts: { a: turnout("one", 500), b: turnout("two", 500) },
  });
  expect(layout.findings).toEqual([]);
  expect(layout.lines.has("track:between")).toBe(false);
  expect(canRun(layout, ["track:one", 100], ["track:two", 100])).toBe(true);
});

describe("points", () => {
  it.each(["with", "against"] as const)(
    "facing %s: trains run over them either way, never round on the spot",
    (facing) => {
      const layout = layoutOf({
        tracks: { main: track(at(1000, 1000), [straight(2000)]), spur: track(from("t"), [straight(400)]) },
        turnouts: { t: turnout("main", 1000, { facing }) },
      });
      const [before, behind] = facing === "with" ? [100, 1900] : [1900, 100];
      expect(canRun(layout, ["track:main", before], ["track:spur", 300])).toBe(true);
      expect(canRun(layout, ["track:spur", 300], ["track:main", before])).toBe(true);
      expect(canRun(layout, ["track:main", behind], ["track:spur", 300])).toBe(false);
      expect(canRun(layout, ["track:main", 100], ["track:main", 1900])).toBe(true);
      const sides = linesAt(layout, "points:t").map((side) => side.length);
      expect(sides).toEqual(facing === "with" ? [1, 2] : [2, 1]);
      expect(nodeAt(layout, "heel:t").sides.map((side) => side.length)).toEqual([1, 1]);
      expect(nodeAt(layout, "track:spur#start").level).toBe("heel:t");
      expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    },
  );

  it("several overlapping on one track, heels and points at one place", () => {
    const first = turnout("main", 500);
    const only = layoutOf({ tracks: { main: track(at(0, 1000), [straight(3000)]) }, turnouts: { a: first } });
    const placed = only.turnouts.get("a");
    if (!placed) throw new Error("not placed");
    const at2 = 500 + (placed.heel - placed.departs);
    const layout = layoutOf({
      tracks: { main: track(at(0, 1000), [straight(3000)]) },
      turnouts: {
        a: first,
        b: turnout("main", at2 + 0.02, { hand: "right" }),
        c: turnout("main", 520, { hand: "right" }),
        d: turnout("main", 700, { facing: "against" }),
      },
    });
    expect(layout.findings).toEqual([]);
    expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    // The heel of a and the points of b are one place, and the place is points.
    expect(nodeAt(layout, "heel:a").kind).toBe("points");
    expect(linesAt(layout, "heel:a")).toEqual([["track:main"], ["track:main", "turnout:b"]]);
    for (const id of ["a", "b", "c"]) expect(canRun(layout, ["track:main", 10], [`turnout:${id}`, 50])).toBe(true);
    expect(canRun(layout, ["track:main", 10], ["turnout:d", 50])).toBe(false);
  });

  it("a wye is reached from its stem only", () => {
    const layout = layoutOf({
      tracks: { stem: track(at(1000, 1000), [straight(500)]) },
      turnouts: { y: wye("stem"), z: wye("stem", "against") },
    });
    expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    expect(canRun(layout, ["track:stem", 100], ["turnout:y:left", 100])).toBe(true);
    expect(canRun(layout, ["turnout:z:right", 100], ["turnout:y:right", 100])).toBe(true);
    expect(canRun(layout, ["turnout:y:left", 100], ["turnout:y:right", 100])).toBe(false);
    expect(nodeAt(layout, "turnout:y:right#end").level).toBe("turnout:y:left#end");
  });
});

/** Whether a train on a line comes back over it the other way, without ever stopping to reverse. */
function comesBackTurned(layout: Layout, line: LineKey): boolean {
  const edge = layout.network.byLine.get(line)?.[0]?.index ?? -1;
  return runsReached(layout.network, { edge, forwards: true }).has(runName({ edge, forwards: false }));
}

describe("ways to turn a train", () => {
  it("a balloon loop does, a loop joined to itself does not", () => {
    const balloon = layoutOf({
      tracks: {
        main: track(at(1000, 3000), [straight(2000)]),
        loop: track(from("b"), [straight(300), curve(700, 200), join(endOf("main"), 700)]),
      },
      turnouts: { b: turnout("main", 1000) },
    });
    expect(comesBackTurned(balloon, "track:main")).toBe(true);
    const oval = layoutOf({
      tracks: {
        oval: track(at(2000, 1000), [straight(1500), curve(600, 180), straight(1500), join(startOf("oval"))]),
      },
    });
    expect(comesBackTurned(oval, "track:oval")).toBe(false);
    expect(runsReached(oval.network, { edge: 0, forwards: true })).toEqual(new Set(["0+"]));
  });

  it("a triangle turns a train that stops and reverses, and no other", () => {
    const layout = layoutOf({
      tracks: {
        main: track(at(1000, 1000), [straight(4000)]),
        stem: track(at(3000, 3000, -90), [straight(300)]),
        west: track(from("y", "right"), [join(from("w"), 600)]),
        east: track(from("y", "left"), [join(from("e"), 600)]),
      },
      turnouts: {
        y: wye("stem"),
        w: turnout("main", 1000),
        e: turnout("main", 3000, { hand: "right", facing: "against" }),
      },
    });
    expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    expect(comesBackTurned(layout, "track:main")).toBe(false);
    // From the west round by the stem and back to the east, stopping on the stem.
    expect(canRun(layout, ["track:main", 100], ["track:stem", 100])).toBe(true);
    expect(canRun(layout, ["track:stem", 100], ["track:main", 3900])).toBe(true);
    expect(canRun(layout, ["track:west", 100], ["track:east", 100])).toBe(false);
  });
});

describe("pins", () => {
  const main = track(at(1000, 1000), [straight(2000)]);
  const branch = track(from("t"), [straight(500)]);
  const base = {
    tracks: { main, branch, on: track(endOf("main"), [straight(300)]) },
    turnouts: { t: turnout("main", 1000) },
  };
  it.each([
    ["in the middle of a track", { track: "main", at: 400, height: 950 }, "pin:p"],
    ["at a joint", { track: "main", at: 2000, height: 950 }, "pin:p"],
    ["at the joint's other track", { track: "on", at: 0, height: 950 }, "pin:p"],
    ["at points", { track: "main", at: 1000 - 6.3, height: 950 }, undefined],
    ["a little past the end", { track: "on", at: 300.4, height: 950 }, "pin:p"],
    ["at a deck's height", { track: "main", at: 400, deck: "lower" }, "pin:p"],
  ])("%s", (_, pin, key) => {
    const layout = layoutOf({ ...base, pins: { p: pin } });
    expect(layout.findings).toEqual([]);
    expect(networkFaults(layout.network, lengths(layout))).toEqual([]);
    const pinned = [...layout.network.pinned];
    expect(pinned).toHaveLength(1);
    expect(pinned[0]?.[1]).toBe("deck" in pin ? layout.plan.decks["lower"]?.height : 950);
    if (key) expect(pinned[0]?.[0]).toBe(key);
  });

  it("at points and heel are theirs", () => {
    const placed = layoutOf(base).turnouts.get("t");
    if (!placed) throw new Error("not placed");
    for (const [name, s] of [
      ["points:t", placed.departs],
      ["heel:t", placed.heel],
    ] as const) {
      const layout = layoutOf({ ...base, pins: { p: { track: "main", at: s, height: 950 } } });
      const node = layout.network.nodes.get([...layout.network.pinned.keys()][0] ?? "");
      expect(node?.kind).toBe(name.split(":")[0]);
      // The node is told by the turnout's own name or the pin's, whichever comes first; nothing else is cut.
      expect(node?.key).toBe(["pin:p", name].sort()[0]);
      expect(layout.network.nodes.size).toBe(layoutOf(base).network.nodes.size);
    }
  });

  it.each([
    ["beyond the end", { track: "on", at: 301, height: 950 }, "pin-off-track"],
    ["on a track that is not there", { track: "lost", at: 0, height: 950 }, "anchor-missing"],
    ["at the height of no deck", { track: "main", at: 0, deck: "attic" }, "anchor-missing"],
  ] as const)("%s: a finding and no pin", (_, pin, kind) => {
    const layout = layoutOf({ ...base, pins: { p: pin } });
    expect(layout.findings).toMatchObject([{ kind, thing: "pins.p" }]);
    expect(layout.network.pinned.size).toBe(0);
  });

  it("that disagree at one place: the first holds, the other is a finding", () => {
    const pins = { p: { track: "main", at: 2000, height: 950 }, q: { track: "on", at: 0, height: 951 } };
    const layout = layoutOf({ ...base, pins });
    expect(layout.findings).toMatchObject([{ kind: "pins-conflict", thing: "pins.q", point: { x: 3000, y: 1000 } }]);
    expect(layout.network.pinned.get("pin:p")).toBe(950);
    const agree = layoutOf({ ...base, pins: { ...pins, q: { ...pins.q, height: 950.005 } } });
    expect(agree.findings).toEqual([]);
  });
});

it("names of nodes do not change with things elsewhere", () => {
  const tracks = { main: track(at(1000, 1000), [straight(3000)]), spur: track(from("t"), [straight(500)]) };
  const turnouts = { t: turnout("main", 1000) };
  const before = layoutOf({ tracks, turnouts });
  const after = layoutOf({
    tracks: { a: track(at(0, 4000), [straight(800)]), ...tracks, b: track(endOf("spur"), [straight(100)]) },
    turnouts: { s: turnout("a", 300), ...turnouts },
    pins: { p: { track: "main", at: 2500, height: 950 } },
  });
  const gone = [...before.network.nodes.keys()].filter((key) => !after.network.nodes.has(key));
  // Where the new track goes on the end is a joint of both, told by the first name.
  expect(gone).toEqual(["track:spur#end"]);
});

describe("the edges of a line", () => {
  it("cover it, whatever it is cut at", () => {
    const places = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 });
    fc.assert(
      fc.property(fc.constantFrom(0.01, 0.04, 0.06, 0.2, 3, 1000), places, (length, cuts) => {
        const union = new SidedUnion();
        const key = "track:x";
        const line: CutLine = { key, length, start: union.add("start"), end: union.add("end"), cuts: [] };
        // Many of them within a hair's breadth of one another or of the ends.
        cuts.forEach((share, i) => {
          const s = i % 2 === 0 ? share * length : Math.min(length, (share * 0.1) % length);
          line.cuts.push({ place: union.add(`pin:${i}`), s, kind: "pin" });
        });
        const { network } = assembleNetwork([line], union);
        expect(networkFaults(network, new Map([[key, length]]))).toEqual([]);
        expect(network.byLine.get(key)?.length).toBeGreaterThan(0);
      }),
      { seed: 11, numRuns: 400 },
    );
  });
});

describe("the union of places", () => {
  const COUNT = 9;
  const joins = fc.array(fc.record({ a: fc.nat(COUNT - 1), b: fc.nat(COUNT - 1), head: fc.boolean() }), {
    maxLength: 30,
  });
  const names = fc.shuffledSubarray(
    Array.from({ length: COUNT }, (_, i) => `n${i}`),
    { minLength: COUNT },
  );

  it("keeps its laws", () => {
    fc.assert(
      fc.property(names, joins, (order, list) => {
        const union = new SidedUnion();
        for (const name of order) union.add(name);
        // The plain account: a list of groups, each a list of members with their turn.
        let groups = order.map((_, i) => new Map([[i, false]]));
        for (const { a, b, head } of list) {
          union.join(a, b, head);
          const [ga, gb] = [groups.find((g) => g.has(a)), groups.find((g) => g.has(b))];
          if (!ga || !gb || ga === gb) continue;
          const flip = (ga.get(a) !== gb.get(b)) !== head;
          for (const [member, turned] of gb) ga.set(member, turned !== flip);
          groups = groups.filter((g) => g !== gb);
        }
        for (const group of groups) {
          const members = [...group.keys()];
          const first = members.map((i) => order[i] ?? "").sort()[0];
          for (const i of members) {
            expect(union.nameOf(union.root(i))).toBe(first);
            for (const j of members) expect(union.turned(i) !== union.turned(j)).toBe(group.get(i) !== group.get(j));
          }
          expect(union.turned(union.root(members[0] ?? 0))).toBe(false);
        }
      }),
      { seed: 12, numRuns: 500 },
    );
  });
});
