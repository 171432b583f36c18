/** The page's parts made once: the store with its tools, and the file desk beside it. */
import { emptyPlan } from "../plan/empty-plan.js";
import { createPageFileDesk } from "./files/use-file-desk.js";
import { READER_URL } from "virtual:reader";
import type { FileDesk } from "./files/file-desk.js";
import { readInWorker, workerAt } from "./reader/in-worker.js";
import { forgetWithPlan, sections } from "./section-store.js";
import { createEditor, type EditorStore, type Theme } from "./store.js";
import { ARROW } from "./tools/arrow.js";

export interface PageParts {
  readonly store: EditorStore;
  readonly files: FileDesk;
}

/** Shown until a plan is opened. */
const BLANK = { title: "", width: 4267.2, depth: 3352.8, scale: "HO", units: "imperial" } as const;

/** Without a worker readings wait until what was just done has been drawn. */
const later = (work: () => void): void => {
  requestAnimationFrame(() => setTimeout(work));
};

const reader = readInWorker(workerAt(READER_URL), async () => (await import("./reader/here.js")).readInSlices(later));

const preferredTheme = (): Theme => (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");

export function createPage(): PageParts {
  const store = createEditor({ plan: emptyPlan(BLANK), tools: [ARROW], reader, theme: preferredTheme() });
  forgetWithPlan(sections, store);
  // The plan is shown first; nobody has reached for a tool by then.
  void import("./tools/index.js").then(({ TOOLS }) => store.getState().setTools(TOOLS));
  return { store, files: createPageFileDesk(store) };
}
