/** Joints and legs at fault: each counts one, and is told where it is. */
import { describe, expect, test } from "vitest";
import { makePath } from "../../src/geometry/path.js";
import type { Layout } from "../../src/layout/layout.js";
import { joint } from "../../src/readings/joint.js";
import { at, type Draft, endOf, from, join, LOWER, left, plan, right, startOf, straight } from "./fixture.js";

const reading = (draft: Draft) => draft.reading("joint");
const one = plan().track("a", at(1000, 1000), [straight(500)]);

test("nothing is wrong with a plan of joined tracks, and nothing known of one without", () => {
  const whole = one.track("b", endOf("a"), [left(600, 90)]).track("c", startOf("a"), [right(600, 90)]);
  expect(reading(whole)).toMatchObject({ value: 0, limit: 0, verdict: "clear", places: [] });
  expect(reading(plan())).toMatchObject({ value: 0, verdict: "none" });
});

test("a loop joined to itself is whole", () => {
  const loop = plan().track("loop", at(3000, 2000), [left(600, 250), join(startOf("loop"), 600)]);
  expect(reading(loop)).toMatchObject({ value: 0, verdict: "clear" });
});

describe("ends that lie close but are not joined", () => {
  test.each([
    [0, 1],
    [5, 1],
    [9.9, 1],
    [10.1, 0],
    [60, 0],
  ])("%d mm apart", (gap, count) => {
    const found = reading(one.track("b", at(1500 + gap, 1000), [straight(500)]));
    expect(found?.value).toBe(count);
    if (count === 0) return;
    expect(found?.verdict).toBe("fails");
    const [place] = found?.places ?? [];
    expect(place).toMatchObject({ deck: "lower", thing: "tracks.a", s: 500, point: { x: 1500, y: 1000 } });
    expect(place?.value).toBeCloseTo(gap, 9);
    expect(place?.note).toBe(`lies ${gap.toFixed(1)} mm from the end of tracks.b, not joined`);
  });

  test("one above the other are far apart", () => {
    const stacked = one.track("b", at(1505, 1000), [straight(500)]).pin("p", "b", 0, LOWER + 50);
    expect(reading(stacked)?.value).toBe(0);
  });

  test("a pin a hair from the end changes nothing", () => {
    const pinned = one.pin("p", "a", 499.98, LOWER).track("b", at(1505, 1000), [straight(500)]);
    expect(reading(pinned)?.places[0]).toMatchObject({ thing: "tracks.a", s: 500 });
    const joined = one.pin("p", "a", 499.98, LOWER).track("b", endOf("a"), [straight(500)]);
    expect(reading(joined)?.value).toBe(0);
  });

  test("a turnout's open route beside the end of a track that was meant for it", () => {
    const host = plan()
      .track("a", at(1000, 1000), [straight(1000)])
      .turnout("t", { on: "a", at: 300, hand: "left" });
    const end = host.layout.lines.get("turnout:t")?.path.end;
    if (!end) throw new Error("the turnout does not fit");
    const beside = host.track("b", at(end.x + 3, end.y, (end.heading * 180) / Math.PI), [straight(300)]);
    expect(reading(beside)?.value).toBe(1);
    expect(reading(host.track("b", from("t"), [straight(300)]))?.value).toBe(0);
  });
});

describe("what cannot be laid", () => {
  test("a leg that leads nowhere it can get to", () => {
    // 100 mm to the side cannot be reached by a curve of 600 mm.
    const found = reading(
      plan().track("a", at(1000, 1000), [straight(200), { toward: { x: 1200, y: 1100, radius: 600, easement: 0 } }]),
    );
    expect(found?.value).toBe(1);
    expect(found?.places[0]).toMatchObject({ thing: "tracks.a.legs.1", deck: "lower", point: { x: 1200, y: 1000 } });
    expect(found?.places[0]?.note).toMatch(/^leg cannot be laid: no curve of radius 600 mm/);
  });

  test("anchors in a circle, told on both tracks at most", () => {
    const circle = plan()
      .track("a", endOf("b"), [straight(100)])
      .track("b", endOf("a"), [straight(100)]);
    const found = reading(circle);
    expect(found?.verdict).toBe("fails");
    expect(found?.places.some((p) => p.note?.startsWith("anchors in a circle"))).toBe(true);
    expect(found?.places.every((p) => /^tracks\.[ab]/.test(p.thing))).toBe(true);
  });

  test.each<[string, Draft, RegExp]>([
    ["a start that is not there", plan().track("a", endOf("x"), [straight(100)]), /^nothing to start from or lead to/],
    [
      "a turnout too near the end",
      one.turnout("t", { on: "a", at: 490, hand: "left" }),
      /^turnout does not fit its track/,
    ],
    ["a pin beyond its track", one.pin("p", "a", 900, LOWER), /^pin beyond its track/],
    ["pins that disagree", one.pin("p", "a", 250, LOWER).pin("q", "a", 250, LOWER + 10), /^pins disagree/],
  ])("%s", (_, draft, note) => {
    const found = reading(draft);
    expect(found).toMatchObject({ value: 1, verdict: "fails" });
    expect(found?.places[0]?.note).toMatch(note);
  });
});

describe("bad joints", () => {
  test("three tracks at one end want a turnout", () => {
    const found = reading(one.track("b", endOf("a"), [left(600, 30)]).track("c", endOf("a"), [right(600, 30)]));
    expect(found?.value).toBe(1);
    expect(found?.places[0]?.point).toEqual({ x: 1500, y: 1000 });
    expect(found?.places[0]?.note).toMatch(/wants a turnout/);
  });

  test("points are where several may go on, and no more than their routes", () => {
    const wye = one.turnout("y", { on: "a", hand: "wye" });
    const both = wye
      .track("b", { turnout: "y", route: "left" }, [straight(200)])
      .track("c", { turnout: "y", route: "right" }, [straight(200)]);
    expect(reading(both)?.value).toBe(0);
    expect(reading(both.track("d", endOf("a"), [straight(200)]))?.value).toBe(1);
    const threeWay = plan()
      .track("a", at(1000, 1000), [straight(1000)])
      .turnout("l", { on: "a", at: 300, hand: "left" })
      .turnout("r", { on: "a", at: 300, hand: "right" });
    expect(reading(threeWay)?.value).toBe(0);
  });

  /** Tracks laid by anchors always meet; a layout is bent by hand to show what the rule would say. */
  function bent(move: { readonly x?: number; readonly heading?: number }): Layout {
    const draft = one.track("b", endOf("a"), [straight(500)]);
    const { layout } = draft;
    const b = layout.lines.get("track:b");
    if (!b) throw new Error("no such line");
    const { start, segments } = b.path;
    const path = makePath(
      { x: start.x + (move.x ?? 0), y: start.y, heading: start.heading + (move.heading ?? 0) },
      segments,
    );
    return { ...layout, lines: new Map([...layout.lines, ["track:b", { ...b, path, samples: b.samples }]]) };
  }

  test.each([
    [{ x: 0.04 }, 0, undefined],
    [{ x: 0.5 }, 1, "gap of 0.5 mm to tracks.b"],
    [{ heading: 0.0009 }, 0, undefined],
    [{ heading: 0.02 }, 1, "kink of 1.1 degrees to tracks.b"],
  ])("moved by %j: %d", (move, count, note) => {
    const layout = bent(move);
    const [found] = joint.take({ plan: layout.plan, layout });
    expect(found?.value).toBe(count);
    expect(found?.places[0]?.note).toBe(note);
    if (note) expect(found?.places[0]).toMatchObject({ thing: "tracks.a", s: 500, point: { x: 1500, y: 1000 } });
  });
});

test("faults are told in an order of their own, not that of the records", () => {
  const broken = (ids: readonly string[]): Draft =>
    ids.reduce(
      (draft, id) =>
        draft.track(id, at(1000, 1000 + 100 * "abc".indexOf(id)), [straight(500)]).pin(`p${id}`, id, 900, LOWER),
      plan(),
    );
  expect(reading(broken(["a", "b", "c"]))?.places.map((p) => p.point.y)).toEqual(
    reading(broken(["c", "a", "b"]))?.places.map((p) => p.point.y),
  );
});
