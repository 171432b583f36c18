/**
 * The plan as a sheet of drawing, true to scale: one deck, one deck with the others seen through, or every deck side by
 * side. Width and height are in millimetres of paper and the view box counts them, so that a printer keeps the scale.
 *
 * Always holds: equal input gives equal text; names appear only as escaped text; every line of a drawn deck is there.
 */
import { samplePath } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Id, Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { lengthText } from "../figures.js";
import { drawBenches } from "./benches.js";
import { drawRoomDimensions } from "./dimensions.js";
import { drawFlags } from "./flags.js";
import { drawFrogNumbers, drawGrades, drawPlaceLabels, drawRadii, type Ground } from "./labels.js";
import { element, escapeText, figure, group, type Markup } from "./markup.js";
import { makeOccupancy } from "./occupancy.js";
import { PALETTES, type Theme } from "./palette.js";
import { drawObstacles, drawWallFaces, drawWalls, hatchPattern, roomExtent } from "./room.js";
import { lettered, onPaper, PEN_ON_SCREEN, penFor, px, type Sheet } from "./sheet.js";
import { COLUMN, drawFrame, drawKey, drawTitle, FRAME, type KeyDeck, keyHeight, TITLE_HEIGHT } from "./title-block.js";
import { drawTrack } from "./trackwork.js";

export interface DrawOptions {
  /** `deck`: one deck alone. `see-through`: one deck, the others as pale outlines. `all`: every deck, side by side. */
  readonly view: "deck" | "see-through" | "all";
  /** The deck in hand; the lowest scenic deck where left out. */
  readonly deck?: Id;
  /** Millimetres of room to one of paper; 20 where left out. */
  readonly scale?: number;
  /** Radii, grades, frog numbers, names, dimensions; drawn unless false. */
  readonly labels?: boolean;
  /** Two rails in place of one line. */
  readonly rails?: boolean;
  readonly theme?: Theme;
  /** Tight and failing readings stand beside what they measure; clear ones are silent. */
  readonly readings?: readonly Reading[];
  /** For a screen: as large as fits this many px, lettering and weights at their size in px; `scale` is not used. */
  readonly fit?: { readonly width: number; readonly height: number };
}

export const DEFAULT_SCALE = 20;

/** px round the room: above for the dimension (and a deck's title), left for the dimension, and breathing space. */
const MARGIN = { top: 46, left: 46, right: 30, bottom: 34, title: 26 } as const;

/** Decks from the floor up. */
export function decksInOrder(plan: Plan): Id[] {
  const height = (id: Id) => plan.decks[id]?.height ?? 0;
  return Object.keys(plan.decks).sort((a, b) => height(a) - height(b));
}

/** The deck drawn where none is asked for: the lowest scenic one, else the lowest. */
export function firstDeck(plan: Plan): Id | undefined {
  const decks = decksInOrder(plan);
  return decks.find((id) => plan.decks[id]?.kind === "scenic") ?? decks[0];
}

/** The drawing as a document of its own. A deck that is not in the plan is drawn empty. */
export function drawSvg(plan: Plan, layout: Layout, options: DrawOptions): string {
  const decks = decksInOrder(plan);
  const hand = options.deck ?? firstDeck(plan);
  const shown = options.view === "all" ? decks : hand === undefined ? [] : [hand];
  const panels: (Id | undefined)[] = shown.length > 0 ? shown : [undefined];
  const titled = options.view === "all";

  const extent = boundsOf([...roomExtent(plan.room), ...layoutExtent(layout)]);
  const scale = options.fit ? fitted(extent, panels.length, titled, options.fit) : (options.scale ?? DEFAULT_SCALE);
  const pen = options.fit ? PEN_ON_SCREEN : penFor(scale);
  const drawing = { width: (extent.maxX - extent.minX) / scale, height: (extent.maxY - extent.minY) / scale };
  const panel = {
    width: drawing.width + (MARGIN.left + MARGIN.right) * pen,
    height: drawing.height + (MARGIN.top + MARGIN.bottom + (titled ? MARGIN.title : 0)) * pen,
  };
  const columns = columnsOf(panels.length, panel);
  const rows = Math.ceil(panels.length / columns);
  const border = (FRAME.outer + FRAME.zone) * pen;
  const classes = new Set([...layout.lines.values()].map((line) => line.class)).size;
  const least = (keyHeight(decks.length, classes) + TITLE_HEIGHT + MARGIN.top) * pen;
  const paper = {
    width: 2 * border + columns * panel.width + COLUMN * pen,
    height: 2 * border + Math.max(rows * panel.height, least),
  };

  const palette = PALETTES[options.theme ?? "light"];
  const sheetAt = (i: number): Sheet => ({
    plan,
    scale,
    pen,
    palette,
    origin: {
      x: border + (i % columns) * panel.width + MARGIN.left * pen - extent.minX / scale,
      y:
        border +
        Math.floor(i / columns) * panel.height +
        (MARGIN.top + (titled ? MARGIN.title : 0)) * pen +
        extent.maxY / scale,
    },
  });
  const base = sheetAt(0);
  const ghosts = options.view === "see-through" ? decks.filter((id) => id !== hand) : [];
  const key: KeyDeck[] = decks
    .filter((id) => options.view !== "deck" || id === hand)
    .map((id) => ({ id, ghost: ghosts.includes(id) }))
    .reverse();
  const aside = { x: paper.width - border - COLUMN * pen, y: border };
  const hatch = "hatch";
  const marks = [
    element("title", {}, escapeText(plan.title)),
    element(
      "desc",
      {},
      escapeText(describe(plan, options.view, hand) + (options.fit ? "" : `, drawn 1:${figure(scale)}`)),
    ),
    element("defs", {}, hatchPattern(base, hatch)),
    element("rect", { width: paper.width, height: paper.height, fill: palette.paper }),
    ...panels.map((deck, i) =>
      drawPanel(sheetAt(i), layout, {
        deck,
        ghosts,
        hatch,
        titled,
        labels: options.labels !== false,
        readings: options.readings ?? [],
        rails: options.rails === true,
      }),
    ),
    drawKey(base, layout, { x: aside.x + px(base, 18), y: aside.y + px(base, MARGIN.top) }, key),
    drawTitle(
      base,
      { x: aside.x, y: paper.height - border - TITLE_HEIGHT * pen },
      COLUMN * pen,
      describe(plan, options.view, hand),
      options.fit === undefined,
    ),
    drawFrame(base, paper),
  ];
  return `${element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: options.fit ? figure(paper.width / pen) : `${figure(paper.width)}mm`,
      height: options.fit ? figure(paper.height / pen) : `${figure(paper.height)}mm`,
      viewBox: `0 0 ${figure(paper.width)} ${figure(paper.height)}`,
      role: "img",
      "data-scale": options.fit ? undefined : figure(scale),
    },
    ...marks,
  )}\n`;
}

/** Side by side and below one another so that the sheet comes out about square. */
const columnsOf = (panels: number, panel: { readonly width: number; readonly height: number }): number =>
  panels === 1 ? 1 : Math.max(1, Math.ceil(Math.sqrt((panels * panel.height) / panel.width)));

/** Smallest drawing worth looking at, px. */
const LEAST_DRAWING = 160;

/** The scale at which a drawing with its margins fills a screen. */
function fitted(
  extent: Bounds,
  panels: number,
  titled: boolean,
  fit: { readonly width: number; readonly height: number },
) {
  const border = 2 * (FRAME.outer + FRAME.zone);
  const room = { width: extent.maxX - extent.minX, height: extent.maxY - extent.minY };
  const scales = Array.from({ length: panels }, (_, i) => {
    const columns = i + 1;
    const rows = Math.ceil(panels / columns);
    const wide = (fit.width - border - COLUMN) / columns - MARGIN.left - MARGIN.right;
    const high = (fit.height - border) / rows - MARGIN.top - MARGIN.bottom - (titled ? MARGIN.title : 0);
    return Math.max(
      room.width / (Math.max(wide, LEAST_DRAWING) * PEN_ON_SCREEN),
      room.height / (Math.max(high, LEAST_DRAWING) * PEN_ON_SCREEN),
    );
  });
  return Math.max(Math.min(...scales), 1e-3);
}

function describe(plan: Plan, view: DrawOptions["view"], hand: Id | undefined): string {
  const name = hand === undefined ? "No deck yet" : (plan.decks[hand]?.name ?? hand);
  if (view === "all") return "Every deck";
  return view === "deck" || Object.keys(plan.decks).length < 2 ? name : `${name}, the others seen through`;
}

interface PanelContents {
  readonly deck: Id | undefined;
  readonly ghosts: readonly Id[];
  readonly hatch: string;
  readonly titled: boolean;
  readonly labels: boolean;
  readonly rails: boolean;
  readonly readings: readonly Reading[];
}

function drawPanel(sheet: Sheet, layout: Layout, contents: PanelContents): Markup {
  const { deck, ghosts, hatch } = contents;
  const marks: Markup[] = [drawWalls(sheet, hatch)];
  if (deck !== undefined) marks.push(drawBenches(sheet, layout, deck, "hand"));
  marks.push(drawWallFaces(sheet), drawObstacles(sheet, hatch));
  for (const ghost of ghosts) {
    marks.push(
      drawBenches(sheet, layout, ghost, "above"),
      drawTrack(sheet, layout, ghost, { manner: "above", rails: false }),
    );
  }
  if (deck !== undefined) marks.push(drawTrack(sheet, layout, deck, { manner: "hand", rails: contents.rails }));
  if (contents.titled && deck !== undefined) marks.push(panelTitle(sheet, deck));
  if (contents.labels) {
    const ground = groundOf(sheet, layout, [...(deck === undefined ? [] : [deck]), ...ghosts]);
    if (deck !== undefined) {
      marks.push(
        drawFlags(sheet, ground, deck, contents.readings),
        drawPlaceLabels(sheet, ground, deck, false),
        drawGrades(sheet, ground, layout, deck),
        drawRadii(sheet, ground, layout, deck),
        drawFrogNumbers(sheet, ground, layout, deck),
      );
    }
    for (const ghost of ghosts) marks.push(drawPlaceLabels(sheet, ground, ghost, true));
    marks.push(drawRoomDimensions(sheet));
  }
  return group({ "data-deck": deck }, marks);
}

function panelTitle(sheet: Sheet, deck: Id): Markup {
  const record = sheet.plan.decks[deck];
  const { outline } = sheet.plan.room;
  const at = onPaper(sheet, {
    x: Math.min(...outline.map((p) => p.x)),
    y: Math.max(...outline.map((p) => p.y)),
  });
  const text = `${record?.name ?? deck} · ${lengthText(record?.height ?? 0, sheet.plan.units)}`;
  return lettered(sheet, { x: at.x, y: at.y - px(sheet, MARGIN.top + 4) }, text, {
    size: 17,
    colour: sheet.palette.ink,
    face: "name",
    anchor: "start",
  });
}

/** Cells of the label ground, px. */
const CELL = 3;

function groundOf(sheet: Sheet, layout: Layout, decks: readonly Id[]): Ground {
  const cell = px(sheet, CELL);
  const ground = { track: makeOccupancy(cell), edges: makeOccupancy(cell), labels: makeOccupancy(cell) };
  const chain = (points: readonly Point[], closed: boolean, into: Ground["track"]) => {
    points.forEach((p, i) => {
      const next = points[i + 1] ?? (closed ? points[0] : undefined);
      if (next) into.markLine(onPaper(sheet, p), onPaper(sheet, next));
    });
  };
  const { room } = sheet.plan;
  chain(room.outline, true, ground.edges);
  for (const obstacle of Object.values(room.obstacles)) chain(obstacle.outline, true, ground.edges);
  decks.forEach((deck, i) => {
    const space = layout.space.decks.get(deck);
    // Only the deck in hand keeps labels off its edges; the pale ones give way.
    if (i === 0) {
      for (const ring of space?.bench ?? []) chain(ring, true, ground.edges);
      for (const backdrop of space?.backdrops ?? []) chain(backdrop.line, false, ground.edges);
    }
    for (const line of layout.lines.values()) {
      if (line.deck === deck) chain(samplePath(line.path, sheet.scale * cell * 0.25), false, ground.track);
    }
  });
  return ground;
}

/** Track and benches may lie outside the room; they are drawn all the same. */
function layoutExtent(layout: Layout): Point[] {
  const points: Point[] = [];
  for (const line of layout.lines.values()) {
    const { count, x, y } = line.samples;
    for (let i = 0; i < count; i++) points.push({ x: x[i] ?? 0, y: y[i] ?? 0 });
  }
  for (const space of layout.space.decks.values()) for (const ring of space.bench) points.push(...ring);
  return points;
}

interface Bounds {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

function boundsOf(points: readonly Point[]): Bounds {
  let bounds: Bounds | undefined;
  for (const p of points) {
    if (!Number.isFinite(p.x) || !Number.isFinite(p.y)) continue;
    bounds = {
      minX: Math.min(bounds?.minX ?? p.x, p.x),
      maxX: Math.max(bounds?.maxX ?? p.x, p.x),
      minY: Math.min(bounds?.minY ?? p.y, p.y),
      maxY: Math.max(bounds?.maxY ?? p.y, p.y),
    };
  }
  return bounds ?? { minX: 0, maxX: 0, minY: 0, maxY: 0 };
}
