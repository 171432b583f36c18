/** Track of a scene: one line, rails, or rails on ties as the scale asks; hidden stretches dashed, never with ties. */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { type Id, type Plan, TRACK_CLASSES, type TrackClass } from "../plan/schema.js";
import { boxesOverlap, lineBox } from "./boxes.js";
import { type DeckTone, deckTone } from "./decks.js";
import { piecesOf, type Piece } from "./hidden-pieces.js";
import { centreLine, type Outline, pointsOutline, railPair, tiesOf } from "./line-shapes.js";
import { DASH, detailAt, TRACK_WEIGHTS, WEIGHT } from "./line-weights.js";
import type { Batch, Ink, Look } from "./batch.js";

export interface TrackShapes {
  made: number;
  /** Shapes of each line by what they show of it. */
  readonly kept: WeakMap<Line, Map<string, Outline>>;
}

export const makeTrackShapes = (): TrackShapes => ({ made: 0, kept: new WeakMap() });

/** Chords may stray so many px from the curve at the largest scale of a step. */
const STRAY = 0.2;
/** Scales are taken together in steps of this, so that zooming makes shapes anew but seldom. */
const STEP = 4;
/** Rails and ties are cut into chunks so long, mm: seen near, most of a long line lies outside the window. */
const CHUNK: Millimetres = 1500;

/** A tie of standard gauge is about 8 ft 6 in long, and they lie 21 in apart (common practice, no source), mm. */
const TIE_LENGTH: Millimetres = 2590;
const TIE_SPACING: Millimetres = 533;
/** Ties nearer to one another than this blur; every second is left out until they do not, px. */
const LEAST_TIE_GAP = 4;

/** How far track is drawn to either side of its centre line at a scale. */
export function halfTrackAt(scale: number, { gauge, ratio }: Plan["scale"]): Millimetres {
  const detail = detailAt(scale);
  return detail === "overview" ? 0 : detail === "rails" ? gauge / 2 : TIE_LENGTH / ratio / 2;
}

const stepOf = (scale: number): number => Math.ceil(Math.log(scale) / Math.log(STEP));

function keep(store: TrackShapes, line: Line, key: string, make: () => Outline): Outline {
  let shapes = store.kept.get(line);
  if (!shapes) store.kept.set(line, (shapes = new Map()));
  let shape = shapes.get(key);
  if (!shape) {
    shape = make();
    store.made++;
    shapes.set(key, shape);
  }
  return shape;
}

/** One line for a whole piece. */
function lineShape(store: TrackShapes, line: Line, piece: Piece, scale: number): Outline {
  const step = stepOf(scale);
  const sagitta = STRAY / STEP ** step;
  return keep(store, line, `line ${piece.from} ${piece.to} ${step}`, () => centreLine(line, { ...piece, sagitta }));
}

function* chunksOf({ from, to }: Piece): Generator<{ from: Millimetres; to: Millimetres }> {
  const count = Math.max(1, Math.ceil((to - from) / CHUNK));
  for (let i = 0; i < count; i++) {
    yield { from: from + ((to - from) * i) / count, to: from + ((to - from) * (i + 1)) / count };
  }
}

export function trackBatches(store: TrackShapes, layout: Layout, look: Look, deck: Id, tone: DeckTone): Batch[] {
  const { plan } = layout;
  const detail = detailAt(look.scale);
  const colour: Ink = tone === "staging" ? "staging-ink" : "ink";
  const hidden: Outline[] = [];
  const open = new Map<TrackClass, Outline[]>();
  const ties = new Map<TrackClass, Outline[]>();
  const step = stepOf(look.scale);
  const sagitta = STRAY / STEP ** step;
  const spacing = tieSpacing(plan.scale.ratio, look.scale);
  const add = (into: Map<TrackClass, Outline[]>, line: Line, shape: Outline): void => {
    if (!boxesOverlap(shape.box, look.visible)) return;
    const list = into.get(line.class);
    if (list) list.push(shape);
    else into.set(line.class, [shape]);
  };
  for (const line of layout.lines.values()) {
    if (line.deck !== deck || !boxesOverlap(lineBox(line), look.visible)) continue;
    for (const piece of piecesOf(layout, line)) {
      if (piece.hidden) hidden.push(lineShape(store, line, piece, look.scale));
      else if (detail === "overview") add(open, line, lineShape(store, line, piece, look.scale));
      else {
        for (const chunk of chunksOf(piece)) {
          const stretch = { ...chunk, sagitta };
          const key = `${chunk.from} ${chunk.to}`;
          const { gauge, ratio } = plan.scale;
          add(
            open,
            line,
            keep(store, line, `rails ${key} ${step} ${gauge}`, () => railPair(line, stretch, gauge)),
          );
          if (detail !== "ties") continue;
          add(
            ties,
            line,
            keep(store, line, `ties ${key} ${spacing}`, () => tiesOf(line, stretch, TIE_LENGTH / ratio, spacing)),
          );
        }
      }
    }
  }
  const batches: Batch[] = [];
  for (const name of TRACK_CLASSES) {
    const shapes = ties.get(name);
    if (shapes) batches.push({ key: `${deck} ties ${name}`, shapes, stroke: "ink3", weight: TRACK_WEIGHTS[name].tie });
  }
  // The heaviest last: a main lies over the spurs that leave it.
  for (const name of [...TRACK_CLASSES].reverse()) {
    const shapes = open.get(name);
    const { line, rail, railOnTies } = TRACK_WEIGHTS[name];
    const weight = detail === "overview" ? line : detail === "rails" ? rail : railOnTies;
    if (shapes) batches.push({ key: `${deck} track ${name}`, shapes, stroke: colour, weight });
  }
  if (hidden.length > 0) {
    batches.push({
      key: `${deck} hidden`,
      shapes: hidden,
      stroke: colour,
      weight: WEIGHT.hidden,
      dash: DASH.hidden,
    });
  }
  const unreached = unreachedOf(layout, deck);
  if (unreached) {
    batches.push({ key: `${deck} unreached`, shapes: [unreached], stroke: "fails", weight: 1.2, dash: DASH.unreached });
  }
  return batches;
}

/** Every second tie left out as often as it takes. */
function tieSpacing(ratio: number, scale: number): Millimetres {
  const spacing = TIE_SPACING / ratio;
  return spacing * 2 ** Math.max(0, Math.ceil(Math.log2(LEAST_TIE_GAP / (spacing * scale))));
}

function unreachedOf(layout: Layout, deck: Id): Outline | undefined {
  const legs = layout.findings.flatMap(({ deck: on, point, target }) =>
    on === deck && target ? [[point, target]] : [],
  );
  return legs.length > 0 ? pointsOutline(legs, false) : undefined;
}

/** Cleared round a hidden stretch in hand, so that it can be read under a pale deck, px. */
const CLEARING = 9;

/** Track of the other decks, pale and thin; it gives way where hidden track of the deck in hand lies under it. */
export function ghostTrack(
  store: TrackShapes,
  layout: Layout,
  look: Look,
  ghosts: readonly Id[],
  level: readonly Id[],
): Batch[] {
  const pale = new Map<Id, Outline[]>(ghosts.map((deck) => [deck, []]));
  const clearing: Outline[] = [];
  for (const line of layout.lines.values()) {
    const shapes = pale.get(line.deck);
    if ((!shapes && !level.includes(line.deck)) || !boxesOverlap(lineBox(line), look.visible)) continue;
    if (shapes) {
      shapes.push(lineShape(store, line, { from: 0, to: line.path.length, hidden: false }, look.scale));
    } else {
      for (const piece of piecesOf(layout, line)) {
        if (piece.hidden) clearing.push(lineShape(store, line, piece, look.scale));
      }
    }
  }
  const batches: Batch[] = [];
  for (const [deck, shapes] of pale) {
    const stroke: Ink = `${deckTone(layout.plan, deck)}-edge`;
    if (shapes.length > 0) batches.push({ key: `${deck} pale`, shapes, stroke, weight: WEIGHT.ghost });
  }
  if (clearing.length > 0) {
    batches.push({ key: "clearing", shapes: clearing, stroke: "paper", weight: CLEARING, erases: true });
  }
  return batches;
}
