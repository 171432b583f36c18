/**
 * From the page's pointer events to the hand: captured while it is down, given up when the browser takes it away.
 *
 * Always holds: the hand is told of events in their order; of moves that wait only the last.
 */
import type { ScreenPoint } from "../../drafting/viewport.js";
import type { Hand, Touch } from "./hand.js";

export interface PointerHabits {
  /** Space is a letter now. */
  readonly typing: () => boolean;
  /**
   * A move costs so much that it is a task of its own: told of in the frame it came with, it would be followed by that
   * frame's painting without a pause.
   */
  readonly heavy: () => boolean;
}

/** Listens on an element whose top left corner is the window's; returns what ends it. */
export function attachPointer(element: HTMLElement, hand: Hand, { typing, heavy }: PointerHabits): () => void {
  const place = (event: MouseEvent): ScreenPoint => {
    const box = element.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const tell = (type: Touch["type"]) => (event: PointerEvent) => {
    const kind = event.pointerType === "touch" ? "touch" : event.pointerType === "pen" ? "pen" : "mouse";
    if (type === "down") {
      element.setPointerCapture(event.pointerId);
      // Without this the browser scrolls by a middle click and selects text by a long press.
      event.preventDefault();
      // Who points sees where the hand is; the ring of the focus is for who types.
      element.toggleAttribute("data-pointed", true);
      element.focus({ preventScroll: true });
    }
    const touch: Touch = {
      type,
      id: event.pointerId,
      kind,
      at: place(event),
      button: event.button,
      shift: event.shiftKey,
      alt: event.altKey,
      time: event.timeStamp,
    };
    // Another pointer's move, and whatever is no move, comes after what came before it.
    if (waiting && (type !== "move" || waiting.id !== touch.id)) tellNow();
    if (type !== "move" || !heavy()) return hand.touch(touch);
    if (!waiting) timer = setTimeout(tellNow);
    waiting = touch;
  };
  let waiting: Touch | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const tellNow = (): void => {
    clearTimeout(timer);
    const touch = waiting;
    waiting = undefined;
    if (touch) hand.touch(touch);
  };
  const onWheel = (event: WheelEvent): void => {
    event.preventDefault();
    tellNow();
    hand.wheel({
      at: place(event),
      dx: event.deltaX,
      dy: event.deltaY,
      lines: event.deltaMode !== WheelEvent.DOM_DELTA_PIXEL,
      pinch: event.ctrlKey || event.metaKey,
      shift: event.shiftKey,
      time: event.timeStamp,
    });
  };
  const onSpace = (event: KeyboardEvent): void => {
    if (event.type === "keydown" && event.key === "Tab") element.removeAttribute("data-pointed");
    if (event.key !== " ") return;
    // Space on a button presses it; on the sheet it takes hold of the paper.
    if (event.type === "keydown" && (event.target !== element || typing())) return;
    if (event.type === "keydown") event.preventDefault();
    hand.holdSpace(event.type === "keydown");
    element.toggleAttribute("data-grab", event.type === "keydown");
  };
  const drop = (): void => {
    tellNow();
    hand.holdSpace(false);
    element.removeAttribute("data-grab");
    hand.drop();
  };
  const stop = (event: Event): void => event.preventDefault();
  const down = tell("down");
  const move = tell("move");
  const up = tell("up");
  const cancel = tell("cancel");
  element.addEventListener("pointerdown", down);
  element.addEventListener("pointermove", move);
  element.addEventListener("pointerup", up);
  element.addEventListener("pointercancel", cancel);
  // Lost without an up: the browser took the pointer for itself.
  element.addEventListener("lostpointercapture", cancel);
  element.addEventListener("wheel", onWheel, { passive: false });
  element.addEventListener("contextmenu", stop);
  // Before anybody hears the key.
  addEventListener("keydown", tellNow, true);
  addEventListener("keydown", onSpace);
  addEventListener("keyup", onSpace);
  addEventListener("blur", drop);
  return () => {
    element.removeEventListener("pointerdown", down);
    element.removeEventListener("pointermove", move);
    element.removeEventListener("pointerup", up);
    element.removeEventListener("pointercancel", cancel);
    element.removeEventListener("lostpointercapture", cancel);
    element.removeEventListener("wheel", onWheel);
    element.removeEventListener("contextmenu", stop);
    removeEventListener("keydown", tellNow, true);
    removeEventListener("keydown", onSpace);
    removeEventListener("keyup", onSpace);
    removeEventListener("blur", drop);
    drop();
  };
}
