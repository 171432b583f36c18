/** One deck's panel: room, benches, track and labels, over one another in that order. */
import type { Layout } from "../../layout/layout.js";
import type { Id } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { lengthText } from "../../drafting/figures.js";
import { drawBenches } from "./benches.js";
import { drawLabels } from "./labels.js";
import { group, type Markup } from "./markup.js";
import { drawObstacles, drawWallFaces, drawWalls } from "./room.js";
import { lettered, onPaper, px, type Sheet } from "./sheet.js";
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
  /** Heights of the railhead are written along the track. */
  readonly heights?: boolean;
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
    const inHand = deck === undefined ? [] : [deck];
    marks.push(
      drawLabels(sheet, layout, {
        inHand,
        pale: ghosts,
        halfTrack: contents.rails ? layout.plan.scale.gauge / 2 : 0,
        readings: contents.readings,
        heights: contents.heights === true,
      }),
    );
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
