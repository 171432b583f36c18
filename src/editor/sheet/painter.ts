/** Paints the layers of one sheet of paper from the state as it is when they are painted. */
import type { Context } from "konva/lib/Context.js";
import { decksInOrder, levelWith } from "../../drafting/decks.js";
import type { Look } from "../../drafting/batch.js";
import type { Parts, SomeLines } from "../../drafting/moving-lines.js";
import type { Scene, Scenes } from "../../drafting/scene.js";
import { visibleBox } from "../../drafting/viewport.js";
import type { Candidate } from "../../exchange/compare.js";
import type { Layout } from "../../layout/layout.js";
import type { Id } from "../../plan/schema.js";
import type { EditorState } from "../store.js";
import { paintUnderlay, underlayLoader } from "../panels/underlay-paint.js";
import { type Inks, readInks } from "./inks.js";
import { type LabelLook, makeLabelKeeper } from "./label-keeper.js";
import { asSeenIn } from "./other-option.js";
import { FRAME, paintFrame } from "./paint-frame.js";
import { breakUnder, paintLabels, paintMarks } from "./paint-marks.js";
import { paintCross, paintOverlay } from "./paint-overlay.js";
import { type Canvas, paintBatches, toWindow } from "./paint-scene.js";
import type { PointerSpot } from "./pointer-spot.js";
import { type LayerName, makeStaleness } from "./stale-layers.js";

/** What one sheet shows. */
export interface View {
  readonly deck: Id;
  readonly others: Look["others"];
  readonly size: { readonly width: number; readonly height: number } | undefined;
  /** Shown in place of the option in hand. */
  readonly other?: Candidate | undefined;
}

export interface Painter {
  show(view: View): void;
  paint(name: LayerName, context: Context): void;
  /** Layers that show something else now. */
  stale(now: EditorState, before: EditorState): LayerName[];
  /** The theme is another: its inks are read when next painted. */
  forgetInks(): void;
  /** Called when a layer can be painted better than it was; undefined ends the placing of labels. */
  whenBetter(again: ((layer: LayerName) => void) | undefined): void;
}

export function makePainter(state: () => EditorState, scenes: Scenes, spot: PointerSpot): Painter {
  const keeper = makeLabelKeeper();
  let view: View = { deck: "", others: "alone", size: undefined };
  let inks: Inks | undefined;
  let better: ((layer: LayerName) => void) | undefined;
  const picture = underlayLoader(() => better?.("ground"));
  const staleness = makeStaleness();
  const last: Partial<Record<keyof Parts, { readonly key: readonly unknown[]; readonly scene: Scene }>> = {};

  /** What lies still: all there is, but for the lines that move with what is in the hand. */
  const sceneNow = (state: EditorState): Scene => {
    const parts = staleness.partsOf(state);
    return parts
      ? sceneOf("still", state, state.settled, parts.still)
      : sceneOf("still", state, state.layout, undefined);
  };
  const movingScene = (state: EditorState): Scene | undefined => {
    const parts = staleness.partsOf(state);
    return parts && sceneOf("moving", state, state.layout, parts.moving);
  };
  const sceneOf = (
    part: keyof Parts,
    { viewport, units }: EditorState,
    layout: Layout,
    lines: SomeLines | undefined,
  ): Scene => {
    const { deck, others } = view;
    const key = [layout, lines, viewport, units, deck, others];
    const before = last[part];
    if (before && key.every((value, i) => value === before.key[i])) return before.scene;
    const look = { deck, others, scale: viewport.scale, visible: visibleBox(viewport), units };
    const scene = scenes.sceneOf(layout, lines ? { ...look, lines } : look);
    last[part] = { key, scene };
    return scene;
  };

  /** Benches may be in the hand, too: the ground is that of the layout shown. */
  const groundNow = (now: EditorState): Scene["ground"] => (movingScene(now) ?? sceneNow(now)).ground;

  const labelLook = ({ plan, readings, units }: EditorState): LabelLook => {
    const inHand = levelWith(plan, view.deck);
    const pale = view.others === "through" ? decksInOrder(plan).filter((id) => !inHand.includes(id)) : [];
    return { inHand, pale, readings, units };
  };

  /** The picture lies on floor and benches, which would hide it, and under all track. */
  const paintPicture = (canvas: Canvas, { underlay, viewport }: EditorState): void => {
    const image = picture(underlay?.url);
    if (!underlay) return;
    canvas.save();
    toWindow(canvas, viewport);
    paintUnderlay(canvas, image, underlay.placement);
    canvas.restore();
  };

  const labelsNow = (now: EditorState) =>
    keeper.labels(now.layout, now.viewport, labelLook(now), () => {
      better?.("ghosts");
      better?.("track");
    });

  /** The other decks; their lines break under what is lettered over them. */
  const paintGhosts = (canvas: Canvas, now: EditorState, theme: Inks): void => {
    const { ghosts } = sceneNow(now);
    paintBatches(canvas, ghosts, now.viewport, theme);
    if (ghosts.length === 0) return;
    const { labels, scale } = labelsNow(now);
    breakUnder(canvas, labels, scale, now.viewport, theme);
  };

  const paintTrack = (canvas: Canvas, now: EditorState, theme: Inks): void => {
    const { track, marks } = sceneNow(now);
    paintBatches(canvas, track, now.viewport, theme);
    paintMarks(canvas, marks, now.viewport, theme, now.plan.scale.gauge);
    const { labels, scale } = labelsNow(now);
    paintLabels(canvas, labels, scale, now.viewport, theme);
  };

  /** What moves, over all that lies still. */
  const paintMoving = (canvas: Canvas, now: EditorState, theme: Inks): void => {
    const scene = movingScene(now);
    if (!scene) return;
    // Clearings are for what lies on the layer of ghosts.
    const pale = scene.ghostTrack.filter(({ erases }) => !erases);
    paintBatches(canvas, pale, now.viewport, theme);
    paintBatches(canvas, scene.track, now.viewport, theme);
    paintMarks(canvas, scene.marks, now.viewport, theme, now.plan.scale.gauge);
  };

  const paintOver = (canvas: Canvas, now: EditorState, theme: Inks): void => {
    paintMoving(canvas, now, theme);
    const level = levelWith(now.plan, view.deck);
    paintOverlay(canvas, now, (deck) => level.includes(deck) || view.others === "through", theme);
    const pointed = spot.get();
    if (pointed && pointed.deck !== view.deck) paintCross(canvas, pointed.at, now.viewport, theme);
  };

  return {
    show(next) {
      view = next;
    },
    forgetInks() {
      inks = undefined;
    },
    stale: (now, before) => staleness.between(asSeenIn(now, view.other), asSeenIn(before, view.other)),
    whenBetter(again) {
      better = again;
      if (!again) keeper.drop();
    },
    paint(name, context) {
      if (!view.size) return;
      const now = asSeenIn(state(), view.other);
      const canvas: Canvas = context._context;
      inks ??= readInks(document.documentElement);
      const { viewport } = now;
      if (name === "ground") paintFrame(canvas, view.size, viewport, now.units, inks);
      canvas.save();
      canvas.beginPath();
      canvas.rect(FRAME, FRAME, viewport.width, viewport.height);
      canvas.clip();
      canvas.translate(FRAME, FRAME);
      if (name === "ground") {
        paintBatches(canvas, groundNow(now), viewport, inks);
        paintPicture(canvas, now);
      }
      if (name === "ghosts") paintGhosts(canvas, now, inks);
      if (name === "track") paintTrack(canvas, now, inks);
      if (name === "over") paintOver(canvas, now, inks);
      canvas.restore();
    },
  };
}
