/** Track on the paper: weight by class, rails where asked, hidden stretches dashed, points, ends and unreached legs. */
import { piecesOf } from "../../drafting/hidden-pieces.js";
import { DASH, TICK, TRACK_WEIGHTS, WEIGHT } from "../../drafting/line-weights.js";
import { bridgeAndStubs, bumpersOn, bumperShape, pitEdge } from "../../drafting/trackwork-shapes.js";
import { poseAt, slicePath } from "../../geometry/path.js";
import { offsetPoint } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Line } from "../../layout/line.js";
import type { DeckManner } from "./benches.js";
import { element, group, type Markup } from "./markup.js";
import { lineData, railData, trackData } from "./shapes.js";
import { dash, deckInk, px, type Sheet } from "./sheet.js";

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
    const weight = TRACK_WEIGHTS[line.class];
    const stroke = { fill: "none", stroke: colour, "data-line": line.key };
    for (const piece of piecesOf(layout, line)) {
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
          "stroke-width": px(sheet, ghost ? WEIGHT.ghost : piece.hidden ? WEIGHT.hidden : weight.line),
          "stroke-dasharray": piece.hidden ? dash(sheet, DASH.hidden) : undefined,
        }),
      );
    }
  }
  marks.push(drawParts(sheet, layout, deck, colour, how.rails && !ghost));
  if (!ghost) marks.push(drawTicks(sheet, layout, deck, colour), drawUnreached(sheet, layout, deck));
  return group({ "data-layer": `track-${deck}` }, marks);
}

/** Pits and bridges of turntables, stubs at their free stalls, bumpers. */
function drawParts(sheet: Sheet, layout: Layout, deck: string, colour: string, rails: boolean): Markup {
  const { gauge } = layout.plan.scale;
  const stroke = { fill: "none", stroke: colour, "stroke-width": px(sheet, WEIGHT.fascia) };
  const marks: Markup[] = [];
  for (const turntable of layout.turntables.values()) {
    if (turntable.deck !== deck) continue;
    const bridge = bridgeAndStubs(layout, turntable, rails ? gauge : undefined);
    const d = lineData(sheet, pitEdge(turntable), true) + bridge.map((chain) => lineData(sheet, chain)).join("");
    marks.push(element("path", { ...stroke, d, "data-turntable": turntable.id }));
  }
  const bars = bumpersOn(layout.plan, layout.lines, deck).flatMap((out) => bumperShape(out, gauge));
  const d = bars.map((chain) => lineData(sheet, chain)).join("");
  if (d) marks.push(element("path", { ...stroke, d, "data-mark": "bumpers" }));
  return marks.join("");
}

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
  for (const { routes } of layout.slips.values()) {
    for (const place of routes.flatMap(({ start, end }) => [start, end])) {
      const host = layout.lines.get(place.line);
      if (host?.deck === deck) points += tick(host, place.s, half * 0.7);
    }
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
