/** From the page's pointer events to the hand: captured while it is down, given up when the browser takes it away. */
import type { ScreenPoint } from "../../drafting/viewport.js";
import type { Hand, Touch } from "./hand.js";

/**
 * Listens on an element whose top left corner is the window's; returns what ends it. While `typing`, Space is a letter.
 */
export function attachPointer(element: HTMLElement, hand: Hand, typing: () => boolean): () => void {
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
    hand.touch({
      type,
      id: event.pointerId,
      kind,
      at: place(event),
      button: event.button,
      shift: event.shiftKey,
      alt: event.altKey,
      time: event.timeStamp,
    });
  };
  const onWheel = (event: WheelEvent): void => {
    event.preventDefault();
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
    removeEventListener("keydown", onSpace);
    removeEventListener("keyup", onSpace);
    removeEventListener("blur", drop);
    drop();
  };
}
