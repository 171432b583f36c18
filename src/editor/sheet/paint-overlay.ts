/**
 * What lies over the sheet: selection in carmine, what the tool in hand shows, the place hovered elsewhere, the pointer's
 * cross on the other sheet of a pair.
 */
import { curveFigure } from "../../drafting/curve-figure.js";
import { SIZE } from "../../drafting/label.js";
import { DASH, WEIGHT } from "../../drafting/line-weights.js";
import { type Shape, shapesOf } from "../../drafting/thing-shape.js";
import { toScreen, type Viewport } from "../../drafting/viewport.js";
import { type Path, poseAt, samplePath } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import type { EditorState } from "../store.js";
import type { Overlay, OverlayStyle } from "../tool.js";
import type { Inks } from "./inks.js";
import { type Canvas, toWindow } from "./paint-scene.js";

export type OverlayState = Pick<
  EditorState,
  "layout" | "selection" | "show" | "laidOver" | "hover" | "viewport" | "units"
>;

const HANDLE = 8;
const WASH = 10;
/** How a wash lies: what is under it stays to be read. */
const WASH_STRENGTH = 0.65;
const SNAP_RING = 7;
/** Chords of overlaid paths may stray so many px. */
const STRAY = 0.25;

export function paintOverlay(canvas: Canvas, state: OverlayState, shows: (deck: string) => boolean, inks: Inks): void {
  const { layout, selection, show, laidOver, hover, viewport, units } = state;
  const pen = makePen(canvas, viewport, inks);
  for (const thing of selection) for (const shape of shapesOf(layout, thing)) pen.selected(shape);
  const only = selection.length === 1 ? selection[0] : undefined;
  if (only?.kind === "record" && only.leg !== undefined) {
    const shape = shapesOf(layout, only)[0];
    if (shape?.kind === "path") pen.curve(shape.path, units);
  }
  for (const item of laidOver) pen.overlay(item);
  for (const item of show.overlay) pen.overlay(item);
  const line = hover && layout.lines.get(hover.line);
  if (line && hover && shows(line.deck)) pen.hovered(poseAt(line.path, hover.s));
}

/** The pointer on the other sheet of a pair. */
export function paintCross(canvas: Canvas, at: Point, viewport: Viewport, inks: Inks): void {
  const { x, y } = toScreen(viewport, at);
  canvas.strokeStyle = inks.colour.ink3;
  canvas.lineWidth = 0.8;
  canvas.setLineDash([]);
  canvas.beginPath();
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    canvas.moveTo(x + 4 * dx, y + 4 * dy);
    canvas.lineTo(x + 18 * dx, y + 18 * dy);
  }
  canvas.stroke();
}

function makePen(canvas: Canvas, viewport: Viewport, inks: Inks) {
  const { colour } = inks;
  const { scale } = viewport;

  /** Strokes points of the sheet. */
  const stroke = (
    points: readonly Point[],
    ink: string,
    weight: number,
    more: { readonly closed?: boolean; readonly dash?: readonly number[]; readonly fill?: string } = {},
  ): void => {
    canvas.save();
    toWindow(canvas, viewport);
    canvas.beginPath();
    for (const [i, p] of points.entries()) {
      if (i === 0) canvas.moveTo(p.x, p.y);
      else canvas.lineTo(p.x, p.y);
    }
    if (more.closed) canvas.closePath();
    canvas.strokeStyle = ink;
    canvas.lineWidth = weight / scale;
    canvas.lineJoin = "round";
    canvas.setLineDash((more.dash ?? []).map((px) => px / scale));
    if (more.fill) {
      canvas.save();
      canvas.globalAlpha = 0.12;
      canvas.fillStyle = more.fill;
      canvas.fill();
      canvas.restore();
    }
    canvas.stroke();
    canvas.restore();
  };

  const along = (path: Path): Point[] => samplePath(path, STRAY / scale);

  const wash = (points: readonly Point[], closed: boolean, strength = WASH_STRENGTH): void => {
    canvas.save();
    canvas.globalAlpha = strength;
    stroke(points, colour.wash, WASH, { closed });
    canvas.restore();
  };

  const square = (at: Point, hot: boolean): void => {
    const { x, y } = toScreen(viewport, at);
    canvas.setLineDash([]);
    canvas.lineWidth = 1.4;
    canvas.strokeStyle = colour.carmine;
    canvas.fillStyle = hot ? colour.carmine : colour.paper;
    canvas.beginPath();
    canvas.rect(Math.round(x - HANDLE / 2) + 0.5, Math.round(y - HANDLE / 2) + 0.5, HANDLE - 1, HANDLE - 1);
    canvas.fill();
    canvas.stroke();
  };

  const ring = (at: Point, radius: number, ink: string, fill?: string): void => {
    const { x, y } = toScreen(viewport, at);
    canvas.setLineDash([]);
    canvas.lineWidth = 1.4;
    canvas.strokeStyle = ink;
    canvas.beginPath();
    canvas.arc(x, y, radius, 0, 2 * Math.PI);
    if (fill) {
      canvas.fillStyle = fill;
      canvas.fill();
    }
    canvas.stroke();
  };

  /** Lettering to the upper right of a place, on ground of its own. */
  const words = (at: Point, text: string, ink: string): void => {
    if (text === "") return;
    const { x, y } = toScreen(viewport, at);
    canvas.save();
    canvas.font = `${SIZE}px ${inks.face.draw}`;
    canvas.textAlign = "left";
    canvas.lineJoin = "round";
    canvas.lineWidth = 4;
    canvas.setLineDash([]);
    canvas.strokeStyle = colour.paper;
    canvas.strokeText(text, x + 12, y - 9);
    canvas.fillStyle = ink;
    canvas.fillText(text, x + 12, y - 9);
    canvas.restore();
  };

  const STYLES: Readonly<Record<OverlayStyle, (points: readonly Point[], closed: boolean) => void>> = {
    draft: (points, closed) => stroke(points, colour.carmine, 1.8, { closed }),
    refused: (points, closed) => stroke(points, colour.fails, 1.8, { closed, dash: DASH.unreached }),
    selected: (points, closed) => {
      wash(points, closed);
      stroke(points, colour.carmine, WEIGHT.picked, { closed });
    },
    hover: (points, closed) => {
      wash(points, closed, WASH_STRENGTH / 2);
      stroke(points, colour.carmine, 1, { closed });
    },
    guide: (points, closed) =>
      closed
        ? stroke(points, colour.carmine, 1, { closed, dash: [4, 3], fill: colour.carmine })
        : stroke(points, colour.carmine, 0.9, { dash: DASH.centre }),
  };

  return {
    selected(shape: Shape): void {
      if (shape.kind === "spot") ring(shape.at, SNAP_RING, colour.carmine);
      else if (shape.kind === "path") STYLES.selected(along(shape.path), false);
      else {
        wash(shape.points, shape.closed);
        stroke(shape.points, colour.carmine, 1.6, { closed: shape.closed });
      }
    },
    curve(path: Path, units: OverlayState["units"]): void {
      const figure = curveFigure(path, units);
      if (!figure) return;
      const { centre, middle, tangents, meets, text } = figure;
      for (const tangent of tangents) stroke([centre, tangent], colour.carmine, 0.9, { dash: DASH.centre });
      stroke([centre, middle], colour.carmine, 0.9);
      arrowHead(centre, middle);
      const tick = 5 / scale;
      for (const { x, y, heading } of meets) {
        const [dx, dy] = [-Math.sin(heading) * tick, Math.cos(heading) * tick];
        stroke(
          [
            { x: x + dx, y: y + dy },
            { x: x - dx, y: y - dy },
          ],
          colour.carmine,
          1.2,
        );
      }
      const at = toScreen(viewport, centre);
      canvas.fillStyle = colour.carmine;
      canvas.beginPath();
      canvas.arc(at.x, at.y, 2, 0, 2 * Math.PI);
      canvas.fill();
      words(centre, text, colour.carmine);
    },
    overlay(item: Overlay): void {
      if (item.kind === "path") STYLES[item.style](along(item.path), false);
      else if (item.kind === "line") STYLES[item.style](item.points, item.closed === true);
      else if (item.kind === "handle") {
        if (item.shape === "square") square(item.at, item.hot === true);
        else ring(item.at, HANDLE / 2, colour.carmine, item.hot ? colour.carmine : colour.paper);
      } else if (item.kind === "snap") {
        ring(item.at, SNAP_RING, colour.carmine);
        words(item.at, item.to, colour.carmine);
      } else words(item.at, item.text, item.style === "refused" ? colour.fails : colour.carmine);
    },
    hovered(at: Point): void {
      ring(at, 5, colour.carmine, colour.paper);
    },
  };

  function arrowHead(from: Point, to: Point): void {
    const [a, b] = [toScreen(viewport, from), toScreen(viewport, to)];
    const way = Math.atan2(b.y - a.y, b.x - a.x);
    canvas.fillStyle = colour.carmine;
    canvas.beginPath();
    canvas.moveTo(b.x, b.y);
    canvas.lineTo(b.x - 8 * Math.cos(way + 0.35), b.y - 8 * Math.sin(way + 0.35));
    canvas.lineTo(b.x - 8 * Math.cos(way - 0.35), b.y - 8 * Math.sin(way - 0.35));
    canvas.fill();
  }
}
