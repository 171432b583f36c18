/**
 * What can be done from anywhere in the editor: its name, its keys, and whether it can be done now. Menus, the list of
 * keys and the keyboard all read this one table. Tools are taken in hand by their own keys and stand beside it.
 */
import * as past from "../plan/history.js";
import type { FileDesk } from "./files/file-desk.js";
import type { EditorActions, EditorState, EditorStore } from "./store.js";
import { zoomAt } from "../drafting/viewport.js";
import { STAGES, type Tool } from "./tool.js";

export interface Page {
  readonly store: EditorStore;
  readonly files: FileDesk;
  openHelp(page: "keys" | "first-deck" | "cautions"): void;
  openNewPlan(): void;
}

export interface Command {
  readonly id: string;
  readonly group: "File" | "Edit" | "View" | "Help";
  readonly name: string;
  /** `Mod+Shift+Z`; Mod is Ctrl, or Cmd on a Mac. The first is shown. */
  readonly keys: readonly string[];
  do(page: Page): void;
  /** Left out: always. */
  can?(state: EditorState & EditorActions): boolean;
}

const zoom = (factor: number) => (page: Page) => {
  const { viewport, setViewport } = page.store.getState();
  setViewport(zoomAt(viewport, { x: viewport.width / 2, y: viewport.height / 2 }, factor));
};

export const COMMANDS: readonly Command[] = [
  { id: "new", group: "File", name: "New plan…", keys: [], do: (page) => page.openNewPlan() },
  { id: "open", group: "File", name: "Open…", keys: ["Mod+O"], do: (page) => void page.files.choose() },
  { id: "save", group: "File", name: "Save", keys: ["Mod+S"], do: (page) => void page.files.save() },
  {
    id: "save-copy",
    group: "File",
    name: "Save a copy…",
    keys: ["Mod+Shift+S"],
    do: (page) => void page.files.saveCopy(),
  },
  {
    id: "undo",
    group: "Edit",
    name: "Undo",
    keys: ["Mod+Z"],
    do: ({ store }) => store.getState().undo(),
    can: ({ history }) => history.preview !== undefined || history.past !== undefined,
  },
  {
    id: "redo",
    group: "Edit",
    name: "Redo",
    keys: ["Mod+Shift+Z", "Mod+Y"],
    do: ({ store }) => store.getState().redo(),
    can: ({ history }) => history.future !== undefined,
  },
  {
    id: "fit",
    group: "View",
    name: "Whole room",
    keys: ["0", "Mod+0"],
    do: ({ store }) => store.getState().zoomToFit(),
  },
  { id: "closer", group: "View", name: "Closer", keys: ["+", "Mod+=", "Mod++"], do: zoom(1.25) },
  { id: "farther", group: "View", name: "Farther", keys: ["-", "Mod+-"], do: zoom(0.8) },
  { id: "keys", group: "Help", name: "Keys", keys: ["?"], do: (page) => page.openHelp("keys") },
  {
    id: "first-deck",
    group: "Help",
    name: "Your first deck in ten minutes",
    keys: [],
    do: (page) => page.openHelp("first-deck"),
  },
  { id: "cautions", group: "Help", name: "Cautions", keys: [], do: (page) => page.openHelp("cautions") },
];

export const commandNamed = (id: string): Command => {
  const found = COMMANDS.find((command) => command.id === id);
  if (!found) throw new Error(`there is no command ${id}`);
  return found;
};

/** `Undo: lay leg`; what undo and redo would do is named. */
export function commandTitle(command: Command, state: EditorState): string {
  const step =
    command.id === "undo"
      ? (state.history.preview?.name ?? past.undoName(state.history))
      : command.id === "redo"
        ? past.redoName(state.history)
        : undefined;
  return step === undefined ? command.name : `${command.name}: ${step.charAt(0).toLowerCase()}${step.slice(1)}`;
}

export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/**
 * The key as it is written in the table. By the letter on the key, so that it holds on every layout; Shift is told only
 * with letters, since it is part of how `?` or `+` is typed.
 */
export function keyName(press: KeyPress): string {
  const letter = press.key.length === 1;
  const cased = letter ? press.key.toUpperCase() : press.key;
  const shift = press.shiftKey && (!letter || /\p{L}/u.test(press.key));
  return [press.ctrlKey || press.metaKey ? "Mod" : "", press.altKey ? "Alt" : "", shift ? "Shift" : "", cased]
    .filter((part) => part !== "")
    .join("+");
}

/** The command a key stands for, where it can be done now. */
export const commandFor = (press: KeyPress, state: EditorState & EditorActions): Command | undefined =>
  COMMANDS.find((command) => command.keys.includes(keyName(press)) && (command.can?.(state) ?? true));

/** The tool a bare letter takes in hand: of the stage in hand first, then those of every stage. */
export function toolFor(press: KeyPress, tools: readonly Tool[], state: EditorState): Tool | undefined {
  if (press.ctrlKey || press.metaKey || press.altKey || press.shiftKey || state.show.entry?.letters) return undefined;
  const key = press.key.toLowerCase();
  return [state.stage, "any"]
    .flatMap((stage) => tools.filter((tool) => tool.stage === stage))
    .find((tool) => tool.key === key);
}

/** The stage a key opens: Alt with its number. */
export const stageFor = (press: KeyPress) =>
  press.altKey && !press.ctrlKey && !press.metaKey ? STAGES[Number(press.key) - 1] : undefined;

/** A key as it is printed: `Ctrl Shift Z`, with the Mac's signs there. */
export const keyText = (key: string, mac: boolean): string =>
  key
    .split(/\+(?!$)/)
    .map((part) =>
      part === "Mod" ? (mac ? "⌘" : "Ctrl") : part === "Shift" && mac ? "⇧" : part === "Alt" && mac ? "⌥" : part,
    )
    .join(mac ? "" : " ");
