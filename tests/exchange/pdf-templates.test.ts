/** Full-size templates, printed by another program and measured: true to 0.2 mm, on every sheet and across their borders. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type PrintPaper, parsePaper } from "../../src/exchange/pdf/papers.js";
import { FOOT, OVERLAP, tileName, tilesFor, type Tile } from "../../src/exchange/pdf/template-tiles.js";
import { type TemplateOptions, templatesPdf } from "../../src/exchange/pdf/templates.js";
import { poseAt } from "../../src/geometry/path.js";
import { offsetPoint, type Point } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Plan } from "../../src/plan/schema.js";
import { darkAlong, type Printed, printed } from "../support/poppler.js";
import { hillPlan, hostileName } from "./hill-plan.js";

/** A straight of 700 mm from (300, 300), then a quarter circle of 500 mm radius; a turnout on the straight. */
const RADIUS = 500;
const GAUGE = 16.5;
const plan: Plan = {
  ...hillPlan,
  tracks: {
    main: {
      name: "Main",
      class: "main",
      deck: "foot",
      start: { pose: { x: 300, y: 300, heading: 0 } },
      legs: [{ straight: 700 }, { curve: { radius: RADIUS, angle: 90, hand: "left", easement: 0 } }],
    },
    yard: { class: "yard", deck: "top", start: { pose: { x: 2000, y: 2000, heading: 90 } }, legs: [{ straight: 300 }] },
  },
  turnouts: { points: { on: "main", at: 250, facing: "with", hand: "left", number: 6 } },
  pins: { low: { track: "main", at: 0, height: 1000 }, high: { track: "main", at: 700, height: 1014 } },
};
const layout = deriveLayout(plan);
const A4: PrintPaper = { name: "A4", width: 210, height: 297 };
const date = new Date("2026-05-17T00:00:00Z");
const TRUE = 0.2;
const EDGE = 7;
const RISERS = 100;

async function print(options: Partial<TemplateOptions> = {}): Promise<Printed> {
  const made = await templatesPdf(layout, { paper: A4, date, tracks: ["main"], riserEvery: RISERS, ...options });
  if (!made.ok) throw new Error(made.message);
  return printed(made.bytes);
}

let pdf: Printed;
beforeAll(async () => {
  pdf = await print();
}, 60_000);
afterAll(() => pdf.remove());

/** The sheets as the text of the pages names them. */
const sheetNames = (printedPages: Printed): string[] =>
  printedPages
    .sizes()
    .slice(1)
    .map((_, i) => /Sheet (R\d+ C\d+)/.exec(printedPages.text(i + 2))?.[1] ?? "");

/** The same tiles as are printed, for their windows. */
function tilesOfMain(): readonly Tile[] {
  const half = 2590 / plan.scale.ratio / 2;
  const path = layout.lines.get("track:main")?.path;
  const route = layout.lines.get("turnout:points")?.path;
  if (!path || !route) throw new Error("no track");
  const points = [path, route].flatMap((one) => {
    const count = Math.ceil(one.length / 4);
    return Array.from({ length: count + 1 }, (_, i) => poseAt(one, (one.length * i) / count)).flatMap((pose) => [
      pose,
      offsetPoint(pose, 0, half),
      offsetPoint(pose, 0, -half),
    ]);
  });
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const box = { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) };
  return tilesFor(points, box, A4)?.tiles ?? [];
}

/** Where a place of the room lies on a page. */
const onPage = ({ window }: Tile, p: Point): Point => ({ x: EDGE + p.x - window.minX, y: EDGE + window.maxY - p.y });
const within = ({ window }: Tile, p: Point, spare: number): boolean =>
  p.x > window.minX + spare && p.x < window.maxX - spare && p.y > window.minY + spare && p.y < window.maxY - spare;

/** How far the darkness nearest to a place lies from it, along a direction of the room. */
function off(page: number, tile: Tile, p: Point, heading: number): number {
  const at = onPage(tile, p);
  const found = darkAlong(pdf.ink(page, { x: at.x - 2, y: at.y - 2, width: 4, height: 4 }), -heading, 1.5);
  return found.reduce((least, d) => (Math.abs(d) < Math.abs(least) ? d : least), Number.POSITIVE_INFINITY);
}

describe("full-size templates", () => {
  test("a key sheet, then only the sheets that hold track, all of the paper's size", () => {
    const sizes = pdf.sizes();
    for (const { width, height } of sizes) {
      expect(Math.min(width, height)).toBeCloseTo(210, 1);
      expect(Math.max(width, height)).toBeCloseTo(297, 1);
    }
    const tiles = tilesOfMain();
    expect(sheetNames(pdf)).toEqual(tiles.map(tileName));
    const rows = Math.max(...tiles.map(({ row }) => row));
    const columns = Math.max(...tiles.map(({ column }) => column));
    // A straight and a quarter of a circle leave the upper left of their box empty.
    expect(tiles.length).toBeLessThan(rows * columns);
    for (const name of tiles.map(tileName)) expect(pdf.text(1)).toContain(name);
  });

  test("every sheet says how to print it, and names those beside it", () => {
    const tiles = tilesOfMain();
    const names = new Set(tiles.map(tileName));
    pdf.sizes().forEach((_, i) => {
      const text = pdf.text(i + 1);
      expect(text).toContain("Print at 100 %");
      expect(text).toContain("100 mm");
      expect(text).toContain("4 in");
    });
    tiles.forEach(({ row, column }, i) => {
      const beside = [
        { row, column: column + 1 },
        { row, column: column - 1 },
        { row: row - 1, column },
        { row: row + 1, column },
      ].map(tileName);
      // Lettering that stands on end comes out letter by letter.
      const text = pdf.text(i + 2);
      for (const name of beside.slice(2)) expect(text.includes(name)).toBe(names.has(name));
    });
  });

  test.each([1, 2, 4])("the check scale of sheet %d is 100 mm, and 4 in, to 0.2 mm", (page) => {
    const { height } = pdf.sizes()[page - 1] ?? { height: 0 };
    for (const [below, length] of [
      [7, 100],
      [13.5, 101.6],
    ] as const) {
      const y = height - EDGE - FOOT + below;
      const ink = pdf.ink(page, { x: EDGE - 1, y: y - 3, width: 110, height: 1.2 });
      const ticks = darkAlong({ ...ink, height: 2 * 10 + 1 }, 0, 55);
      const [first = 0, last = 0] = [ticks[0], ticks.find((t) => t > 40)];
      expect(Math.abs(last - first - length)).toBeLessThan(TRUE);
    }
  });

  test("the rails of a straight lie true at every place, on every sheet it crosses", () => {
    const tiles = tilesOfMain();
    let [looked, sheets] = [0, 0];
    tiles.forEach((tile, i) => {
      let here = 0;
      for (let x = 335; x < 990; x += 65) {
        for (const y of [300 - GAUGE / 2]) {
          if (!within(tile, { x, y }, 3)) continue;
          expect(Math.abs(off(i + 2, tile, { x, y }, Math.PI / 2))).toBeLessThan(TRUE);
          here++;
        }
      }
      looked += here;
      if (here > 0) sheets++;
    });
    expect(looked).toBeGreaterThanOrEqual(10);
    expect(sheets).toBeGreaterThan(1);
  }, 30_000);

  test("both rails of a quarter circle lie true, on every sheet it crosses", () => {
    const centre = { x: 1000, y: 300 + RADIUS };
    let sheets = 0;
    let looked = 0;
    tilesOfMain().forEach((tile, i) => {
      let here = 0;
      for (let degrees = 4; degrees < 90; degrees += 9) {
        const angle = ((degrees - 90) * Math.PI) / 180;
        const r = RADIUS + (degrees % 2 === 0 ? GAUGE / 2 : -GAUGE / 2);
        const p = { x: centre.x + r * Math.cos(angle), y: centre.y + r * Math.sin(angle) };
        if (!within(tile, p, 3)) continue;
        expect(Math.abs(off(i + 2, tile, p, angle))).toBeLessThan(TRUE);
        here++;
      }
      looked += here;
      if (here > 0) sheets++;
    });
    expect(looked).toBeGreaterThanOrEqual(10);
    expect(sheets).toBeGreaterThan(2);
  }, 30_000);

  test("across a border, from riser to riser by way of the crosses both sheets show, is as far as on the track", () => {
    const tiles = tilesOfMain();
    const [left, right] =
      tiles.flatMap((tile, i) => {
        const next = tiles.findIndex(({ row, column }) => row === tile.row && column === tile.column + 1);
        return next > 0 && within(tile, { x: tile.cell.maxX, y: 300 }, 0)
          ? [
              [
                { tile, page: i + 2 },
                { tile: tiles[next] as Tile, page: next + 2 },
              ],
            ]
          : [];
      })[0] ?? [];
    if (!left || !right) throw new Error("the straight crosses no border");
    /** Where a strip of the page is dark, mm from its left edge. */
    const dark = (page: number, x: number, y: number, width: number): number[] =>
      darkAlong(pdf.ink(page, { x, y, width, height: 0.5 }), 0, width / 2).map((t) => x + width / 2 + t);
    // The cross at the upper corner of the border: its upright, looked at beside its level arm.
    const crossAt = (page: number, tile: Tile): number => {
      const at = onPage(tile, { x: page === left.page ? tile.cell.maxX : tile.cell.minX, y: tile.cell.maxY });
      const [found] = dark(page, at.x - 2.5, at.y + 2, 5);
      return found ?? Number.NaN;
    };
    // Risers reach beyond the ties, where nothing else is drawn.
    const riserBelow = 300 - 2590 / plan.scale.ratio / 2 - 1;
    const risersOn = ({ tile, page }: { tile: Tile; page: number }): number[] =>
      [300, 400, 500, 600, 700, 800, 900]
        .filter((x) => within(tile, { x, y: riserBelow }, 1))
        .flatMap((x) => {
          const at = onPage(tile, { x, y: riserBelow });
          const found = [0, 0.7, 1.4, 2.1]
            .map((up) => dark(page, at.x - 1, at.y + up - 0.5, 2)[0])
            .find((d) => d !== undefined);
          return found === undefined ? [] : [found];
        });
    const before = risersOn(left)[0] ?? Number.NaN;
    const after = risersOn(right).at(-1) ?? Number.NaN;
    const span = crossAt(left.page, left.tile) - before + (after - crossAt(right.page, right.tile));
    const whole = Math.round(span / RISERS) * RISERS;
    expect(whole).toBeGreaterThan(0);
    expect(Math.abs(span - whole)).toBeLessThan(TRUE);
    expect(left.tile.window.maxX - right.tile.window.minX).toBeCloseTo(OVERLAP, 6);
  });

  test("heights stand at the risers, turnouts are named with points, frog and joints", () => {
    const text = pdf.text();
    for (const words of [
      "+1000 mm at 0 mm",
      "+1002 mm at 100 mm",
      "+1008 mm at 400 mm",
      "points, No. 6 left",
      "frog point",
      "turnout joint",
      "Main",
    ]) {
      expect(text).toContain(words);
    }
  });

  test("the frog's cross lies where the rails cross: 6 gauges and more beyond the points, half a gauge off the middle", () => {
    const turnout = layout.turnouts.get("points");
    const route = layout.lines.get("turnout:points")?.path;
    if (!turnout || !route) throw new Error("no turnout");
    // The route's right rail is at the host's left one where it is half a gauge off: sought by halving.
    let [a, b] = [0, route.length];
    const rise = (s: number): number => offsetPoint(poseAt(route, s), 0, -GAUGE / 2).y - (300 + GAUGE / 2);
    for (let i = 0; i < 60; i++) [a, b] = rise((a + b) / 2) > 0 ? [a, (a + b) / 2] : [(a + b) / 2, b];
    const frog = offsetPoint(poseAt(route, a), 0, -GAUGE / 2);
    const tiles = tilesOfMain();
    const i = tiles.findIndex((tile) => within(tile, frog, 4));
    const tile = tiles[i] as Tile;
    // The arms of the cross above the rails, 1.4 mm up: as far left of the frog as right.
    const at = onPage(tile, frog);
    const arms = darkAlong(pdf.ink(i + 2, { x: at.x - 2.5, y: at.y - 1.65, width: 5, height: 0.5 }), 0, 2.4);
    const [first = Number.NaN, last = Number.NaN] = [arms[0], arms.at(-1)];
    expect(Math.abs(first + last) / 2).toBeLessThan(TRUE);
    expect(Math.abs(last - first - 2.8)).toBeLessThan(2 * TRUE);
  });

  test("a deck or a class is chosen alone; nothing chosen, or risers too near, is refused in words", async () => {
    const yard = await print({ tracks: undefined as never, classes: ["yard"] });
    expect(yard.text()).not.toContain("Main");
    yard.remove();
    const top = await templatesPdf(layout, { paper: A4, date, deck: "top" });
    const foot = await templatesPdf(layout, { paper: A4, date, deck: "foot" });
    if (!top.ok || !foot.ok) throw new Error("refused");
    expect(top.pages).toBeLessThan(foot.pages);
    for (const wishes of [{ tracks: ["none"] }, { riserEvery: 0 }, { riserEvery: Number.NaN }]) {
      expect(await templatesPdf(layout, { paper: A4, date, ...wishes })).toMatchObject({ ok: false });
    }
  });

  test("more track than anyone prints is refused before it is looked at", async () => {
    const main = plan.tracks["main"];
    if (!main) throw new Error("no main");
    const long = deriveLayout({
      ...plan,
      tracks: { main: { ...main, legs: [{ straight: 2_000_001 }] } },
      turnouts: {},
      pins: {},
    });
    expect(await templatesPdf(long, { paper: A4, date })).toMatchObject({
      ok: false,
      message: expect.stringContaining("km of track") as unknown,
    });
  });

  test("a roll is cut as long as its track", async () => {
    const parsed = parsePaper("roll 610", "metric");
    if (!parsed.ok) throw new Error(parsed.message);
    const roll = await print({ paper: parsed.paper });
    for (const { height, width } of roll.sizes().slice(1)) {
      expect(height).toBeCloseTo(610, 1);
      expect(width).toBeLessThan(1400);
    }
    roll.remove();
  });

  test("names are lettering, equal wishes give equal bytes", async () => {
    const main = plan.tracks["main"];
    if (!main) throw new Error("no main");
    const named = deriveLayout({
      ...plan,
      title: `${hostileName}) Tj (`,
      tracks: { ...plan.tracks, main: { ...main, name: `${hostileName} ) Tj ET Q` } },
    });
    const wishes = { paper: A4, date, tracks: ["main"] };
    const [first, second] = [await templatesPdf(named, wishes), await templatesPdf(named, wishes)];
    if (!first.ok || !second.ok) throw new Error("refused");
    expect(Buffer.from(first.bytes).equals(Buffer.from(second.bytes))).toBe(true);
    const pages = printed(first.bytes);
    expect(pages.text()).toContain("<script>");
    expect(pages.text()).toContain(") Tj ET Q");
    pages.remove();
  });
});
