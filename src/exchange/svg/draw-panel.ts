/** One deck's panel: room, benches, track and labels, over one another in that order. */
import { samplePath } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Id } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { lengthText } from "../figures.js";
import { drawBenches } from "./benches.js";
import { drawRoomDimensions } from "./dimensions.js";
import { drawFlags } from "./flags.js";
import { drawFrogNumbers, drawGrades, drawPlaceLabels, drawRadii, type Ground } from "./labels.js";
import { group, type Markup } from "./markup.js";
import { makeOccupancy } from "./occupancy.js";
import { drawObstacles, drawWallFaces, drawWalls, isInside } from "./room.js";
import { fromPaper, lettered, onPaper, px, type Sheet } from "./sheet.js";
import { MARGIN } from "./sheet-layout.js";
import { drawTrack } from "./trackwork.js";

export interface PanelContents {
  readonly deck: Id | undefined;
  readonly ghosts: readonly Id[];
  readonly hatch: string;
  readonly titled: boolean;
  readonly labels: boolean;
  readonly rails: boolean;
  readonly readings: readonly Reading[];
}

export function drawPanel(sheet: Sheet, layout: Layout, contents: PanelContents): Markup {
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
  const { room } = sheet.plan;
  const ground = {
    track: makeOccupancy(cell),
    edges: makeOccupancy(cell),
    labels: makeOccupancy(cell),
    isOnFloor: (p: Point) => isInside(fromPaper(sheet, p), room.outline),
  };
  const chain = (points: readonly Point[], closed: boolean, into: Ground["track"]) => {
    points.forEach((p, i) => {
      const next = points[i + 1] ?? (closed ? points[0] : undefined);
      if (next) into.markLine(onPaper(sheet, p), onPaper(sheet, next));
    });
  };
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
