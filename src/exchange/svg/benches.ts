/** What carries the track: benches tinted by deck with their fascia, gates, backdrops. */
import { DASH } from "../../drafting/line-weights.js";
import type { Layout } from "../../layout/layout.js";
import { recordsInHand } from "../../layout/options.js";
import { element, group, type Markup } from "./markup.js";
import { areaData, lineData } from "./shapes.js";
import { dash, deckInk, px, type Sheet } from "./sheet.js";

/** `hand`: the deck looked at. `above`: seen through, a pale outline over what is in hand. */
export type DeckManner = "hand" | "above";

export function drawBenches(sheet: Sheet, layout: Layout, deck: string, manner: DeckManner): Markup {
  const space = layout.space.decks.get(deck);
  if (!space) return "";
  const ink = deckInk(sheet, deck);
  const inHand = manner === "hand";
  const marks: Markup[] = [
    element("path", {
      d: areaData(sheet, space.bench),
      fill: inHand ? ink.tint : "none",
      "fill-rule": "evenodd",
      stroke: ink.edge,
      "stroke-width": px(sheet, 0.9),
      "stroke-dasharray": inHand ? undefined : dash(sheet, DASH.fasciaAbove),
    }),
  ];
  if (!inHand) return group({ "data-layer": `fascia-${deck}` }, marks);
  for (const [, gate] of recordsInHand(layout.plan, layout.plan.gates)) {
    if (gate.deck !== deck) continue;
    const d = areaData(sheet, [gate.outline]);
    marks.push(
      element("path", { d, fill: "none", stroke: sheet.palette.paper, "stroke-width": px(sheet, 1.6) }),
      element("path", {
        d,
        fill: "none",
        stroke: ink.edge,
        "stroke-width": px(sheet, 0.9),
        "stroke-dasharray": dash(sheet, DASH.gate),
      }),
    );
  }
  for (const backdrop of space.backdrops) {
    const d = lineData(sheet, backdrop.line);
    marks.push(
      element("path", { d, fill: "none", stroke: sheet.palette.ink2, "stroke-width": px(sheet, 2.4) }),
      element("path", { d, fill: "none", stroke: ink.tint, "stroke-width": px(sheet, 1) }),
    );
  }
  return group({ "data-layer": `benches-${deck}` }, marks);
}
