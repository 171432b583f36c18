/**
 * What the file desk does with plans that are kept in the browser: the shelf of them, the versions of the open one, and
 * the same plan in two tabs.
 *
 * Always holds: of the tabs that have a plan open one changes it, the others are locked and say so; a tab steps back
 * only when all it did is kept; a version is shown without changing the plan and brought back as one step of undo, the
 * present being kept before.
 */
import { readPlan } from "../../plan/read.js";
import type { Plan } from "../../plan/schema.js";
import { setTitle } from "../../plan/setting-edits.js";
import { sharing } from "../../plan/sharing.js";
import type { DeskInner, LeftPlan } from "./file-desk.js";
import type { Begun } from "./keeper.js";
import { planText, printOf } from "./plan-text.js";
import { leftBehind, type PlanLook, type ShelfEntry, type VersionEntry } from "./shelf.js";

/** elsewhere: another tab had it first. stepped-back: another tab asked for it. aside: another took it; see versions. */
export type Reading = "elsewhere" | "stepped-back" | "aside";

export interface KeptDesk {
  /** Looks for what was left behind. */
  lookBehind(): Promise<void>;
  /** Goes on with a plan on the shelf; only reads it where another tab has it. False where that cannot be. */
  openKept(id: string): Promise<boolean>;
  /** Throws one away that was left behind. */
  forget(id: string): Promise<void>;
  /** Plans on the shelf, the last worked on first, with how they look where that is known. */
  shelved(): Promise<readonly (ShelfEntry & { readonly look: PlanLook | undefined; readonly held: boolean })[]>;
  duplicate(id: string): Promise<void>;
  /** Works here on the plan another tab has. */
  takeOver(): Promise<void>;
  keepVersion(name: string): Promise<boolean>;
  /** Versions of the open plan, the last first. */
  versions(): Promise<readonly VersionEntry[]>;
  versionPlan(number: number): Promise<Plan | undefined>;
  /** Shows a version in place of the present; undefined ends that. */
  view(version: VersionEntry | undefined): Promise<void>;
  bringBack(version: VersionEntry): Promise<boolean>;
}

export interface KeptInner {
  readonly desk: KeptDesk;
  /** Another tab has the plan that is open. */
  read(why: Reading): void;
  lost(id: string): void;
  /** What the shelf knows of a file with that text. */
  known(text: string): Promise<Begun | undefined>;
  keepSaved(name: string): Promise<void>;
  goBackTo(left: LeftPlan): Promise<void>;
}

const READ_ONLY = "This plan is only to read here: another tab works on it.";
const VIEWED = "This is a version kept earlier, only to look at. Bring it back, or go to the present, to work on.";

export function createKeptDesk({ options, state, keeper, set, say, replace }: DeskInner): KeptInner {
  const { store, shelf, holder, tab } = options;
  const openId = (): string => state.getState().document.id;
  /** The document that is being taken over from another tab. */
  let taking: string | undefined;

  const read = (why: Reading): void => {
    store.getState().lock(READ_ONLY);
    set({ reading: why, viewing: undefined });
  };
  holder.onAsked(async (id) => {
    if (id !== openId()) return;
    read("stepped-back");
    await keeper.hurry();
    keeper.rest();
  });
  holder.onTaken((id) => {
    if (id !== openId()) return;
    read("stepped-back");
    // Lands if the other tab has not begun yet; is refused, and set aside, if it has.
    void keeper.hurry().then(() => keeper.rest());
  });

  const persist = async (): Promise<void> => {
    if (state.getState().persisted === undefined) set({ persisted: await options.persist().catch(() => false) });
  };

  /** Read like a file: what a browser stored years ago, or for another version, is not trusted either. */
  const readKept = (text: string, name: string) => {
    const result = readPlan(text, name);
    if (!result.ok) set({ report: { file: name, problems: result.report.problems, opened: false } });
    return result;
  };

  /** Takes hold of a plan on the shelf, to work on it or else to read it. */
  const takeUp = async (
    id: string,
  ): Promise<{ readonly begun: Begun; readonly kept: ShelfEntry & { text: string } } | undefined> => {
    // What was just left is let go of when all of it is kept.
    await keeper.hurry();
    const ours = await holder.tryHold(id);
    const kept = ours ? await shelf.claim(id, tab) : await shelf.get(id);
    if (!kept) {
      if (ours) holder.letGo(id);
      return undefined;
    }
    const { turn, print } = kept;
    return { kept, begun: { id, turn, ...(print !== undefined && { print }), reading: !ours } };
  };

  const desk: KeptDesk = {
    async lookBehind() {
      try {
        set({ offers: await leftBehind(shelf, await holder.held()) });
      } catch {
        // Storage that cannot be read offers nothing; the first edit tells that it keeps nothing either.
      }
    },
    async openKept(id) {
      if (id === openId()) return true;
      try {
        const taken = await takeUp(id);
        if (!taken) {
          say("That plan is no longer kept here.");
          return false;
        }
        const { kept, begun } = taken;
        const result = readKept(kept.text, kept.fileName || kept.title);
        if (!result.ok) {
          holder.letGo(id);
          return false;
        }
        const whole = !result.report.problems.some(({ severity }) => severity === "error");
        const { readOnly } = result.report;
        replace(result.plan, kept.fileName, whole && !kept.unsaved, { id, ...(readOnly && { readOnly }) }, begun);
        if (begun.reading) read("elsewhere");
        set({ offers: state.getState().offers.filter((offer) => offer.id !== id) });
        return true;
      } catch (error) {
        holder.letGo(id);
        say(`It cannot be opened: ${error instanceof Error ? error.message : "the browser does not say why"}.`);
        return false;
      }
    },
    async forget(id) {
      set({ offers: state.getState().offers.filter((offer) => offer.id !== id) });
      await shelf.remove(id).catch(() => say("The browser’s storage does not answer: it is still there."));
    },
    async shelved() {
      const [entries, looks, held] = await Promise.all([shelf.entries(), shelf.looks(), holder.held()]);
      const byId = new Map(looks.map((look) => [look.id, look]));
      return entries
        .map((entry) => ({ ...entry, look: byId.get(entry.id), held: held.has(entry.id) }))
        .sort((a, b) => b.keptAt - a.keptAt);
    },
    async duplicate(id) {
      const kept = await shelf.get(id);
      const result = kept && readKept(kept.text, kept.title);
      if (!kept || !result?.ok) return;
      const copy = setTitle(result.plan, `${result.plan.title || "Untitled plan"}, copy`);
      if (!copy.ok) return say(copy.message);
      const { print: _print, ...rest } = kept;
      const own = { id: options.freshId(), title: copy.plan.title, tab, turn: 1, keptAt: options.now() };
      await shelf.put({ ...rest, ...own, fileName: "", unsaved: true, text: planText(copy.plan) }, false, true);
      const look = (await shelf.looks()).find((one) => one.id === id);
      if (look) await shelf.putLook({ ...look, id: own.id });
    },
    async takeOver() {
      const id = openId();
      if (state.getState().reading === undefined || taking === id) return;
      taking = id;
      await holder.takeOver(id);
      const kept = await shelf.claim(id, tab).catch(() => undefined);
      taking = undefined;
      if (id !== openId()) return holder.letGo(id);
      const result = kept && readKept(kept.text, kept.title);
      keeper.resume(kept?.turn);
      set({ reading: undefined, viewing: undefined });
      store.getState().lock(undefined);
      if (!kept || !result?.ok) return;
      const { edit, history, markSaved } = store.getState();
      const plan = sharing(history.plan, result.plan);
      edit({ ok: true, name: "Work of the other tab", plan, owned: true });
      if (!kept.unsaved) markSaved(kept.fileName, plan);
    },
    async keepVersion(name) {
      const well = await keeper.keepVersion("named", name.trim());
      if (well) say(name.trim() ? `Kept as “${name.trim()}”.` : "This version is kept.");
      await persist();
      return well;
    },
    versions: async () => (await shelf.versions(openId())).toReversed(),
    async versionPlan(number) {
      const version = await shelf.version(openId(), number);
      if (!version) return undefined;
      const result = readPlan(await options.unpack(version.packed), version.title);
      return result.ok ? result.plan : undefined;
    },
    async view(version) {
      const id = openId();
      const plan = version && (await desk.versionPlan(version.number));
      if (id !== openId()) return;
      const { lock, history } = store.getState();
      if (version && plan) lock(VIEWED, { name: "A version kept earlier", plan: sharing(history.plan, plan) });
      else lock(state.getState().reading === undefined ? undefined : READ_ONLY);
      if (version && !plan) say("That version cannot be read any more.");
      set({ viewing: plan && version });
    },
    async bringBack(version) {
      const id = openId();
      const plan = await desk.versionPlan(version.number);
      if (state.getState().reading !== undefined || id !== openId()) return false;
      await desk.view(undefined);
      if (!plan || id !== openId()) return false;
      // Begun before the edit, so that it is the present that is kept.
      const present = keeper.keepVersion("automatic", "");
      const { edit, history } = store.getState();
      const well = edit({ ok: true, name: "Bring back a version", plan: sharing(history.plan, plan), owned: true });
      await present;
      return well;
    },
  };

  return {
    desk,
    read,
    lost(id) {
      if (id === openId()) read("aside");
    },
    async known(text) {
      try {
        const print = printOf(text);
        const [entries, held] = await Promise.all([shelf.entries(), holder.held()]);
        const entry = entries.find((one) => one.print === print && (!one.unsaved || held.has(one.id)));
        // The one that is open is opened afresh, as a document of its own.
        return entry && entry.id !== openId() ? (await takeUp(entry.id))?.begun : undefined;
      } catch {
        return undefined;
      }
    },
    async keepSaved(name) {
      await keeper.keepVersion("saved", name);
      await persist();
    },
    async goBackTo(left) {
      const taken = await takeUp(left.document.id).catch(() => undefined);
      const { id } = left.document;
      // Nobody else has had it meanwhile, or nothing is kept at all: the plan in hand is the newest.
      const newer = taken && (taken.begun.reading || taken.kept.text !== planText(left.plan)) ? taken : undefined;
      const result = newer && readPlan(newer.kept.text, newer.kept.title);
      replace(result?.ok ? result.plan : left.plan, left.fileName, false, left.document, taken?.begun ?? { id });
      if (taken?.begun.reading) read("elsewhere");
    },
  };
}
