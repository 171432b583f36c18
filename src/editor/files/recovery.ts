/**
 * Keeps unsaved work in the browser's storage, so that a crash, a closed tab or a dead battery costs nothing.
 *
 * Always holds: unsaved work is on the shelf at most `KEEP_WITHIN` after it was done, and at once when told to hurry;
 * work that is in its file is on no shelf; what another tab keeps is never overwritten: this one's goes on under an id
 * of its own, and says so. Nothing kept of one document is touched by opening another.
 */
import type { EditorStore } from "../store.js";

/** ms. */
export const KEEP_WITHIN = 250;

export interface KeptPlan {
  /** Of the document, whichever tab holds it. */
  readonly id: string;
  readonly title: string;
  readonly fileName: string;
  readonly plan: unknown;
  /** ms since 1970. */
  readonly keptAt: number;
  /** The tab that wrote it. */
  readonly tab: string;
}

export interface Shelf {
  /** "taken" where a tab other than its own or `takenOverFrom` wrote it last, and then nothing is written. */
  put(kept: KeptPlan, takenOverFrom: string | undefined): Promise<"kept" | "taken">;
  get(id: string): Promise<KeptPlan | undefined>;
  all(): Promise<readonly KeptPlan[]>;
  remove(id: string): Promise<void>;
}

export interface KeeperOptions {
  readonly store: EditorStore;
  readonly shelf: Shelf;
  readonly tab: string;
  readonly freshId: () => string;
  readonly now: () => number;
  /** Calls back after so many ms; the answer calls it off. */
  readonly wait: (ms: number, then: () => void) => () => void;
  /** What went wrong in words; undefined when it works again. */
  readonly onTrouble: (trouble: string | undefined) => void;
  /** Another tab holds the document; from now on this one's goes by another id. */
  readonly onParted: (id: string) => void;
}

export interface Keeper {
  /** From now on another document is open; call it before the store opens it. What was unsaved of the last stays kept. */
  begin(id: string, takenOverFrom?: string): void;
  /** Keeps what is not kept yet, at once. */
  hurry(): Promise<void>;
  stop(): void;
}

export function createKeeper(options: KeeperOptions): Keeper {
  const { store, shelf, tab, now } = options;
  let id = options.freshId();
  let from: string | undefined;
  let onShelf = false;
  let callOff: (() => void) | undefined;
  /** One write after another, so that an older never lands on a newer. */
  let writing: Promise<void> = Promise.resolve();
  let pending: KeptPlan | undefined;

  const write = (kept: KeptPlan, takenFrom: string | undefined): Promise<void> => {
    const attempt = async (): Promise<void> => {
      try {
        let as = kept;
        if ((await shelf.put(as, takenFrom)) === "taken") {
          as = { ...kept, id: options.freshId() };
          await shelf.put(as, undefined);
          if (id === kept.id) {
            id = as.id;
            from = undefined;
            options.onParted(id);
          }
        }
        options.onTrouble(undefined);
      } catch (error) {
        options.onTrouble(troubleText(error));
      }
    };
    writing = writing.then(attempt);
    return writing;
  };
  const take = (shelfId: string): void => {
    writing = writing.then(() => shelf.remove(shelfId).catch(() => undefined));
  };
  const flush = (): Promise<void> => {
    callOff?.();
    callOff = undefined;
    const kept = pending;
    pending = undefined;
    if (!kept) return writing;
    onShelf = true;
    return write({ ...kept, id }, from);
  };

  const unsubscribe = store.subscribe((state, before) => {
    const { plan } = state.history;
    if (plan === before.history.plan && state.saved === before.saved) return;
    if (plan === state.saved) {
      callOff?.();
      callOff = undefined;
      pending = undefined;
      if (onShelf) take(id);
      onShelf = false;
      return;
    }
    pending = { id, title: plan.title, fileName: state.fileName, plan, keptAt: now(), tab };
    callOff ??= options.wait(KEEP_WITHIN, () => {
      callOff = undefined;
      void flush();
    });
  });

  return {
    begin(next, takenOverFrom) {
      void flush();
      id = next;
      from = takenOverFrom;
      // A document taken up from the shelf is on it until it is saved.
      onShelf = takenOverFrom !== undefined;
    },
    hurry: flush,
    stop() {
      unsubscribe();
      callOff?.();
    },
  };
}

/** Storage refused (a private window, a setting) and storage full are told apart; both are survived by saving. */
export function troubleText(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : "";
  return name === "QuotaExceededError"
    ? "The browser’s storage is full, so unsaved work is not kept in it."
    : "The browser does not let the planner keep unsaved work here.";
}

/** What is kept of documents no tab has open, the newest first. */
export async function leftBehind(shelf: Shelf, open: ReadonlySet<string>): Promise<KeptPlan[]> {
  const all = await shelf.all();
  return all.filter(({ id }) => !open.has(id)).sort((a, b) => b.keptAt - a.keptAt);
}
