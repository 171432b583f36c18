/** The page's parts made once: the store with its tools, and the file desk beside it. */
import { emptyPlan } from "../plan/empty-plan.js";
import { createPageFileDesk } from "./files/use-file-desk.js";
import type { FileDesk } from "./files/file-desk.js";
import { createEditor, type EditorStore, type Theme } from "./store.js";
import { TOOLS } from "./tools/index.js";

export interface PageParts {
  readonly store: EditorStore;
  readonly files: FileDesk;
}

/** Shown until a plan is opened. */
const BLANK = { title: "", width: 4267.2, depth: 3352.8, scale: "HO", units: "imperial" } as const;

/** Readings wait until what was just done has been drawn. */
const later = (work: () => void): void => {
  requestAnimationFrame(() => setTimeout(work));
};

const preferredTheme = (): Theme => (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");

export function createPage(): PageParts {
  const store = createEditor({ plan: emptyPlan(BLANK), tools: TOOLS, later, theme: preferredTheme() });
  return { store, files: createPageFileDesk(store) };
}
