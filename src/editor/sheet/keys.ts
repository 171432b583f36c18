/**
 * Keys: what a command is, and what a key means at a moment: the tool's, a command's, or the page's own.
 *
 * Always holds: Esc always reaches the tool; while a number or a name is typed every plain key is the tool's; a key is
 * told by what it types, so that it is the same letter on every keyboard layout.
 */
import type { EditorState, EditorStore } from "../store.js";
import type { Tool } from "../tool.js";

/** What of a KeyboardEvent is looked at. */
export interface KeyPress {
  readonly key: string;
  /** Where the key lies, for layouts whose letters are no Latin ones. */
  readonly code: string;
  /** Ctrl, or Command on a Mac. */
  readonly mod: boolean;
  readonly shift: boolean;
  readonly alt: boolean;
}

export interface Command {
  readonly id: string;
  /** As menus and the list of keys name it. */
  readonly name: string;
  /** As `Mod+Shift+Z`, `PageUp`, `+`; the first is shown. */
  readonly keys: readonly string[];
  /** `arrow`: only while the arrow is in hand and the sheet has the focus, since others use the key themselves. */
  readonly scope?: "arrow";
  /** Returns false where there was nothing to do and the page may have the key. */
  run(store: EditorStore): boolean | undefined;
}

export type KeyMeaning =
  | { readonly is: "cancel" }
  | { readonly is: "command"; readonly command: Command }
  | { readonly is: "take"; readonly tool: string }
  | { readonly is: "tool" }
  | { readonly is: "page" };

/** Where the focus is: on the sheet (or nowhere), on a control of the page, or in something that is typed into. */
export type Focus = "sheet" | "control" | "field";

export interface KeyTable {
  /** The arrow first. */
  readonly tools: readonly Tool[];
  readonly commands: readonly Command[];
  readonly focus: Focus;
}

const LETTER = /^[a-z]$/;
/** Keys without a character of their own that tools are told. */
const NAMED = new Set(["Enter", "Backspace", "Delete", "Tab", "ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"]);
/** Keys that move among controls or press one: theirs while one has the focus. */
const MOVING = new Set([...NAMED, " ", "Home", "End", "PageUp", "PageDown"]);
/** From here on letters are no Latin ones. */
const BEYOND_LATIN = "\u024f";

/** The key by what it types, in lower case; on a layout without Latin letters, by where it lies. */
export function keyName({ key, code }: Pick<KeyPress, "key" | "code">): string {
  const lower = key.length === 1 ? key.toLowerCase() : key;
  const place = /^Key([A-Z])$/.exec(code)?.[1]?.toLowerCase();
  return place !== undefined && lower.length === 1 && lower > BEYOND_LATIN ? place : lower;
}

/** The press as a table writes it. Shift counts only where it does not itself make the character. */
export function pressName(press: KeyPress): string {
  const name = keyName(press);
  const shiftCounts = name.length > 1 || LETTER.test(name);
  const shown = name.length === 1 ? name.toUpperCase() : name;
  return `${press.mod ? "Mod+" : ""}${press.shift && shiftCounts ? "Shift+" : ""}${press.alt ? "Alt+" : ""}${shown}`;
}

/** The tool a bare letter takes in hand: of the stage in hand first, then those of every stage. */
function toolFor(press: KeyPress, tools: readonly Tool[], stage: EditorState["stage"]): Tool | undefined {
  if (press.mod || press.alt || press.shift) return undefined;
  const key = keyName(press);
  return (
    tools.find((tool) => tool.key === key && tool.stage === stage) ??
    tools.find((tool) => tool.key === key && tool.stage === "any")
  );
}

/** Space takes hold of the paper, but not amid what is typed: `34 1/2`, or a name. */
export const takesSpace = ({ show: { entry } }: Pick<EditorState, "show">): boolean =>
  entry !== undefined && (entry.text !== "" || entry.letters === true);

export function meaningOf(
  press: KeyPress,
  state: Pick<EditorState, "show" | "stage" | "tool">,
  { tools, commands, focus }: KeyTable,
): KeyMeaning {
  const page: KeyMeaning = { is: "page" };
  if (focus === "field") return page;
  if (press.key === "Escape") return { is: "cancel" };
  // Half a letter: an accent waits for what it stands on.
  if (press.key === "Dead" || press.key === "Unidentified") return page;
  const name = pressName(press);
  const arrow = state.tool === tools[0]?.id;
  const found = commands.find(
    ({ keys, scope }) => keys.includes(name) && (scope !== "arrow" || (arrow && focus === "sheet")),
  );
  if (press.mod) return found ? { is: "command", command: found } : page;
  if (focus === "control" && MOVING.has(press.key)) return page;
  const plain = (press.key.length === 1 && (press.key !== " " || takesSpace(state))) || NAMED.has(press.key);
  if (state.show.entry && plain) return { is: "tool" };
  const taken = toolFor(press, tools, state.stage);
  if (taken && taken.id !== state.tool) return { is: "take", tool: taken.id };
  if (found) return { is: "command", command: found };
  // With the arrow in hand Tab and Enter belong to the page, so that the sheet can be left.
  const leaves = press.key === "Tab" || (press.key === "Enter" && arrow);
  return plain && !leaves ? { is: "tool" } : page;
}

/** Does what a key means; true where the page must not have it too. */
export function pressKey(store: EditorStore, press: KeyPress, table: KeyTable): boolean {
  const state = store.getState();
  const meaning = meaningOf(press, state, table);
  if (meaning.is === "cancel") state.dispatch({ type: "cancel" });
  else if (meaning.is === "take") state.takeTool(meaning.tool);
  else if (meaning.is === "command") return meaning.command.run(store) !== false;
  else if (meaning.is === "tool") {
    // Alt makes other characters on some layouts; those are what was typed.
    state.dispatch({ type: "key", key: press.key, shift: press.shift, alt: press.alt });
  } else return false;
  return true;
}

const MAC: Readonly<Record<string, string>> = { Mod: "⌘", Shift: "⇧", Alt: "⌥" };
const SIGNS: Readonly<Record<string, string>> = {
  Mod: "Ctrl",
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  PageUp: "Page Up",
  PageDown: "Page Down",
};

/** `Ctrl+Shift+Z`, or `⌘⇧Z`. */
export function keyText(key: string, mac: boolean): string {
  const named = key.split(/\+(?!$)/).map((part) => (mac ? MAC[part] : undefined) ?? SIGNS[part] ?? part);
  return named.join(mac ? "" : "+");
}
