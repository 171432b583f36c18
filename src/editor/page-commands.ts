/** What can be done with files, stages and help, by menu and by key. The commands of the sheet stand in sheet/commands.ts. */
import * as past from "../plan/history.js";
import { openClimbSheet } from "./climb-sheet-store.js";
import type { FileDesk } from "./files/file-desk.js";
import { nameVersion, openShelf, openVersions } from "./files/kept-store.js";
import type { HelpTopic } from "./help/HelpPage.js";
import { toggleSideBySide } from "./option-store.js";
import type { EditorState, EditorStore } from "./store.js";
import type { Margin } from "./use-folds.js";
import { STAGES, type Stage } from "./tool.js";

export interface Page {
  readonly store: EditorStore;
  readonly files: FileDesk;
  openHelp(topic: HelpTopic): void;
  openNewPlan(): void;
  /** Folds a margin away, or opens it again. */
  fold(margin: Margin): void;
}

export interface PageCommand {
  readonly id: string;
  readonly group: "File" | "Help" | "Stages" | "Margins";
  readonly name: string;
  /** As the sheet's table writes them; the first is shown. */
  readonly keys: readonly string[];
  run(page: Page): void;
}

const stageName = (stage: Stage): string => stage.charAt(0).toUpperCase() + stage.slice(1);

export const PAGE_COMMANDS: readonly PageCommand[] = [
  { id: "new", group: "File", name: "New plan…", keys: [], run: (page) => page.openNewPlan() },
  { id: "open", group: "File", name: "Open…", keys: ["Mod+O"], run: ({ files }) => void files.choose() },
  { id: "save", group: "File", name: "Save", keys: ["Mod+S"], run: ({ files }) => void files.save() },
  {
    id: "save-copy",
    group: "File",
    name: "Save a copy…",
    keys: ["Mod+Shift+S"],
    run: ({ files }) => void files.saveCopy(),
  },
  { id: "shelf", group: "File", name: "Plans kept here…", keys: [], run: openShelf },
  { id: "keep-version", group: "File", name: "Keep a version…", keys: [], run: nameVersion },
  { id: "versions", group: "File", name: "Versions…", keys: [], run: openVersions },
  { id: "climb-sheet", group: "File", name: "Climb sheet…", keys: [], run: openClimbSheet },
  {
    id: "first-deck",
    group: "Help",
    name: "Your first deck in ten minutes",
    keys: [],
    run: (page) => page.openHelp("first-deck"),
  },
  { id: "keys", group: "Help", name: "Keys", keys: ["?"], run: (page) => page.openHelp("keys") },
  { id: "cautions", group: "Help", name: "Cautions", keys: [], run: (page) => page.openHelp("cautions") },
  ...STAGES.map(
    (stage, i): PageCommand => ({
      id: stage,
      group: "Stages",
      name: stageName(stage),
      keys: [`Alt+${i + 1}`],
      run: ({ store }) => store.getState().openStage(stage),
    }),
  ),
  {
    id: "fold-profile",
    group: "Margins",
    name: "Profile, open or folded",
    keys: ["Alt+5"],
    run: (page) => page.fold("profile"),
  },
  {
    id: "fold-column",
    group: "Margins",
    name: "Readings and details, open or folded",
    keys: ["Alt+6"],
    run: (page) => page.fold("column"),
  },
  { id: "side-by-side", group: "Margins", name: "Options side by side", keys: ["Alt+7"], run: toggleSideBySide },
  {
    id: "next-option",
    group: "Margins",
    name: "Next option in hand",
    keys: ["Alt+8"],
    run: ({ store }) => void import("./options/option-commands.js").then(({ chooseNext }) => chooseNext(store)),
  },
];

/** `Undo: lay leg`; undefined where there is nothing to undo. */
export function stepTitle(which: "undo" | "redo", { history }: Pick<EditorState, "history">): string | undefined {
  const step = which === "undo" ? (history.preview?.name ?? past.undoName(history)) : past.redoName(history);
  const word = which === "undo" ? "Undo" : "Redo";
  return step === undefined ? undefined : `${word}: ${step.charAt(0).toLowerCase()}${step.slice(1)}`;
}
