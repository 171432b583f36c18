/** One sheet of paper: a deck drawn under the shared window, in four layers that are only painted. */
import type Konva from "konva/lib/Core.js";
import { type ReactNode, useEffect, useId, useMemo, useRef, useState } from "react";
import { Layer, Shape, Stage } from "react-konva/lib/ReactKonvaCore.js";
import type { Look } from "../../drafting/batch.js";
import { pick } from "../../drafting/pick.js";
import type { Scenes } from "../../drafting/scene.js";
import { fit, sheetLength, toSheet, type Viewport, zoomAt } from "../../drafting/viewport.js";
import type { Candidate } from "../../exchange/compare.js";
import type { Id } from "../../plan/schema.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { ROOM_MARGIN, roomBox } from "../room-box.js";
import { isLarge } from "../large-plan.js";
import type { EditorStore } from "../store.js";
import { makeHand } from "./hand.js";
import { takesSpace } from "./keys.js";
import { FRAME } from "./paint-frame.js";
import { crossOnly } from "./other-option.js";
import { makePainter } from "./painter.js";
import { attachPointer } from "./pointer.js";
import type { PointerSpot } from "./pointer-spot.js";
import { type LayerName, LAYERS } from "./stale-layers.js";

export interface PaperProps {
  readonly deck: Id;
  readonly others: Look["others"];
  readonly scenes: Scenes;
  /** Where the pointer is, on which of a pair of sheets. */
  readonly spot: PointerSpot;
  /** The first sheet measures the window; a second is as large. */
  readonly measures: boolean;
  /** px kept at the right for the margin. */
  readonly margin: number;
  /** Shown in place of the option in hand; nothing is worked on there. */
  readonly other?: Candidate | undefined;
  readonly children?: ReactNode;
}

export function Paper({ deck, others, scenes, spot: pointer, measures, margin, other, children }: PaperProps) {
  const store = useEditorStore();
  const paper = useRef<HTMLDivElement>(null);
  const window = useRef<HTMLDivElement>(null);
  const stage = useRef<Konva.Stage>(null);
  const [size, setSize] = useState<{ readonly width: number; readonly height: number }>();
  const help = useId();
  const cursor = useEditor((state) => state.show.cursor ?? "default");
  const deckName = useEditor((state) => state.plan.decks[deck]?.name ?? "no deck");
  const looked = other !== undefined;
  const spot = useMemo(() => (looked ? crossOnly(pointer) : pointer), [looked, pointer]);
  const painter = useMemo(() => makePainter(store.getState, scenes, spot), [store, scenes, spot]);

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
    painter.show({ deck, others, size, other });
    painter.whenBetter((layer) => draw(layer));
    const themes = new MutationObserver(() => {
      painter.forgetInks();
      draw(...LAYERS);
    });
    themes.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    const endStore = store.subscribe((now, before) => draw(...painter.stale(now, before)));
    const endSpot = spot.subscribe(() => draw("over"));
    draw(...LAYERS);
    return () => {
      themes.disconnect();
      endStore();
      endSpot();
      painter.whenBetter(undefined);
    };
  }, [store, spot, painter, deck, others, size, other]);

  useEffect(() => {
    const element = window.current;
    if (!element) return;
    return handAt(element, store, looked ? undefined : spot, deck);
  }, [store, spot, deck, looked]);

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
        aria-label={other ? `Sheet, ${deckName}, ${other.name}` : `Sheet, ${deckName}`}
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

const ONLY_SHOWN = "This sheet only shows another option: put it in hand to work on it.";

/** A hand on the window of a deck's sheet; returns what takes it away. Without a spot it only pans and zooms. */
function handAt(element: HTMLElement, store: EditorStore, spot: PointerSpot | undefined, deck: Id): () => void {
  const hand = makeHand({
    viewport: () => store.getState().viewport,
    setViewport: (viewport) => store.getState().setViewport(viewport),
    tool(event) {
      if (!spot) {
        if (event.type === "down") store.getState().say(ONLY_SHOWN);
        return;
      }
      // Work on the second sheet is work on its deck.
      if (event.type === "down" && store.getState().deck !== deck) store.getState().setDeck(deck);
      store.getState().dispatch(event);
      if (!("at" in event) || event.touch) return;
      spot.set({ at: event.at, deck });
      hoverAt(store, deck, event.clicks === 0 ? event.at : undefined);
    },
    doubleTap(at) {
      const { viewport, tool, setViewport, layout } = store.getState();
      const place = { point: toSheet(viewport, at), reach: sheetLength(viewport, TAP), deck };
      if (tool === "select" && pick(layout, place).length === 0) setViewport(zoomAt(viewport, at, 2));
    },
    grabbing: (held) => void element.toggleAttribute("data-grabbing", held),
  });
  const leave = (): void => {
    spot?.set(undefined);
    hoverAt(store, deck, undefined);
  };
  const detach = attachPointer(element, hand, {
    typing: () => takesSpace(store.getState()),
    heavy: () => isLarge(store.getState().layout),
  });
  element.addEventListener("pointerleave", leave);
  return () => {
    element.removeEventListener("pointerleave", leave);
    detach();
  };
}

/** How near track is meant, px: under the pointer, and by a tap (LOOK). */
const POINT = 8;
const TAP = 22;

/** The place on track under the pointer is shown in the profile, too. */
function hoverAt(store: EditorStore, deck: Id, point: { readonly x: number; readonly y: number } | undefined): void {
  const { settled, viewport, setHover, hover } = store.getState();
  const reach = sheetLength(viewport, POINT);
  const hit = point && pick(settled, { point, reach, deck, only: ["tracks"] })[0];
  const place =
    hit?.thing.kind === "record" && hit.s !== undefined
      ? ({ line: `track:${hit.thing.id}`, s: hit.s } as const)
      : undefined;
  if (place || hover) setHover(place);
}

/** The window at a new size: a room that was fitted stays fitted, otherwise the middle stays where it is. */
function resizeWindow(store: EditorStore, size: Pick<Viewport, "width" | "height">): void {
  const { viewport, plan, setViewport } = store.getState();
  if (viewport.width === size.width && viewport.height === size.height) return;
  const whole = fit(viewport, roomBox(plan), ROOM_MARGIN);
  const wasFitted = Math.abs(whole.scale - viewport.scale) < 1e-9 && sameCentre(whole, viewport);
  const resized = { ...viewport, ...size };
  setViewport(wasFitted ? fit(resized, roomBox(plan), ROOM_MARGIN) : resized);
}

const sameCentre = (a: Viewport, b: Viewport): boolean =>
  Math.hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) < 1e-6;
