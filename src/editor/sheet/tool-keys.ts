/**
 * Keys that are the tool's: what is left when commands, stages and tools have taken theirs.
 *
 * Always holds: Esc reaches the tool wherever the focus is; keys that move among controls or press one are the tool's
 * only on the sheet; while a number or a name is typed every character is the tool's.
 */
import { commandFor, type KeyPress, stageFor, toolFor } from "../commands.js";
import type { EditorStore } from "../store.js";
import type { Tool } from "../tool.js";
import { stepObject } from "./next-object.js";

/** Where the focus is: on the sheet (or nowhere), on a control of the page, or in something that is typed into. */
export type Focus = "sheet" | "control" | "field";

/** Keys without a character of their own that tools are told. */
const NAMED = new Set(["Enter", "Backspace", "Delete", "Tab", "ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"]);
/** Keys that move among controls or press one. */
const MOVING = new Set(["Tab", "Enter", " ", "ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"]);

/** Gives the tool its key; true where the page must not have it too. */
export function pressToolKey(store: EditorStore, press: KeyPress, focus: Focus, tools: readonly Tool[]): boolean {
  const state = store.getState();
  const { key } = press;
  if (focus === "field") return false;
  if (key === "Escape") {
    state.dispatch({ type: "cancel" });
    return true;
  }
  if (press.ctrlKey || press.metaKey || (key.length !== 1 && !NAMED.has(key))) return false;
  if (focus === "control" && MOVING.has(key)) return false;
  const typing = state.show.entry !== undefined;
  const bare = typing && key.length === 1;
  if (!bare && (commandFor(press, state) || stageFor(press) || toolFor(press, tools, state))) return false;
  // Where there is nothing to type Tab goes from object to object, or leaves the sheet as it leaves any control.
  if (key === "Tab" && !typing) {
    return state.tool === tools[0]?.id && stepObject(store, press.shiftKey ? -1 : 1);
  }
  // Space takes hold of the paper.
  if (key === " " && !typing) return false;
  state.dispatch({ type: "key", key, shift: press.shiftKey, alt: press.altKey });
  return true;
}
