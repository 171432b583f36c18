/**
 * Keeps the open plan on the browser's shelf, and versions of it, so that a crash, a closed tab, a dead battery or a
 * change of mind costs nothing.
 *
 * Always holds: an edit is handed to the shelf at most `KEEP_AFTER` after it was done, and at once when told to hurry;
 * a plan another tab has is never overwritten: what this one still had of it is set aside among its versions. Nothing
 * kept of one document is touched by opening another. A plan nobody changed or saved is on no shelf.
 */
import type { Plan } from "../../plan/schema.js";
import type { EditorState, EditorStore } from "../store.js";
import { planText, printOf, textInSlices } from "./plan-text.js";
import type { KeptPlan, KeptVersion, Picture, Put, Shelf, VersionKind } from "./shelf.js";
import { thinned } from "./thinning.js";

/** ms, for the edit to be drawn first; with what writing takes, it is in the storage within a quarter of a second. */
export const KEEP_AFTER = 30;
/** A pause of the hand, ms, in which what was kept is brought to the disk, against a power cut. */
export const SETTLE_AFTER = 1000;
/** An automatic version is kept at most so often, ms: the finest span of the thinning. */
export const VERSION_EVERY = 5 * 60_000;

export interface KeeperOptions {
  readonly store: EditorStore;
  readonly shelf: Shelf;
  readonly tab: string;
  readonly now: () => number;
  /** Calls back after so many ms; the answer calls it off. */
  readonly wait: (ms: number, then: () => void) => () => void;
  /** A text made small for keeping. */
  readonly pack: (text: string) => Promise<KeptVersion["packed"]>;
  /** How the plan looks from afar. */
  readonly picture: (state: EditorState) => Picture;
  /** What went wrong in words; undefined when it works again. */
  readonly onTrouble: (trouble: string | undefined) => void;
  /** Another tab has the document now; what this one had is set aside. Called before anything else can be done here. */
  readonly onLost: (id: string) => void;
}

export interface Begun {
  readonly id: string;
  /** The shelf's count, for a plan that is on it. */
  readonly turn?: number;
  readonly print?: string;
  /** Another tab writes it. */
  readonly reading?: boolean;
}

export interface Keeper {
  /** From now on another document is open; call it before the store opens it. What was unsaved of the last stays kept. */
  begin(begun: Begun): void;
  /** The same document, from now on written or only read here. */
  resume(turn: number | undefined): void;
  rest(): void;
  /** The text that was written to the plan's file or read from it. */
  setPrint(print: string): void;
  /** Keeps what is not kept yet, at once. */
  hurry(): Promise<void>;
  /** Keeps a version of the plan as it is; false where that failed. */
  keepVersion(kind: VersionKind, name: string): Promise<boolean>;
  stop(): void;
}

interface Book {
  readonly id: string;
  turn: number;
  onShelf: boolean;
  reading: boolean;
  print: string | undefined;
  /** When the last version was kept. */
  versionAt: number | undefined;
  /** The store has yet to open it. */
  opening: boolean;
}

const bookOf = ({ id, turn, print, reading }: Begun, opening: boolean): Book => ({
  id,
  turn: turn ?? 0,
  onShelf: turn !== undefined,
  reading: reading ?? false,
  print,
  versionAt: undefined,
  opening,
});

export function createKeeper(options: KeeperOptions, first: Begun): Keeper {
  const { store, shelf, tab, now } = options;
  let book = bookOf(first, false);
  let callOff: (() => void) | undefined;
  let pending = false;
  const running = new Set<Promise<unknown>>();
  const run = <T>(work: Promise<T>): Promise<T> => {
    running.add(work);
    const done = (): void => void running.delete(work);
    work.then(done, done);
    return work;
  };

  const addVersion = async (of: Book, plan: Plan, kind: VersionKind, name: string, look: EditorState | undefined) => {
    of.versionAt = now();
    const text = planText(plan);
    const { id } = of;
    try {
      const packed = await options.pack(text);
      const size = text.length;
      const version = { id, at: now(), kind, name, title: plan.title, size, print: printOf(text), packed };
      await shelf.addVersion(version);
      if (look) {
        const tracks = Object.keys(plan.tracks).length;
        await shelf.putLook({ id, size, tracks, picture: options.picture(look) });
      }
      const gone = thinned(await shelf.versions(id));
      if (gone.length > 0) await shelf.removeVersions(id, gone);
      return true;
    } catch (error) {
      options.onTrouble(troubleText(error));
      return false;
    }
  };
  const versionDue = ({ versionAt }: Book, at: number): boolean =>
    versionAt === undefined || at - versionAt >= VERSION_EVERY || at < versionAt;

  const told = (outcome: Put): void => options.onTrouble(outcome === "anew" ? GONE : undefined);

  /** Plans whose text is being put together. */
  const underway = new Set<Plan>();

  const put = async (of: Book, state: EditorState, atOnce: boolean): Promise<void> => {
    const { plan } = state.history;
    of.turn += 1;
    const { turn } = of;
    underway.add(plan);
    const text = atOnce ? planText(plan) : await textInSlices(plan, (work) => options.wait(0, work));
    underway.delete(plan);
    // In the words of the state it was taken from; what came since has a later turn.
    const kept: KeptPlan = {
      id: of.id,
      title: plan.title,
      fileName: state.fileName,
      keptAt: now(),
      tab,
      turn,
      unsaved: plan !== state.saved,
      ...(of.print !== undefined && { print: of.print }),
      text,
    };
    try {
      const outcome = await shelf.put(kept, of.onShelf, atOnce);
      if (outcome === "taken") return await setAside(of, plan);
      of.onShelf = true;
      told(outcome);
      if (of === book && !atOnce) settleSoon();
      if (versionDue(of, now())) await addVersion(of, plan, "automatic", "", state);
    } catch (error) {
      options.onTrouble(troubleText(error));
    }
  };

  let callOffSettling: (() => void) | undefined;
  const settleSoon = (): void => {
    callOffSettling?.();
    callOffSettling = options.wait(SETTLE_AFTER, () => {
      callOffSettling = undefined;
      if (book.reading || book.opening) return;
      pending = true;
      void flush(true);
    });
  };

  /** Refused by the shelf: all that was done here since is set aside too, and nothing more is done here. */
  const setAside = async (of: Book, refused: Plan): Promise<void> => {
    if (of.reading) return;
    of.reading = true;
    const own = of === book;
    const plan = own ? store.getState().history.plan : refused;
    if (own) {
      drop();
      options.onLost(of.id);
    }
    await addVersion(of, plan, "aside", "Work of another tab", undefined);
  };

  const drop = (): void => {
    callOff?.();
    callOff = undefined;
    callOffSettling?.();
    callOffSettling = undefined;
    pending = false;
  };
  const flush = (atOnce: boolean): Promise<void> => {
    const state = store.getState();
    const due = (pending || (atOnce && underway.has(state.history.plan))) && !book.reading;
    drop();
    if (due) void run(put(book, state, atOnce));
    return Promise.all(running).then(() => undefined);
  };

  const unsubscribe = store.subscribe((state, before) => {
    const { plan } = state.history;
    const edited = plan !== before.history.plan;
    const savedNow = state.saved !== before.saved;
    if (!edited && !savedNow) return;
    if (book.opening) {
      if (edited) book.opening = false;
      // Opened from a file: kept from its first change on. What no file holds whole is kept from the start.
      if (plan === state.saved || book.onShelf) return;
    } else if (edited && !book.reading && book.versionAt === undefined) {
      // As it was before anything was done to it.
      void run(addVersion(book, before.history.plan, "opened", "", undefined));
    }
    if (book.reading) return;
    pending = true;
    callOff ??= options.wait(KEEP_AFTER, () => {
      callOff = undefined;
      void flush(false);
    });
  });

  return {
    begin(begun) {
      void flush(true);
      book = bookOf(begun, true);
    },
    resume(turn) {
      book = { ...book, turn: turn ?? book.turn, onShelf: turn !== undefined, reading: false };
    },
    rest() {
      drop();
      book.reading = true;
    },
    setPrint(print) {
      book.print = print;
    },
    hurry: () => flush(true),
    async keepVersion(kind, name) {
      const state = store.getState();
      if (!book.reading) pending = true;
      void flush(true);
      return run(addVersion(book, state.history.plan, kind, name, state));
    },
    stop() {
      unsubscribe();
      drop();
    },
  };
}

const GONE =
  "The browser had thrown away what was kept of this plan; it is kept again now. A file of your own is safer.";

/** Storage refused (a private window, a setting) and storage full are told apart; both are survived by saving. */
export function troubleText(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : "";
  return name === "QuotaExceededError"
    ? "The browser’s storage is full, so unsaved work is not kept in it."
    : "The browser does not let the planner keep unsaved work here.";
}
