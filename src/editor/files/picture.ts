/** A plan from afar, for the shelf: room, benches and tracks as a few hundred points in a small box. */
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Picture } from "./shelf.js";

/** The longer side, px. */
const SIDE = 176;
/** Points nearer than that to the last one are left out, px. */
const STEP = 1.5;

export function pictureOf(layout: Layout): Picture {
  const { outline } = layout.plan.room;
  const xs = outline.map(({ x }) => x);
  const ys = outline.map(({ y }) => y);
  const [left, top] = [Math.min(...xs), Math.max(...ys)];
  const [wide, deep] = [Math.max(...xs) - left, top - Math.min(...ys)];
  const scale = SIDE / Math.max(wide, deep, 1);
  const line = (points: Iterable<Point>, close: boolean): string => {
    let text = "";
    let last: Point | undefined;
    let skipped: Point | undefined;
    const word = ({ x, y }: Point): string => `${((x - left) * scale).toFixed(1)} ${((top - y) * scale).toFixed(1)}`;
    for (const point of points) {
      if (last && Math.abs(point.x - last.x) + Math.abs(point.y - last.y) < STEP / scale) {
        skipped = point;
        continue;
      }
      text += `${last ? "L" : "M"}${word(point)}`;
      last = point;
      skipped = undefined;
    }
    if (skipped) text += `L${word(skipped)}`;
    return text === "" ? "" : text + (close ? "Z" : "");
  };
  let [tracks, hidden, benches] = ["", "", ""];
  for (const { deck, samples } of layout.lines.values()) {
    const path = line(pointsOf(samples), false);
    if (layout.plan.decks[deck]?.kind === "staging") hidden += path;
    else tracks += path;
  }
  for (const { bench } of layout.space.decks.values()) for (const ring of bench) benches += line(ring, true);
  return { width: wide * scale, height: deep * scale, room: line(outline, true), benches, tracks, hidden };
}

function* pointsOf({ count, x, y }: { readonly count: number; readonly x: Float64Array; readonly y: Float64Array }) {
  for (let i = 0; i < count; i++) yield { x: x[i] ?? 0, y: y[i] ?? 0 };
}
