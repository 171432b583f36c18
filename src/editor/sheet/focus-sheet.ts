/** Gives the keys to the sheet of the deck in hand, as after a tool is taken with the mouse: what is typed next is for it. */
import type { Id } from "../../plan/schema.js";

export function focusSheet(deck: Id): void {
  const sheet = document.querySelector<HTMLElement>(`.paper[data-deck="${CSS.escape(deck)}"] .sheet-window`);
  if (!sheet) return;
  // Who points sees where the hand is; the ring of the focus is for who types.
  sheet.toggleAttribute("data-pointed", true);
  sheet.focus({ preventScroll: true });
}
