/** One sheet of paper: a deck drawn under the shared window, in four layers that are only painted. */
import type Konva from "konva/lib/Core.js";
import type { Context } from "konva/lib/Context.js";
import { type ReactNode, useEffect, useId, useRef, useState } from "react";
import { Layer, Shape, Stage } from "react-konva/lib/ReactKonvaCore.js";
import { decksInOrder, levelWith } from "../../drafting/decks.js";
import { pick } from "../../drafting/pick.js";
import type { Scene, Scenes } from "../../drafting/scene.js";
import { fit, sheetLength, toSheet, type Viewport, visibleBox, zoomAt } from "../../drafting/viewport.js";
import type { Id, Plan } from "../../plan/schema.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { ROOM_MARGIN, roomBox } from "../room-box.js";
import type { EditorState } from "../store.js";
import { makeHand } from "./hand.js";
import { type Inks, readInks } from "./inks.js";
import { type LabelLook, makeLabelKeeper } from "./label-keeper.js";
import { FRAME, paintFrame } from "./paint-frame.js";
import { paintLabels, paintMarks } from "./paint-marks.js";
import { paintCross, paintOverlay } from "./paint-overlay.js";
import { type Canvas, paintBatches } from "./paint-scene.js";
import { attachPointer } from "./pointer.js";
import type { PointerSpot } from "./pointer-spot.js";

export interface PaperProps {
  readonly deck: Id;
  readonly others: "alone" | "through" | "outline";
  readonly scenes: Scenes;
  /** Where the pointer is, on which of a pair of sheets. */
  readonly spot: PointerSpot;
  /** The first sheet measures the window; a second is as large. */
  readonly measures: boolean;
  /** px kept at the right for the margin. */
  readonly margin: number;
  readonly children?: ReactNode;
}

const LAYERS = ["ground", "ghosts", "track", "over"] as const;
type LayerName = (typeof LAYERS)[number];

export function Paper({ deck, others, scenes, spot, measures, margin, children }: PaperProps) {
  const store = useEditorStore();
  const paper = useRef<HTMLDivElement>(null);
  const window = useRef<HTMLDivElement>(null);
  const stage = useRef<Konva.Stage>(null);
  const [size, setSize] = useState<{ readonly width: number; readonly height: number }>();
  const help = useId();
  const cursor = useEditor((state) => state.show.cursor ?? "default");
  const deckName = useEditor((state) => state.plan.decks[deck]?.name ?? "no deck");
  // What the painter looks at; it is called long after this was rendered.
  const view = useRef({ deck, others, size });
  view.current = { deck, others, size };
  const [painter] = useState(() => makePainter(store.getState, view, scenes, spot));

  useEffect(() => {
    const box = paper.current;
    if (!box) return;
    const watcher = new ResizeObserver(() => {
      const { width, height } = box.getBoundingClientRect();
      setSize({ width: Math.floor(width), height: Math.floor(height) });
    });
    watcher.observe(box);
    return () => watcher.disconnect();
  }, []);

  useEffect(() => {
    if (!size || !measures) return;
    const width = Math.max(1, size.width - 2 * FRAME - margin);
    resizeWindow(store, { width, height: Math.max(1, size.height - 2 * FRAME) });
  }, [store, size, measures, margin]);

  useEffect(() => {
    const draw = (...names: readonly LayerName[]): void => {
      for (const [i, layer] of (stage.current?.getLayers() ?? []).entries()) {
        const name = LAYERS[i];
        if (name && names.includes(name)) layer.batchDraw();
      }
    };
    painter.again = () => draw("track");
    const inkAgain = (): void => {
      painter.inks = undefined;
      draw(...LAYERS);
    };
    const themes = new MutationObserver(inkAgain);
    themes.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    const endStore = store.subscribe((now, before) => draw(...changed(now, before)));
    const endSpot = spot.subscribe(() => draw("over"));
    draw(...LAYERS);
    return () => {
      themes.disconnect();
      endStore();
      endSpot();
      painter.drop();
    };
  }, [store, spot, painter, size]);

  useEffect(() => {
    for (const layer of stage.current?.getLayers() ?? []) layer.batchDraw();
  }, [deck, others]);

  useEffect(() => {
    const element = window.current;
    if (!element) return;
    const hand = makeHand({
      viewport: () => store.getState().viewport,
      setViewport: (viewport) => store.getState().setViewport(viewport),
      tool(event) {
        // Work on the second sheet is work on its deck.
        if (event.type === "down" && store.getState().deck !== view.current.deck) {
          store.getState().setDeck(view.current.deck);
        }
        store.getState().dispatch(event);
        if ("at" in event && !event.touch) point(event.at, event.clicks === 0);
      },
      doubleTap(at) {
        const { viewport, tool, setViewport, layout } = store.getState();
        const place = { point: toSheet(viewport, at), reach: sheetLength(viewport, 22), deck: view.current.deck };
        if (tool === "select" && pick(layout, place).length === 0) setViewport(zoomAt(viewport, at, 2));
      },
      grabbing: (held) => element.toggleAttribute("data-grabbing", held),
    });
    const point = (at: { readonly x: number; readonly y: number }, idle: boolean): void => {
      spot.set({ at, deck: view.current.deck });
      const { settled, viewport, setHover, hover } = store.getState();
      const reach = sheetLength(viewport, 8);
      const hit = idle ? pick(settled, { point: at, reach, deck: view.current.deck, only: ["tracks"] })[0] : undefined;
      const place =
        hit?.thing.kind === "record" && hit.s !== undefined
          ? ({ line: `track:${hit.thing.id}`, s: hit.s } as const)
          : undefined;
      if (place || hover) setHover(place);
    };
    const leave = (): void => {
      spot.set(undefined);
      if (store.getState().hover) store.getState().setHover(undefined);
    };
    const detach = attachPointer(element, hand);
    element.addEventListener("pointerleave", leave);
    return () => {
      element.removeEventListener("pointerleave", leave);
      detach();
    };
  }, [store, spot]);

  return (
    <div className="paper" ref={paper} data-deck={deck}>
      {size && (
        <Stage ref={stage} width={size.width} height={size.height} listening={false}>
          {LAYERS.map((name) => (
            <Layer key={name} listening={false}>
              <Shape
                listening={false}
                perfectDrawEnabled={false}
                sceneFunc={(context) => painter.paint(name, context)}
              />
            </Layer>
          ))}
        </Stage>
      )}
      <div
        className="sheet-window"
        ref={window}
        // The sheet takes keys itself, as a drawing board does.
        role="application"
        aria-label={`Sheet, ${deckName}`}
        aria-describedby={help}
        // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
        tabIndex={0}
        data-cursor={cursor}
        style={{ inset: FRAME, right: FRAME + margin }}
      />
      <p id={help} className="unseen">
        The drawing of the plan. Every object stands in the list of objects, too. With something selected, Tab goes to
        the next object; Escape lets go, and Tab then leaves the sheet.
      </p>
      {children}
    </div>
  );
}

/** The window at a new size: a room that was fitted stays fitted, otherwise the middle stays where it is. */
function resizeWindow(store: ReturnType<typeof useEditorStore>, size: Pick<Viewport, "width" | "height">): void {
  const { viewport, plan, setViewport } = store.getState();
  if (viewport.width === size.width && viewport.height === size.height) return;
  const whole = fit(viewport, roomBox(plan), ROOM_MARGIN);
  const wasFitted = Math.abs(whole.scale - viewport.scale) < 1e-9 && sameCentre(whole, viewport);
  const resized = { ...viewport, ...size };
  setViewport(wasFitted ? fit(resized, roomBox(plan), ROOM_MARGIN) : resized);
}

const sameCentre = (a: Viewport, b: Viewport): boolean =>
  Math.hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) < 1e-6;

function changed(now: EditorState, before: EditorState): LayerName[] {
  if (now.viewport !== before.viewport || now.layout !== before.layout || now.units !== before.units)
    return [...LAYERS];
  const names: LayerName[] = [];
  if (now.readings !== before.readings) names.push("track");
  if (now.selection !== before.selection || now.show !== before.show || now.hover !== before.hover) names.push("over");
  return names;
}

interface View {
  readonly deck: Id;
  readonly others: PaperProps["others"];
  readonly size: { readonly width: number; readonly height: number } | undefined;
}

/** Paints the layers of one sheet from the state as it is when they are painted. */
function makePainter(state: () => EditorState, view: { readonly current: View }, scenes: Scenes, spot: PointerSpot) {
  const keeper = makeLabelKeeper();
  let last: { readonly key: readonly unknown[]; readonly scene: Scene } | undefined;
  let look: LabelLook | undefined;

  const sceneNow = ({ layout, viewport, units }: EditorState): Scene => {
    const { deck, others } = view.current;
    const key = [layout, viewport, units, deck, others];
    if (last && key.every((part, i) => part === last?.key[i])) return last.scene;
    const scene = scenes.sceneOf(layout, { deck, others, scale: viewport.scale, visible: visibleBox(viewport), units });
    last = { key, scene };
    return scene;
  };

  const lookNow = ({ plan, readings, units }: EditorState): LabelLook => {
    const { deck, others } = view.current;
    const inHand = levelWith(plan, deck);
    const pale = others === "through" ? decksInOrder(plan).filter((id) => !inHand.includes(id)) : [];
    const next: LabelLook = { inHand, pale, readings, units };
    look = next;
    return look;
  };

  const painter = {
    inks: undefined as Inks | undefined,
    again: (): void => {},
    drop: (): void => keeper.drop(),
    paint(name: LayerName, context: Context): void {
      const { size } = view.current;
      const now = state();
      const canvas: Canvas = context._context;
      if (!size) return;
      painter.inks ??= readInks(document.documentElement);
      const { inks } = painter;
      const { viewport } = now;
      if (name === "ground") paintFrame(canvas, size, viewport, now.units, inks);
      canvas.save();
      canvas.beginPath();
      canvas.rect(FRAME, FRAME, viewport.width, viewport.height);
      canvas.clip();
      canvas.translate(FRAME, FRAME);
      if (name === "ground") paintBatches(canvas, sceneNow(now).ground, viewport, inks);
      if (name === "ghosts") paintBatches(canvas, sceneNow(now).ghosts, viewport, inks);
      if (name === "track") {
        const scene = sceneNow(now);
        paintBatches(canvas, scene.track, viewport, inks);
        paintMarks(canvas, scene.marks, viewport, inks, now.plan.scale.gauge);
        const { labels, scale } = keeper.labels(now.layout, viewport, lookNow(now), () => painter.again());
        paintLabels(canvas, labels, scale, viewport, inks);
      }
      if (name === "over") {
        const level = levelWith(now.plan, view.current.deck);
        paintOverlay(canvas, now, (deck) => level.includes(deck) || view.current.others === "through", inks);
        const pointed = spot.get();
        if (pointed && pointed.deck !== view.current.deck) paintCross(canvas, pointed.at, viewport, inks);
      }
      canvas.restore();
    },
  };
  return painter;
}

export type SheetUnits = Plan["units"];
