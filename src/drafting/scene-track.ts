/** Track of a scene: one line, rails, or rails on ties as the scale asks; hidden stretches dashed, never with ties. */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { type Id, type Plan, TRACK_CLASSES, type TrackClass } from "../plan/schema.js";
import { lineBox } from "../layout/line-boxes.js";
import { boxesOverlap, grownBox } from "./boxes.js";
import { type DeckTone, deckTone } from "./decks.js";
import { piecesOf, type Piece } from "./hidden-pieces.js";
import { centreLine, type Outline, pointsOutline, railPair, TIE_LENGTH, TIE_SPACING, tiesOf } from "./line-shapes.js";
import { DASH, detailAt, TRACK_WEIGHTS, WEIGHT } from "./line-weights.js";
import type { Batch, Ink, Look } from "./batch.js";
import { switchTiesOf } from "./switch-ties.js";
import { bridgeAndStubs, bumpersOn, bumperShape, pitEdge } from "./trackwork-shapes.js";

export interface TrackShapes {
  made: number;
  /** Chunks of rails and ties of each line, by what they show of it. */
  readonly chunks: WeakMap<Line, Map<string, Outline>>;
  /** The one line each line is from afar, at the fineness last asked for. */
  readonly wholes: WeakMap<Line, Whole>;
  /** Those of a whole deck, ready to be painted, by the layout or the lines looked at. */
  readonly decks: WeakMap<Layout | NonNullable<Look["lines"]>, Map<string, DeckLines>>;
}

/** A line as it is drawn from afar, piece by piece. */
interface Whole {
  readonly step: number;
  readonly pieces: readonly Piece[];
  readonly shapes: readonly Outline[];
}

interface DeckLines {
  readonly open: ReadonlyMap<TrackClass, readonly Outline[]>;
  readonly hidden: readonly Outline[];
}

export const makeTrackShapes = (): TrackShapes => ({
  made: 0,
  chunks: new WeakMap(),
  wholes: new WeakMap(),
  decks: new WeakMap(),
});

/** Chords may stray so many px from the curve at the largest scale of a step. */
const STRAY = 0.2;
/** Scales are taken together in steps of this, so that zooming makes shapes anew but seldom. */
const STEP = 4;
/** Rails and ties are cut into chunks so long, mm: seen near, most of a long line lies outside the window. */
const CHUNK: Millimetres = 1500;

/** Ties nearer to one another than this blur; every second is left out until they do not, px. */
const LEAST_TIE_GAP = 4;

/** How far track is drawn to either side of its centre line at a scale. */
export function halfTrackAt(scale: number, { gauge, ratio }: Plan["scale"]): Millimetres {
  const detail = detailAt(scale);
  return detail === "overview" ? 0 : detail === "rails" ? gauge / 2 : TIE_LENGTH / ratio / 2;
}

const stepOf = (scale: number): number => Math.ceil(Math.log(scale) / Math.log(STEP));

function keepChunk(store: TrackShapes, line: Line, key: string, make: () => Outline): Outline {
  let shapes = store.chunks.get(line);
  if (!shapes) store.chunks.set(line, (shapes = new Map()));
  let shape = shapes.get(key);
  if (!shape) {
    shape = make();
    store.made++;
    shapes.set(key, shape);
  }
  return shape;
}

const samePieces = (a: readonly Piece[], b: readonly Piece[]): boolean =>
  a.length === b.length && a.every((p, i) => p.from === b[i]?.from && p.to === b[i]?.to && p.hidden === b[i]?.hidden);

function wholeOf(store: TrackShapes, layout: Layout, line: Line, step: number): Whole {
  const pieces = piecesOf(layout, line);
  const before = store.wholes.get(line);
  if (before && before.step === step && samePieces(before.pieces, pieces)) return before;
  const sagitta = STRAY / STEP ** step;
  const whole = { step, pieces, shapes: pieces.map((piece) => centreLine(line, { ...piece, sagitta })) };
  store.made++;
  store.wholes.set(line, whole);
  return whole;
}

/** Of fewer lines than this part of a deck's, each is looked for when it is drawn, and none of the others is made. */
const FEW = 1 / 3;

/** Lines of a deck as one line each, open stretches by class and hidden ones: at least those in the window. */
function deckLines(store: TrackShapes, layout: Layout, look: Look, deck: Id): DeckLines {
  const of = look.lines ?? layout;
  const all = look.lines ?? layout.lines;
  const step = stepOf(look.scale);
  const key = `${step} ${deck}`;
  const known = store.decks.get(of)?.get(key);
  if (known) return known;
  const onDeck = [...all.values()].filter((line) => line.deck === deck);
  const inWindow = onDeck.filter((line) => boxesOverlap(lineBox(line), look.visible));
  if (inWindow.length < FEW * onDeck.length) return linesOf(store, layout, inWindow, step);
  // Shown to move about in: made once, for every window there may be.
  const lines = linesOf(store, layout, onDeck, step);
  const decks = store.decks.get(of) ?? new Map<string, DeckLines>();
  store.decks.set(of, decks.set(key, lines));
  return lines;
}

function linesOf(store: TrackShapes, layout: Layout, lines: readonly Line[], step: number): DeckLines {
  const open = new Map<TrackClass, Outline[]>();
  const hidden: Outline[] = [];
  for (const line of lines) {
    const { pieces, shapes } = wholeOf(store, layout, line, step);
    for (const [i, shape] of shapes.entries()) {
      if (pieces[i]?.hidden) hidden.push(shape);
      else addTo(open, line.class, shape);
    }
  }
  return { open, hidden };
}

function addTo<K>(into: Map<K, Outline[]>, key: K, shape: Outline): void {
  const list = into.get(key);
  if (list) list.push(shape);
  else into.set(key, [shape]);
}

const seen = (shapes: readonly Outline[], { visible }: Look): Outline[] =>
  shapes.filter((shape) => boxesOverlap(shape.box, visible));

function* chunksOf({ from, to }: Piece): Generator<{ from: Millimetres; to: Millimetres }> {
  const count = Math.max(1, Math.ceil((to - from) / CHUNK));
  for (let i = 0; i < count; i++) {
    yield { from: from + ((to - from) * i) / count, to: from + ((to - from) * (i + 1)) / count };
  }
}

export function trackBatches(store: TrackShapes, layout: Layout, look: Look, deck: Id, tone: DeckTone): Batch[] {
  const detail = detailAt(look.scale);
  const colour: Ink = tone === "staging" ? "staging-ink" : "ink";
  const lines = deckLines(store, layout, look, deck);
  const hidden = seen(lines.hidden, look);
  const near = detail === "overview" ? undefined : nearTrack(store, layout, look, deck);
  const open = near?.rails ?? lines.open;
  const ties = near?.ties ?? new Map<TrackClass, readonly Outline[]>();
  const batches: Batch[] = [];
  for (const name of TRACK_CLASSES) {
    const shapes = ties.get(name);
    if (shapes?.length)
      batches.push({ key: `${deck} ties ${name}`, shapes, stroke: "ink3", weight: TRACK_WEIGHTS[name].tie });
  }
  // The heaviest last: a main lies over the spurs that leave it.
  for (const name of [...TRACK_CLASSES].reverse()) {
    const shapes = seen(open.get(name) ?? [], look);
    const { line, rail, railOnTies } = TRACK_WEIGHTS[name];
    const weight = detail === "overview" ? line : detail === "rails" ? rail : railOnTies;
    if (shapes.length > 0) batches.push({ key: `${deck} track ${name}`, shapes, stroke: colour, weight });
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
  batches.push(...partBatches(layout, look, deck, colour));
  const unreached = unreachedOf(layout, deck);
  if (unreached) {
    batches.push({ key: `${deck} unreached`, shapes: [unreached], stroke: "fails", weight: 1.2, dash: DASH.unreached });
  }
  return batches;
}

/** Rails, and ties where the scale asks for them, of what is in the window. */
function nearTrack(
  store: TrackShapes,
  layout: Layout,
  look: Look,
  deck: Id,
): { readonly rails: Map<TrackClass, Outline[]>; readonly ties: Map<TrackClass, Outline[]> } {
  const { gauge, ratio } = layout.plan.scale;
  const step = stepOf(look.scale);
  const sagitta = STRAY / STEP ** step;
  const spacing = tieSpacing(ratio, look.scale);
  const withTies = detailAt(look.scale) === "ties";
  const rails = new Map<TrackClass, Outline[]>();
  const ties = new Map<TrackClass, Outline[]>();
  for (const line of (look.lines ?? layout.lines).values()) {
    if (line.deck !== deck || !boxesOverlap(lineBox(line), look.visible)) continue;
    for (const piece of piecesOf(layout, line)) {
      if (piece.hidden) continue;
      for (const chunk of chunksOf(piece)) {
        const stretch = { ...chunk, sagitta };
        const key = `${chunk.from} ${chunk.to}`;
        const pair = keepChunk(store, line, `rails ${key} ${step} ${gauge}`, () => railPair(line, stretch, gauge));
        if (!boxesOverlap(grownBox(pair.box, TIE_LENGTH / ratio), look.visible)) continue;
        addTo(rails, line.class, pair);
        if (!withTies) continue;
        const length = TIE_LENGTH / ratio;
        const turnout = line.kind === "turnout" ? layout.turnouts.get(line.id) : undefined;
        const host = turnout && turnout.hand !== "wye" ? layout.lines.get(turnout.host) : undefined;
        const make = (): Outline =>
          turnout && host
            ? switchTiesOf(line, host, turnout, stretch, length, spacing)
            : tiesOf(line, stretch, length, spacing);
        addTo(ties, line.class, keepChunk(store, line, `ties ${key} ${spacing} ${turnout?.departs ?? ""}`, make));
      }
    }
  }
  return { rails, ties };
}

/** Every second tie left out as often as it takes. */
function tieSpacing(ratio: number, scale: number): Millimetres {
  const spacing = TIE_SPACING / ratio;
  return spacing * 2 ** Math.max(0, Math.ceil(Math.log2(LEAST_TIE_GAP / (spacing * scale))));
}

const parts = new WeakMap<Layout | NonNullable<Look["lines"]>, Map<string, readonly Outline[]>>();

/** Turntables and bumpers: few, and made once for a layout. */
function partBatches(layout: Layout, look: Look, deck: Id, stroke: Ink): Batch[] {
  const oneLine = detailAt(look.scale) === "overview";
  const lines = look.lines ?? layout.lines;
  const of = look.lines ?? layout;
  let known = parts.get(of);
  if (!known) parts.set(of, (known = new Map()));
  const key = `${oneLine} ${deck}`;
  let shapes = known.get(key);
  if (!shapes) {
    const { gauge } = layout.plan.scale;
    const turntables = [...layout.turntables.values()].filter(
      (turntable) => turntable.deck === deck && lines.has(turntable.approach.line),
    );
    const bars = bumpersOn(layout.plan, lines, deck).flatMap((out) => bumperShape(out, gauge));
    shapes = [
      ...turntables.map((turntable) => pointsOutline([pitEdge(turntable)], true)),
      ...turntables.map((turntable) =>
        pointsOutline(bridgeAndStubs(layout, turntable, oneLine ? undefined : gauge), false),
      ),
      ...(bars.length > 0 ? [pointsOutline(bars, false)] : []),
    ];
    known.set(key, shapes);
  }
  return shapes.length > 0 ? [{ key: `${deck} parts`, shapes, stroke, weight: WEIGHT.fascia }] : [];
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
  const batches: Batch[] = [];
  for (const deck of ghosts) {
    const { open, hidden } = deckLines(store, layout, look, deck);
    const shapes = [...open.values(), hidden].flatMap((list) => seen(list, look));
    const stroke: Ink = `${deckTone(layout.plan, deck)}-edge`;
    if (shapes.length > 0) batches.push({ key: `${deck} pale`, shapes, stroke, weight: WEIGHT.ghost });
  }
  const clearing = level.flatMap((deck) => seen(deckLines(store, layout, look, deck).hidden, look));
  if (clearing.length > 0) {
    batches.push({ key: "clearing", shapes: clearing, stroke: "paper", weight: CLEARING, erases: true });
  }
  return batches;
}
