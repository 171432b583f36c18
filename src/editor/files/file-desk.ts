/**
 * All that is done with files: new, open, save, what was left behind, and what is told of it. Without page: the disk,
 * the browser's storage and the clock are given to it.
 *
 * Always holds: a file is only written by `save` and `saveCopy`; one that changed since it was opened is not written
 * over without being asked; nothing unsaved is lost by opening something else.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import { type EmptyPlanWishes, emptyPlan } from "../../plan/empty-plan.js";
import type { Problem } from "../../plan/problem.js";
import { readPlan } from "../../plan/read.js";
import type { Plan } from "../../plan/schema.js";
import { writePlan } from "../../plan/write.js";
import type { EditorStore } from "../store.js";
import type { Disk, PickedFile, SaveTarget } from "./disk.js";
import { createKeeper, type KeptPlan, type Keeper, leftBehind, type Shelf } from "./recovery.js";

export interface FileReport {
  readonly file: string;
  readonly problems: readonly Problem[];
  /** Whether what is whole of it was opened. */
  readonly opened: boolean;
}

export interface LeftPlan {
  readonly title: string;
  readonly plan: Plan;
  readonly fileName: string;
  readonly document: OpenDocument;
}

interface OpenDocument {
  readonly id: string;
  readonly target?: SaveTarget;
  /** When the file was last changed, as far as is known here. */
  readonly modified?: number;
  /** A newer version of the planner wrote the file: it is not written over. */
  readonly readOnly?: boolean;
}

export interface FileDeskState {
  readonly document: OpenDocument;
  readonly report: FileReport | undefined;
  /** Unsaved work of documents no tab has open. */
  readonly offers: readonly KeptPlan[];
  /** What was open before, with changes that are in no file. */
  readonly left: LeftPlan | undefined;
  /** Why unsaved work is not kept. */
  readonly trouble: string | undefined;
  /** The file was changed by something else since it was opened. */
  readonly changedOnDisk: boolean;
}

export interface FileDesk {
  readonly state: StoreApi<FileDeskState>;
  newPlan(wishes: EmptyPlanWishes): void;
  openText(text: string, file: string, from?: { readonly target?: SaveTarget; readonly modified?: number }): boolean;
  openFile(file: PickedFile): Promise<void>;
  /** Lets a file be chosen. */
  choose(): Promise<void>;
  save(anyway?: boolean): Promise<boolean>;
  saveCopy(): Promise<boolean>;
  /** Goes on with what was left behind, or with what was open before. */
  continueWith(kept: KeptPlan): void;
  forget(kept: KeptPlan): void;
  goBack(): void;
  dismiss(what: "report" | "left" | "offers" | "trouble" | "changedOnDisk"): void;
  /** Looks for what was left behind. */
  lookBehind(): Promise<void>;
  hurry(): Promise<void>;
  stop(): void;
}

export interface FileDeskOptions {
  readonly store: EditorStore;
  readonly disk: Disk;
  readonly shelf: Shelf;
  readonly tab: string;
  readonly freshId: () => string;
  readonly now: () => number;
  readonly wait: (ms: number, then: () => void) => () => void;
  readonly openDocuments: () => Promise<ReadonlySet<string>>;
  /** Told which document is open, to hold it against other tabs. */
  readonly hold: (id: string) => void;
}

/** Larger files are no plans; the core's own bound is in characters. */
const MOST_BYTES = 50_000_000;

export const isUnsaved = (state: { readonly history: { readonly plan: Plan }; readonly saved: Plan | undefined }) =>
  state.history.plan !== state.saved;

/** `Larkmoor & Summit` is saved as `larkmoor-summit.plan.json`. */
export function fileNameFor(title: string): string {
  const stem = title
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "")
    .slice(0, 60);
  return `${stem || "plan"}.plan.json`;
}

export function createFileDesk(options: FileDeskOptions): FileDesk {
  const { store, disk, shelf } = options;
  const state = createStore<FileDeskState>()(() => ({
    document: { id: options.freshId() },
    report: undefined,
    offers: [],
    left: undefined,
    trouble: undefined,
    changedOnDisk: false,
  }));
  const set = (part: Partial<FileDeskState>): void => state.setState(part);
  const say = (text: string): void => store.getState().say(text);
  const keeper: Keeper = createKeeper({
    ...options,
    onTrouble: (trouble) => set({ trouble }),
    onParted(id) {
      set({ document: { ...state.getState().document, id } });
      options.hold(id);
      say("This plan is being changed in another tab too; the work of this tab is kept on its own.");
    },
  });
  keeper.begin(state.getState().document.id);
  options.hold(state.getState().document.id);

  /** Puts another plan in place of the open one; what was unsaved of that stays within reach. */
  const replace = (plan: Plan, fileName: string, saved: boolean, document: OpenDocument, keptBy?: string): void => {
    const before = store.getState();
    const left: LeftPlan | undefined = isUnsaved(before)
      ? {
          title: before.history.plan.title,
          plan: before.history.plan,
          fileName: before.fileName,
          document: state.getState().document,
        }
      : undefined;
    keeper.begin(document.id, keptBy);
    options.hold(document.id);
    before.open(plan, fileName, saved);
    set({ document, left, changedOnDisk: false });
  };

  const desk: FileDesk = {
    state,
    newPlan(wishes) {
      const plan = emptyPlan(wishes);
      replace(plan, "", true, { id: options.freshId() });
      set({ report: undefined });
      store.getState().openStage("survey");
    },
    openText(text, file, from = {}) {
      const result = readPlan(text, file);
      const { problems, readOnly } = result.report;
      const report = problems.length > 0 ? { file, problems, opened: result.ok } : undefined;
      set({ report });
      if (!result.ok) return false;
      const whole = !problems.some(({ severity }) => severity === "error");
      const document = { id: options.freshId(), ...(readOnly ? { readOnly } : from) };
      replace(result.plan, file, whole, document);
      return true;
    },
    async openFile(file) {
      if (file.size > MOST_BYTES) {
        const message = "it is far larger than any plan";
        set({ report: { file: file.name, opened: false, problems: [problem(file.name, message)] } });
        return;
      }
      try {
        const text = await file.text();
        desk.openText(text, file.name, { ...(file.target && { target: file.target }), modified: file.modified });
      } catch (error) {
        const message = `it cannot be read: ${error instanceof Error ? error.message : "the browser does not say why"}`;
        set({ report: { file: file.name, opened: false, problems: [problem(file.name, message)] } });
      }
    },
    async choose() {
      const file = await disk.pick();
      if (file) await desk.openFile(file);
    },
    async save(anyway = false) {
      const { document } = state.getState();
      const { target } = document;
      if (!target || document.readOnly) return desk.saveCopy();
      const { plan } = store.getState().history;
      try {
        const known = document.modified;
        if (!anyway && known !== undefined && (await target.modified()) > known) {
          set({ changedOnDisk: true });
          return false;
        }
        const modified = await target.write(writePlan(plan));
        set({ document: { ...state.getState().document, modified }, changedOnDisk: false });
        store.getState().markSaved(target.name, plan);
        say(`Saved to ${target.name}.`);
        return true;
      } catch (error) {
        say(
          `Not saved: ${error instanceof Error ? error.message : "the browser does not say why"}. Save a copy instead.`,
        );
        return false;
      }
    },
    async saveCopy() {
      const { history, fileName } = store.getState();
      const { plan } = history;
      try {
        const written = await disk.saveAs(fileName || fileNameFor(plan.title), writePlan(plan));
        if (!written) return false;
        const { id } = state.getState().document;
        const { target, modified } = written;
        set({
          document: { id, ...(target && { target }), ...(modified !== undefined && { modified }) },
          changedOnDisk: false,
        });
        store.getState().markSaved(written.name, plan);
        say(target ? `Saved to ${written.name}.` : `Downloaded as ${written.name}.`);
        return true;
      } catch (error) {
        say(`Not saved: ${error instanceof Error ? error.message : "the browser does not say why"}.`);
        return false;
      }
    },
    continueWith(kept) {
      // Read like a file: what a browser stored years ago, or for another version, is not trusted either.
      const result = readPlan(JSON.stringify(kept.plan), kept.fileName || kept.title);
      if (!result.ok) {
        set({ report: { file: kept.title, problems: result.report.problems, opened: false } });
        return;
      }
      replace(result.plan, kept.fileName, false, { id: kept.id }, kept.tab);
      set({ offers: [] });
    },
    forget(kept) {
      void shelf.remove(kept.id).catch(() => undefined);
      set({ offers: state.getState().offers.filter(({ id }) => id !== kept.id) });
    },
    goBack() {
      const { left } = state.getState();
      if (!left) return;
      replace(left.plan, left.fileName, false, left.document, options.tab);
    },
    dismiss(what) {
      set(
        what === "offers"
          ? { offers: [] }
          : what === "changedOnDisk"
            ? { changedOnDisk: false }
            : { [what]: undefined },
      );
    },
    async lookBehind() {
      try {
        set({ offers: await leftBehind(shelf, await options.openDocuments()) });
      } catch {
        // Storage that cannot be read offers nothing; the first edit tells that it keeps nothing either.
      }
    },
    hurry: () => keeper.hurry(),
    stop: () => keeper.stop(),
  };
  return desk;
}

const problem = (file: string, message: string): Problem => ({
  file,
  record: "",
  property: "",
  severity: "error",
  message,
});
