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
import { readPlan, type ReadResult } from "../../plan/read.js";
import type { Plan } from "../../plan/schema.js";
import { writePlan } from "../../plan/write.js";
import type { Disk, PickedFile, SaveTarget } from "./disk.js";
import type { Holder } from "./holder.js";
import { type Begun, createKeeper, type Keeper, type KeeperOptions } from "./keeper.js";
import { createKeptDesk, type KeptDesk, type Reading } from "./kept-desk.js";
import { makeReady, printOf } from "./plan-text.js";
import type { ShelfEntry, VersionEntry } from "./shelf.js";

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

export interface OpenDocument {
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
  readonly offers: readonly ShelfEntry[];
  /** Why the plan is only to read here: another tab has it. */
  readonly reading: Reading | undefined;
  /** The version that is shown in place of the present. */
  readonly viewing: VersionEntry | undefined;
  /** Whether the browser promised to throw nothing away; undefined before it was asked. */
  readonly persisted: boolean | undefined;
  /** What was open before, with changes that are in no file. */
  readonly left: LeftPlan | undefined;
  /** Why unsaved work is not kept. */
  readonly trouble: string | undefined;
  /** The file was changed by something else since it was opened. */
  readonly changedOnDisk: boolean;
}

export interface FileDesk extends KeptDesk {
  readonly state: StoreApi<FileDeskState>;
  newPlan(wishes: EmptyPlanWishes): void;
  openText(text: string, file: string, from?: OpenedFrom): boolean;
  /** Opens what was read; what could not be is told, as of the file or whatever else it is called. */
  openRead(result: ReadResult, called: string, from?: OpenedFrom): boolean;
  openFile(file: PickedFile): Promise<void>;
  /** Lets a file be chosen. */
  choose(): Promise<void>;
  save(anyway?: boolean): Promise<boolean>;
  saveCopy(): Promise<boolean>;
  goBack(): void;
  dismiss(what: "report" | "left" | "offers" | "trouble" | "changedOnDisk"): void;
  hurry(): Promise<void>;
  stop(): void;
}

export interface OpenedFrom {
  /** It is in no file: a new plan of no file's name, that asks to be saved. */
  readonly unsaved?: boolean;
  readonly target?: SaveTarget;
  readonly modified?: number;
  /** What is known of it on the shelf. */
  readonly begun?: Begun;
}

export interface FileDeskOptions
  extends Pick<KeeperOptions, "store" | "shelf" | "tab" | "now" | "wait" | "pack" | "picture"> {
  readonly disk: Disk;
  readonly freshId: () => string;
  readonly holder: Holder;
  readonly unpack: (packed: string | Uint8Array) => Promise<string>;
  /** Asks the browser to throw nothing away; whether it promises. */
  readonly persist: () => Promise<boolean>;
}

/** What the parts of the desk share. */
export interface DeskInner {
  readonly options: FileDeskOptions;
  readonly state: StoreApi<FileDeskState>;
  readonly keeper: Keeper;
  readonly set: (part: Partial<FileDeskState>) => void;
  readonly say: (text: string) => void;
  /** Puts another plan in place of the open one; what was unsaved of that stays within reach. */
  readonly replace: (plan: Plan, fileName: string, saved: boolean, document: OpenDocument, begun: Begun) => void;
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
  const { store, disk, holder } = options;
  const first = options.freshId();
  const state = createStore<FileDeskState>()(() => ({
    document: { id: first },
    report: undefined,
    offers: [],
    left: undefined,
    trouble: undefined,
    changedOnDisk: false,
    reading: undefined,
    viewing: undefined,
    persisted: undefined,
  }));
  const set = (part: Partial<FileDeskState>): void => state.setState(part);
  const say = (text: string): void => store.getState().say(text);
  const keeper = createKeeper(
    { ...options, onTrouble: (trouble) => set({ trouble }), onLost: (id) => kept.lost(id) },
    { id: first },
  );
  void holder.tryHold(first);

  const replace: DeskInner["replace"] = (plan, fileName, saved, document, begun) => {
    const before = store.getState();
    const { document: last, reading } = state.getState();
    const left: LeftPlan | undefined =
      isUnsaved(before) && reading === undefined
        ? { title: before.history.plan.title, plan: before.history.plan, fileName: before.fileName, document: last }
        : undefined;
    keeper.begin(begun);
    void keeper.hurry().finally(() => {
      // Others may have it once all of it is kept.
      if (state.getState().document.id !== last.id) holder.letGo(last.id);
    });
    before.open(plan, fileName, saved);
    set({ document, left, changedOnDisk: false, viewing: undefined, reading: undefined });
    makeReady(plan, (work) => options.wait(0, work));
  };
  const kept = createKeptDesk({ options, state, keeper, set, say, replace });
  const fresh = (): string => {
    const id = options.freshId();
    void holder.tryHold(id);
    return id;
  };
  const saved = (name: string, plan: Plan, text: string): void => {
    keeper.setPrint(printOf(text));
    store.getState().markSaved(name, plan);
    void kept.keepSaved(name);
  };

  const desk: FileDesk = {
    ...kept.desk,
    state,
    newPlan(wishes) {
      const id = fresh();
      replace(emptyPlan(wishes), "", true, { id }, { id });
      set({ report: undefined });
      store.getState().openStage("survey");
    },
    openText: (text, file, from) => desk.openRead(readPlan(text, file), file, from),
    openRead(result, file, from = {}) {
      const { problems, readOnly } = result.report;
      const report = problems.length > 0 ? { file, problems, opened: result.ok } : undefined;
      set({ report });
      if (!result.ok) return false;
      const whole = !problems.some(({ severity }) => severity === "error");
      const { begun = { id: fresh() }, unsaved = false, ...place } = from;
      replace(
        result.plan,
        unsaved ? "" : file,
        whole && !unsaved,
        { id: begun.id, ...(readOnly ? { readOnly } : place) },
        begun,
      );
      if (begun.reading) kept.read("elsewhere");
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
        const { target, modified } = file;
        const begun = await kept.known(text);
        desk.openText(text, file.name, { ...(target && { target }), modified, ...(begun && { begun }) });
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
        const text = writePlan(plan);
        const modified = await target.write(text);
        set({ document: { ...state.getState().document, modified }, changedOnDisk: false });
        saved(target.name, plan, text);
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
        const text = writePlan(plan);
        const written = await disk.saveAs(fileName || fileNameFor(plan.title), text);
        if (!written) return false;
        const { id } = state.getState().document;
        const { target, modified } = written;
        set({
          document: { id, ...(target && { target }), ...(modified !== undefined && { modified }) },
          changedOnDisk: false,
        });
        saved(written.name, plan, text);
        say(target ? `Saved to ${written.name}.` : `Downloaded as ${written.name}.`);
        return true;
      } catch (error) {
        say(`Not saved: ${error instanceof Error ? error.message : "the browser does not say why"}.`);
        return false;
      }
    },
    goBack() {
      const { left } = state.getState();
      if (left) void kept.goBackTo(left);
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
