/**
 * The plan as a sheet of drawing, true to scale: one deck, one deck with the others seen through, or every deck side by
 * side. Width and height are in millimetres of paper and the view box counts them, so that a printer keeps the scale.
 *
 * Always holds: equal input gives equal text; names appear only as escaped text; every line of a drawn deck is there.
 */
import type { Layout } from "../../layout/layout.js";
import { decksInOrder, firstDeck } from "../../drafting/decks.js";
import type { Id, Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { drawPanel } from "./draw-panel.js";
import { element, escapeText, figure } from "./markup.js";
import { PALETTES, type Theme } from "./palette.js";
import { hatchPattern } from "./room.js";
import type { Sheet } from "./sheet.js";
import { layOutSheet, type Size } from "./sheet-layout.js";
import { drawFrame, drawKey, drawTitle, type KeyDeck } from "./title-block.js";

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
  readonly fit?: Size;
  /** Key and title block beside the drawing; drawn unless false. */
  readonly margins?: boolean;
  /** Set before every id, so that several drawings can stand in one document. */
  readonly ids?: string;
}

export const DEFAULT_SCALE = 20;

/** The drawing as a document of its own. A deck that is not in the plan is drawn empty. */
export function drawSvg(plan: Plan, layout: Layout, options: DrawOptions): string {
  const decks = decksInOrder(plan);
  const hand = options.deck ?? firstDeck(plan);
  const shown = options.view === "all" ? decks : hand === undefined ? [] : [hand];
  const panels: (Id | undefined)[] = shown.length > 0 ? shown : [undefined];
  const titled = options.view === "all";
  const { scale, pen, paper, key, originOf } = layOutSheet(plan, layout, {
    panels: panels.length,
    titled,
    margins: options.margins !== false,
    scale: options.scale ?? DEFAULT_SCALE,
    fit: options.fit,
  });
  const palette = PALETTES[options.theme ?? "light"];
  const sheetAt = (i: number): Sheet => ({ plan, scale, pen, palette, origin: originOf(i) });
  const base = sheetAt(0);
  const ghosts = options.view === "see-through" ? decks.filter((id) => id !== hand) : [];
  const keyed: KeyDeck[] = decks
    .filter((id) => options.view !== "deck" || id === hand)
    .map((id) => ({ id, ghost: ghosts.includes(id) }))
    .reverse();
  const shows = describe(plan, options.view, hand);
  const hatch = `${options.ids ?? ""}hatch`;
  const marks = [
    element("title", {}, escapeText(plan.title)),
    element("desc", {}, escapeText(shows + (options.fit ? "" : `, drawn 1:${figure(scale)}`))),
    element("defs", {}, hatchPattern(base, hatch)),
    element("rect", { ...paper, fill: palette.paper }),
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
    ...(key
      ? [
          drawKey(base, layout, key, keyed),
          drawTitle(base, key.title, { shows, ...(options.fit ? {} : { scale: `1:${figure(scale)}` }) }),
        ]
      : []),
    drawFrame(base, paper),
  ];
  const unit = options.fit ? pen : 1;
  const attributes = {
    xmlns: "http://www.w3.org/2000/svg",
    width: figure(paper.width / unit) + (options.fit ? "" : "mm"),
    height: figure(paper.height / unit) + (options.fit ? "" : "mm"),
    viewBox: `0 0 ${figure(paper.width)} ${figure(paper.height)}`,
    role: "img",
    "data-scale": options.fit ? undefined : figure(scale),
  };
  return `${element("svg", attributes, ...marks)}\n`;
}

function describe(plan: Plan, view: DrawOptions["view"], hand: Id | undefined): string {
  const name = hand === undefined ? "No deck yet" : (plan.decks[hand]?.name ?? hand);
  if (view === "all") return "Every deck";
  return view === "deck" || Object.keys(plan.decks).length < 2 ? name : `${name}, the others seen through`;
}
