/** Track on the paper: weight by class, rails where asked, hidden stretches dashed, points, ends and unreached legs. */
import { poseAt } from "../../geometry/path.js";
import { offsetPoint } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Line } from "../../layout/line.js";
import type { TrackClass } from "../../plan/schema.js";
import type { DeckManner } from "./benches.js";
import { element, group, type Markup } from "./markup.js";
import { lineData, railData, trackData } from "./shapes.js";
import { slicePath } from "../../geometry/path.js";
import { DASH, dash, deckInk, px, type Sheet } from "./sheet.js";

/** Weights by class, px: one line, or each of two rails. */
export const LINE_WEIGHT: Readonly<Record<TrackClass, { readonly line: number; readonly rail: number }>> = {
  main: { line: 1.7, rail: 1 },
  branch: { line: 1.2, rail: 0.8 },
  siding: { line: 1.2, rail: 0.8 },
  lead: { line: 1.2, rail: 0.8 },
  yard: { line: 0.9, rail: 0.7 },
  spur: { line: 0.9, rail: 0.7 },
  staging: { line: 0.9, rail: 0.7 },
};
const HIDDEN_WEIGHT = 1;
const GHOST_WEIGHT = 0.9;

interface Piece {
  readonly from: number;
  readonly to: number;
  readonly hidden: boolean;
}

/** A line cut where it goes into hiding and comes out. */
export function pieces(layout: Layout, line: Line): Piece[] {
  const spans = layout.hidden
    .filter((stretch) => stretch.line === line.key)
    .map(({ from, to }) => ({ from: Math.max(0, from), to: Math.min(line.path.length, to) }))
    .sort((a, b) => a.from - b.from);
  const result: Piece[] = [];
  let s = 0;
  for (const span of spans) {
    if (span.to <= s) continue;
    if (span.from > s) result.push({ from: s, to: span.from, hidden: false });
    result.push({ from: Math.max(s, span.from), to: span.to, hidden: true });
    s = span.to;
  }
  if (s < line.path.length) result.push({ from: s, to: line.path.length, hidden: false });
  return result;
}

export interface TrackManner {
  readonly manner: DeckManner;
  readonly rails: boolean;
}

export function drawTrack(sheet: Sheet, layout: Layout, deck: string, how: TrackManner): Markup {
  const ghost = how.manner === "above";
  const ink = deckInk(sheet, deck);
  const staging = layout.plan.decks[deck]?.kind === "staging";
  const colour = ghost ? ink.edge : staging ? ink.ink : sheet.palette.ink;
  const marks: Markup[] = [];
  for (const line of layout.lines.values()) {
    if (line.deck !== deck) continue;
    const weight = LINE_WEIGHT[line.class];
    const stroke = { fill: "none", stroke: colour, "data-line": line.key };
    for (const piece of pieces(layout, line)) {
      if (how.rails && !ghost && !piece.hidden) {
        const part = slicePath(line.path, piece.from, piece.to);
        const half = layout.plan.scale.gauge / 2;
        const d = railData(sheet, part, half) + railData(sheet, part, -half);
        marks.push(element("path", { ...stroke, d, "stroke-width": px(sheet, weight.rail) }));
        continue;
      }
      marks.push(
        element("path", {
          ...stroke,
          d: trackData(sheet, line.path, piece.from, piece.to),
          "stroke-width": px(sheet, ghost ? GHOST_WEIGHT : piece.hidden ? HIDDEN_WEIGHT : weight.line),
          "stroke-dasharray": piece.hidden ? dash(sheet, DASH.hidden) : undefined,
        }),
      );
    }
  }
  if (!ghost) marks.push(drawTicks(sheet, layout, deck, colour), drawUnreached(sheet, layout, deck));
  return group({ "data-layer": `track-${deck}` }, marks);
}

const TICK = 8;

/** An 8 px tick across the track at points and where track ends. */
function drawTicks(sheet: Sheet, layout: Layout, deck: string, colour: string): Markup {
  const half = (px(sheet, TICK) / 2) * sheet.scale;
  const tick = (line: Line, s: number, reach: number) => {
    const pose = poseAt(line.path, s);
    return lineData(sheet, [offsetPoint(pose, 0, reach), offsetPoint(pose, 0, -reach)]);
  };
  let points = "";
  for (const turnout of layout.turnouts.values()) {
    const host = layout.lines.get(turnout.host);
    if (host?.deck === deck) points += tick(host, turnout.at, half * 0.7);
  }
  let ends = "";
  for (const edge of layout.network.edges) {
    const line = layout.lines.get(edge.line);
    if (line?.deck !== deck) continue;
    if (layout.network.nodes.get(edge.a.node)?.kind === "end") ends += tick(line, edge.from, half);
    if (layout.network.nodes.get(edge.b.node)?.kind === "end") ends += tick(line, edge.to, half);
  }
  const stroke = { fill: "none", stroke: colour };
  return [
    points && element("path", { ...stroke, d: points, "stroke-width": px(sheet, 0.9), "data-mark": "points" }),
    ends && element("path", { ...stroke, d: ends, "stroke-width": px(sheet, 1.2), "data-mark": "ends" }),
  ].join("");
}

function drawUnreached(sheet: Sheet, layout: Layout, deck: string): Markup {
  const d = layout.findings
    .filter((finding) => finding.deck === deck)
    .map((finding) => (finding.target ? lineData(sheet, [finding.point, finding.target]) : ""))
    .join("");
  const stroke = { stroke: sheet.palette.fails, "stroke-width": px(sheet, 1.2) };
  return d ? element("path", { d, fill: "none", ...stroke, "stroke-dasharray": dash(sheet, DASH.unreached) }) : "";
}
