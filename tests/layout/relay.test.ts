/** Track laid otherwise that lies where it lay: split, turned round, copied, mirrored; and the legs of any line. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { makePath, poseAt } from "../../src/geometry/path.js";
import type { Segment } from "../../src/geometry/segment.js";
import { easedTurn } from "../../src/geometry/turn.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { layLeg } from "../../src/layout/legs.js";
import { mirrorAbout, moveHeading, movePoint, shift, turnAbout } from "../../src/layout/relay/motion.js";
import { copyChosen, pasteClipping } from "../../src/layout/relay/copy-chosen.js";
import { moveChosen } from "../../src/layout/relay/move-chosen.js";
import { plainLegs } from "../../src/layout/relay/plain-legs.js";
import { alsoRemoved } from "../../src/layout/relay/remove-chosen.js";
import { reverseTrack } from "../../src/layout/relay/reverse-track.js";
import { splitTrack } from "../../src/layout/relay/split-track.js";
import { danglingReferences } from "../../src/plan/references.js";
import { type Plan, planSchema } from "../../src/plan/schema.js";

const sample = (name: string): Plan =>
  planSchema.parse(
    JSON.parse(readFileSync(new URL(`../../sample-plans/${name}.plan.json`, import.meta.url), "utf8")),
  ) as Plan;
const lark = sample("larkmoor-and-summit");
const shelf = sample("first-shelf");
const layouts = { lark: deriveLayout(lark), shelf: deriveLayout(shelf) };

/** Hand-laid curves are followed within 0.05 mm either way; nothing else strays. */
const STRAY = 0.12;

/** Farthest any place of some of the lines before lies from the nearest line after. */
function strays(before: Layout, after: Layout, moved: (line: string) => boolean): number {
  let worst = 0;
  for (const line of before.lines.values()) {
    if (!moved(line.key)) continue;
    for (let i = 0; i <= 8; i++) {
      const p = poseAt(line.path, (line.path.length * i) / 8);
      const near = [...after.lines.values()].map((other) => nearestOnPath(other.path, p).distance);
      worst = Math.max(worst, Math.min(...near));
    }
  }
  return worst;
}

describe("plain legs", () => {
  const turn = fc.record({
    radius: fc.double({ min: 200, max: 3000, noNaN: true }),
    angle: fc.double({ min: 0.05, max: 8, noNaN: true }),
    hand: fc.constantFrom("left" as const, "right" as const),
    easeIn: fc.constantFrom(0, 100, 250),
    easeOut: fc.constantFrom(0, 100, 250),
  });
  const piece = fc.oneof(
    turn.map((t) => easedTurn(t)),
    fc.double({ min: 1, max: 2000, noNaN: true }).map((length): Segment[] => [{ length, k0: 0, k1: 0 }]),
  );
  it("lead where the segments lead, wherever they are cut", () => {
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 6 }), (pieces) => {
        const path = makePath({ x: 0, y: 0, heading: 0 }, pieces.flat());
        const legs = plainLegs(path.segments);
        let from = path.start;
        for (const leg of legs ?? []) {
          const laid = layLeg({ leg, from, easement: 1 });
          from = makePath(from, laid.ok ? laid.value : []).end;
        }
        expect(legs).toBeDefined();
        expect(Math.hypot(from.x - path.end.x, from.y - path.end.y)).toBeLessThan(1e-6);
        expect(Math.abs(from.heading - path.end.heading)).toBeLessThan(1e-9);
      }),
      { seed: 77, numRuns: 300 },
    );
  });

  it("are not to be had where a curve eases into another", () => {
    expect(plainLegs([{ length: 100, k0: 0.001, k1: 0.002 }])).toBeUndefined();
  });
});

describe("split", () => {
  // Where a track may be parted is told by what lies there: half of the main's twelfths are easements and turnouts.
  it.each([
    ["shelf", "main", 4],
    ["shelf", "lead", 11],
    ["shelf", "runaround", 8],
    ["lark", "yard-link", 11],
    ["lark", "climb", 8],
  ] as const)("%s, %s: nothing moves", (plan, id, least) => {
    const before = layouts[plan];
    const length = before.lines.get(`track:${id}`)?.path.length ?? 0;
    let parted = 0;
    for (let i = 1; i < 12; i++) {
      const edit = splitTrack(before, id, (length * i) / 12);
      if (!edit.ok) continue;
      parted++;
      if (i % 4 !== 1 && parted > 1) continue;
      const after = deriveLayout(edit.plan, before);
      expect(danglingReferences(edit.plan)).toEqual([]);
      expect(after.findings).toEqual(before.findings);
      const sum = (layout: Layout) => [...layout.lines.values()].reduce((all, line) => all + line.path.length, 0);
      expect(Math.abs(sum(after) - sum(before))).toBeLessThan(STRAY);
      expect(strays(before, after, (key) => key === `track:${id}`)).toBeLessThan(STRAY);
    }
    expect(parted).toBeGreaterThanOrEqual(least);
  });

  it.each([
    ["its very end", -0.5],
    ["beyond it", 1e9],
    ["no number", Number.NaN],
  ])("is refused at %s", (_where, at) => {
    expect(splitTrack(layouts.shelf, "lead", at).ok).toBe(false);
  });
});

describe("turning round", () => {
  it.each(Object.keys(shelf.tracks))("first shelf, %s: nothing moves, and twice gives the same way", (id) => {
    const before = layouts.shelf;
    const edit = reverseTrack(before, id);
    if (!edit.ok) throw new Error(edit.message);
    const after = deriveLayout(edit.plan, before);
    const [a, b] = [before, after].map((layout) => layout.lines.get(`track:${id}`)?.path);
    expect(Math.hypot((a?.start.x ?? 0) - (b?.end.x ?? 9), (a?.start.y ?? 0) - (b?.end.y ?? 9))).toBeLessThan(STRAY);
    expect(Math.hypot((a?.end.x ?? 0) - (b?.start.x ?? 9), (a?.end.y ?? 0) - (b?.start.y ?? 9))).toBeLessThan(STRAY);
    expect(after.findings).toEqual([]);
    const again = reverseTrack(after, id);
    expect(again.ok && deriveLayout(again.plan, after).lines.get(`track:${id}`)?.path.length).toBeCloseTo(
      a?.length ?? 0,
      1,
    );
  });

  it("a ring stays closed", () => {
    const edit = reverseTrack(layouts.lark, "outer");
    if (!edit.ok) throw new Error(edit.message);
    expect(edit.plan.tracks["outer"]?.legs.at(-1)).toMatchObject({ join: { to: { track: "outer", end: "start" } } });
    expect(deriveLayout(edit.plan, layouts.lark).findings).toEqual([]);
  });
});

describe("motions", () => {
  const point = fc.record({ x: fc.integer({ min: -5000, max: 5000 }), y: fc.integer({ min: -5000, max: 5000 }) });
  it("a mirror twice, four quarters, and a shift back give every figure back exactly", () => {
    fc.assert(
      fc.property(point, point, fc.integer({ min: -180, max: 180 }), (p, about, heading) => {
        for (const way of ["across", "up"] as const) {
          const mirror = mirrorAbout(about, way);
          expect(movePoint(mirror, movePoint(mirror, p))).toEqual(p);
          expect(Math.abs((moveHeading(mirror, moveHeading(mirror, heading)) - heading) % 360)).toBe(0);
        }
        const quarter = turnAbout(about, 90);
        let turned = p;
        for (let i = 0; i < 4; i++) turned = movePoint(quarter, turned);
        expect(turned).toEqual(p);
        expect(movePoint(shift(-3, 4), movePoint(shift(3, -4), p))).toEqual(p);
      }),
      { seed: 78, numRuns: 200 },
    );
  });

  it("mirror a whole railway without a fault, and back", () => {
    const all = { refs: Object.keys(lark.tracks).map((id) => ({ collection: "tracks" as const, id })), obstacles: [] };
    const mirror = mirrorAbout({ x: 3000, y: 2000 }, "across");
    const there = moveChosen(layouts.lark, all, mirror, "Mirror");
    if (!there.ok) throw new Error(there.message);
    const mirrored = deriveLayout(there.plan);
    expect(mirrored.findings).toEqual([]);
    for (const [key, line] of layouts.lark.lines) {
      const other = mirrored.lines.get(key)?.path.end;
      const end = movePoint(mirror, line.path.end);
      expect(Math.hypot(end.x - (other?.x ?? 0), end.y - (other?.y ?? 0))).toBeLessThan(1e-6);
    }
  });
});

describe("copies", () => {
  it("of a whole railway stand by themselves without a fault", () => {
    const all = { refs: Object.keys(shelf.tracks).map((id) => ({ collection: "tracks" as const, id })), obstacles: [] };
    const copied = copyChosen(layouts.shelf, all);
    if (!copied.ok) throw new Error(copied.message);
    const { edit, refs } = pasteClipping(shelf, copied.clipping, { motion: shift(0, 5000) });
    if (!edit.ok) throw new Error(edit.message);
    const fresh = new Set(refs.map((ref) => ref.id));
    expect(fresh.size).toBe(refs.length);
    const layout = deriveLayout(edit.plan);
    expect(layout.findings).toEqual([]);
    expect(layout.lines.size).toBe(2 * layouts.shelf.lines.size);
    expect(edit.plan.tracks).toMatchObject(shelf.tracks);
    // Nothing of the copy hangs on what it was copied from.
    const old = Object.keys(shelf.tracks).map((id) => ({ collection: "tracks" as const, id }));
    expect(alsoRemoved(edit.plan, old).filter((ref) => fresh.has(ref.id))).toEqual([]);
  });

  it("of a track beside one that stays lie as it lies, or are refused with the reason", () => {
    const one = (id: string) => copyChosen(layouts.lark, { refs: [{ collection: "tracks", id }], obstacles: [] });
    expect(one("loop-a").ok).toBe(true);
    expect(one("lead")).toEqual({ ok: false, message: "Yard lead runs beside track that is not copied with it" });
  });
});
