/** The DXF drawing, read back by another library and held against the layout both ways. */
import { readdirSync, readFileSync } from "node:fs";
import DxfParser, {
  type IArcEntity,
  type IEntity,
  type ILineEntity,
  type IPolylineEntity,
  type ITextEntity,
} from "dxf-parser";
import { describe, expect, it } from "vitest";
import { drawDxf } from "../../src/exchange/dxf.js";
import { layerNames, LONGEST } from "../../src/exchange/dxf/layer-names.js";
import { safeText } from "../../src/exchange/dxf/tags.js";
import { poseAt } from "../../src/geometry/path.js";
import { offsetPoint, type Point } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Line } from "../../src/layout/line.js";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { randomPlan } from "../layout/random-plan.js";
import { hillPlan, hostileName } from "./hill-plan.js";

/** Nearer than this what is drawn and what is laid are the same, mm. */
const SAME = 0.01;

function parsed(text: string) {
  const dxf = new DxfParser().parseSync(text);
  if (!dxf) throw new Error("not a DXF file");
  return dxf;
}

/** How far a place is from an entity. */
function away(entity: IEntity, p: Point): number {
  if (entity.type === "ARC") {
    const { center, radius, startAngle, endAngle } = entity as IArcEntity;
    const turn = (to: number) => (((to - startAngle) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    const angle = Math.atan2(p.y - center.y, p.x - center.x);
    if (turn(angle) <= turn(endAngle)) return Math.abs(Math.hypot(p.x - center.x, p.y - center.y) - radius);
    const end = (a: number) => Math.hypot(p.x - center.x - radius * Math.cos(a), p.y - center.y - radius * Math.sin(a));
    return Math.min(end(startAngle), end(endAngle));
  }
  const chain = chainOf(entity);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < chain.length; i++)
    least = Math.min(least, fromChord(chain[i - 1] as Point, chain[i] as Point, p));
  return least;
}

function chainOf(entity: IEntity): readonly Point[] {
  const { vertices, shape } = entity as IPolylineEntity & ILineEntity;
  return shape ? [...vertices, vertices[0] as Point] : vertices;
}

function fromChord(a: Point, b: Point, p: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length2 = dx * dx + dy * dy;
  const u = length2 > 0 ? Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2)) : 0;
  return Math.hypot(a.x + u * dx - p.x, a.y + u * dy - p.y);
}

/** Places on an entity, between its vertices too. */
function placesOn(entity: IEntity): Point[] {
  if (entity.type === "ARC") {
    const { center, radius, startAngle, endAngle } = entity as IArcEntity;
    const turn = (((endAngle - startAngle) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    return [0, 0.3, 0.5, 0.8, 1].map((u) => {
      const a = startAngle + u * turn;
      return { x: center.x + radius * Math.cos(a), y: center.y + radius * Math.sin(a) };
    });
  }
  const chain = chainOf(entity);
  return chain.slice(1).flatMap((b, i) => {
    const a = chain[i] as Point;
    return [a, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, b];
  });
}

/** Distance from a line. It may pass the place several times, as a helix does: every pass is looked at. */
function fromLine({ path, samples }: Line, p: Point): number {
  const { count, s, x, y } = samples;
  const gap = (i: number) => Math.hypot((x[i] ?? 1e9) - p.x, (y[i] ?? 1e9) - p.y);
  const at = (d: number) => {
    const q = poseAt(path, d);
    return Math.hypot(q.x - p.x, q.y - p.y);
  };
  let least = gap(0);
  for (let near = 0; near < count; near++) {
    if (gap(near) > 30 || gap(near) > gap(near - 1) || gap(near) > gap(near + 1)) continue;
    let [a, b] = [s[near - 1] ?? 0, s[near + 1] ?? path.length];
    for (let i = 0; i < 50; i++) {
      const [u, v] = [a + (b - a) * 0.382, a + (b - a) * 0.618];
      if (at(u) < at(v)) b = v;
      else a = u;
    }
    least = Math.min(least, at((a + b) / 2));
  }
  return least;
}

function groupedBy<T>(all: readonly T[], keyOf: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return groups;
}

/** The farthest that laid and drawn track are apart, and how many places were looked at. */
function compared(layout: Layout, text: string) {
  const names = layerNames(layout.plan);
  const byLayer = groupedBy(parsed(text).entities, (entity) => entity.layer);
  const linesOn = groupedBy(
    [...layout.lines.values()],
    (line) => `${names.get(line.deck)}-${line.class.toUpperCase()}`,
  );
  let [worst, looked] = [0, 0];
  for (const [layer, lines] of linesOn) {
    const drawn = byLayer.get(layer) ?? [];
    for (const { samples, path } of lines) {
      if (path.segments.length === 0) continue;
      for (let i = 0; i < samples.count; i++) {
        const p = { x: samples.x[i] ?? 0, y: samples.y[i] ?? 0 };
        worst = Math.max(worst, Math.min(...drawn.map((entity) => away(entity, p))));
        looked++;
      }
    }
    for (const entity of drawn) {
      const all = placesOn(entity);
      const step = Math.max(1, Math.floor(all.length / 12));
      for (let i = 0; i < all.length; i += step) {
        worst = Math.max(worst, Math.min(...lines.map((line) => fromLine(line, all[i] as Point))));
        looked++;
      }
    }
  }
  return { worst, looked };
}

const samplePlans = readdirSync("sample-plans").filter((name) => name.endsWith(".plan.json"));
function sample(name: string): Plan {
  const read = readPlan(readFileSync(`sample-plans/${name}`, "utf8"), name);
  if (!read.ok) throw new Error(name);
  return read.plan;
}

describe("a DXF drawing", () => {
  it.each(samplePlans)("of %s has every centre line on its layer, to 0.01 mm, and nothing else there", (name) => {
    const layout = deriveLayout(sample(name));
    const { worst, looked } = compared(layout, drawDxf(layout));
    expect(looked).toBeGreaterThan(100);
    expect(worst).toBeLessThan(SAME);
  });

  it("has every centre line of plans of chance", () => {
    let looked = 0;
    for (let seed = 0; seed < 12; seed++) {
      const layout = deriveLayout(randomPlan(seed));
      const found = compared(layout, drawDxf(layout));
      looked += found.looked;
      expect(found.worst, `seed ${seed}`).toBeLessThan(SAME);
    }
    expect(looked).toBeGreaterThan(2000);
  });

  it("has rails half a gauge to either side of every line", () => {
    const layout = deriveLayout(hillPlan);
    const half = hillPlan.scale.gauge / 2;
    const rails = parsed(drawDxf(layout, { rails: true })).entities.filter(({ layer }) => layer.endsWith("-RAIL"));
    let worst = 0;
    for (const line of layout.lines.values()) {
      for (let s = 0; s <= line.path.length; s += 17) {
        for (const left of [half, -half]) {
          const p = offsetPoint(poseAt(line.path, s), 0, left);
          worst = Math.max(worst, Math.min(...rails.map((rail) => away(rail, p))));
        }
      }
    }
    expect(worst).toBeLessThan(SAME);
    expect(parsed(drawDxf(layout)).entities.some(({ layer }) => layer.endsWith("-RAIL"))).toBe(false);
  });

  it("is of lines, arcs, polylines and text alone, in millimetres, on layers that are declared", () => {
    for (const name of samplePlans) {
      const text = drawDxf(deriveLayout(sample(name)), { rails: true });
      const dxf = parsed(text);
      expect([...new Set(dxf.entities.map(({ type }) => type))].sort()).toEqual(["ARC", "LINE", "POLYLINE", "TEXT"]);
      expect(dxf.header).toMatchObject({ $ACADVER: "AC1009", $INSUNITS: 4 });
      const layers = Object.keys(dxf.tables.layer.layers);
      for (const { layer } of dxf.entities) expect(layers).toContain(layer);
      for (const layer of layers) expect(layer).toMatch(/^[A-Z0-9_-]{1,31}$/);
    }
  });

  it("has walls, benches, gates and obstacles where the plan has them", () => {
    const layout = deriveLayout(sample("larkmoor-and-summit.plan.json"));
    const { plan } = layout;
    const dxf = parsed(drawDxf(layout));
    const on = (layer: string) =>
      dxf.entities.filter((entity) => entity.layer === layer).map((e) => (e as IPolylineEntity).vertices);
    const flat = (points: readonly Point[] | undefined) => points?.map(({ x, y }) => [x, y]);
    expect(on("ROOM-WALL").map(flat)).toEqual([flat(plan.room.outline)]);
    expect(on("ROOM-OPENING").length).toBe(Object.keys(plan.room.openings).length);
    expect(on("ROOM-OBSTACLE").length).toBe(Object.keys(plan.room.obstacles).length);
    for (const [deck, name] of layerNames(plan)) {
      const benches = layout.space.decks.get(deck)?.bench ?? [];
      expect(on(`${name}-BENCH`).map((ring) => ring.length)).toEqual(benches.map((ring) => ring.length));
      const gates = Object.values(plan.gates).filter((gate) => gate.deck === deck);
      expect(on(`${name}-GATE`).map(flat)).toEqual(gates.map((gate) => flat(gate.outline)));
    }
  });

  it("of one deck has that deck and the room", () => {
    const layout = deriveLayout(hillPlan);
    const names = layerNames(hillPlan);
    const [deck] = Object.keys(hillPlan.decks);
    const layers = parsed(drawDxf(layout, { deck: deck ?? "" })).entities.map(({ layer }) => layer.split("-")[0]);
    expect(new Set(layers)).toEqual(new Set(["ROOM", names.get(deck ?? "")]));
  });
});

describe("names in a DXF drawing", () => {
  const HOSTILE = "x\r\n  0\r\nEOF\n  0\nSECTION %%u \\U+0041 ^J \u0000\u2028\u202e é 駅 🚂";

  it("never become groups of the file", () => {
    const named = (name: string): Plan => ({
      ...hillPlan,
      title: name,
      decks: Object.fromEntries(Object.entries(hillPlan.decks).map(([id, deck]) => [id, { ...deck, name }])),
      tracks: Object.fromEntries(Object.entries(hillPlan.tracks).map(([id, track]) => [id, { ...track, name }])),
      labels: Object.fromEntries(Object.entries(hillPlan.labels).map(([id, label]) => [id, { ...label, text: name }])),
    });
    const tame = parsed(drawDxf(deriveLayout(named("Tame")))).entities;
    for (const name of [HOSTILE, hostileName]) {
      const wild = parsed(drawDxf(deriveLayout(named(name)))).entities;
      expect(wild.map(({ type }) => type)).toEqual(tame.map(({ type }) => type));
      const texts = wild.filter(({ type }) => type === "TEXT").map((entity) => (entity as ITextEntity).text);
      expect(texts.length).toBeGreaterThan(0);
    }
  });

  it.each([
    [HOSTILE, "x 0 EOF 0 SECTION %u /U+0041 /J \\U+00E9 \\U+99C5 ?"],
    ["  \n\u0007 ", ""],
    ["50 %", "50 %"],
  ])("%j is lettered without codes", (text, safe) => expect(safeText(text).replace(/ +/g, " ")).toBe(safe));

  it("are cut before the longest text, never amid a letter's code", () => {
    expect(safeText("é".repeat(100))).toMatch(/^(\\U\+00E9){36}$/);
  });

  it("of decks are told apart, short and plain", () => {
    const deck = (name: string, height: number) => ({ name, height, kind: "scenic" as const, thickness: 50 });
    const long = "A very long name of a deck, longer than any layer";
    const decks = {
      a: deck("Room", 1),
      b: deck("Ütt", 2),
      c: deck("utt", 3),
      d: deck(long, 4),
      e: deck(`${long}!`, 5),
      f: deck("駅", 6),
    };
    const names = [...layerNames({ decks }).values()];
    expect(names).toEqual(["ROOM_2", "UTT", "UTT_2", "A_VERY_LONG_NAME_OF", "A_VERY_LONG_NAME__2", "F"]);
    for (const name of names) expect(name.length).toBeLessThanOrEqual(LONGEST);
  });
});
