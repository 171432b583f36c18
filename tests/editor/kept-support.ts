/** Stand-ins for what a browser gives the file desk: a shelf and locks that tabs share, and tabs with a clock moved by hand. */
import type { Disk } from "../../src/editor/files/disk.js";
import { createFileDesk, isUnsaved } from "../../src/editor/files/file-desk.js";
import type { Holder } from "../../src/editor/files/holder.js";
import {
  type KeptPlan,
  type KeptVersion,
  type PlanLook,
  type Put,
  putOver,
  saysNoMore,
  type Shelf,
  type VersionEntry,
} from "../../src/editor/files/shelf.js";
import { readAtOnce } from "../../src/editor/reader/here.js";
import { createEditor } from "../../src/editor/store.js";
import type { Tool } from "../../src/editor/tool.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { setTitle } from "../../src/plan/setting-edits.js";

const hand: Tool = {
  id: "hand",
  stage: "any",
  name: "Hand",
  key: "v",
  begin: () => 0,
  handle: (state) => ({ state }),
  show: () => ({ overlay: [], hint: "" }),
};
export const plan = emptyPlan({ title: "Trial", width: 4000, depth: 3000, scale: "HO", units: "metric" });

/** A shelf that several tabs share. What a browser stores is a copy. */
export class MemoryShelf implements Shelf {
  readonly kept = new Map<string, KeptPlan>();
  readonly seen = new Map<string, PlanLook>();
  readonly versionsOf = new Map<string, KeptVersion[]>();
  fails: Error | undefined;
  puts = 0;
  /** Whether the last write waited for the disk. */
  firm = false;
  #works(): void {
    if (this.fails) throw this.fails;
  }
  async put(kept: KeptPlan, expected: boolean, firm: boolean): Promise<Put> {
    this.puts++;
    this.firm = firm;
    this.#works();
    const outcome = putOver(this.kept.get(kept.id), kept, expected);
    if (outcome === "kept" || outcome === "anew") this.kept.set(kept.id, structuredClone(kept));
    return outcome;
  }
  async claim(id: string, tab: string): Promise<KeptPlan | undefined> {
    this.#works();
    const there = this.kept.get(id);
    if (!there) return undefined;
    const ours = { ...there, tab, turn: there.turn + 1 };
    this.kept.set(id, ours);
    return ours;
  }
  async get(id: string): Promise<KeptPlan | undefined> {
    this.#works();
    return this.kept.get(id);
  }
  async entries() {
    this.#works();
    return [...this.kept.values()];
  }
  async looks() {
    return [...this.seen.values()];
  }
  async putLook(look: PlanLook): Promise<void> {
    this.#works();
    this.seen.set(look.id, look);
  }
  async remove(id: string): Promise<void> {
    this.kept.delete(id);
    this.seen.delete(id);
    this.versionsOf.delete(id);
  }
  async versions(id: string): Promise<readonly VersionEntry[]> {
    return this.versionsOf.get(id) ?? [];
  }
  async version(id: string, number: number): Promise<KeptVersion | undefined> {
    return this.versionsOf.get(id)?.find((version) => version.number === number);
  }
  async addVersion(version: Omit<KeptVersion, "number">): Promise<number | undefined> {
    this.#works();
    const all = this.versionsOf.get(version.id) ?? [];
    if (saysNoMore(all.at(-1), version)) return undefined;
    const number = (all.at(-1)?.number ?? 0) + 1;
    this.versionsOf.set(version.id, [...all, { ...version, number }]);
    return number;
  }
  async removeVersions(id: string, numbers: readonly number[]): Promise<void> {
    this.versionsOf.set(
      id,
      (this.versionsOf.get(id) ?? []).filter(({ number }) => !numbers.includes(number)),
    );
  }
  get titles(): string[] {
    return [...this.kept.values()].map(({ title }) => title);
  }
  /** Of the plans that are in no file. */
  get unsavedTitles(): string[] {
    return [...this.kept.values()].flatMap(({ title, unsaved }) => (unsaved ? [title] : []));
  }
}

interface TabHands {
  stepBack: (id: string) => Promise<void>;
  taken: (id: string) => void;
  frozen: boolean;
}

/** The locks of one browser. A tab that is frozen answers nothing; then it is taken from. */
export class Hub {
  readonly holders = new Map<string, TabHands>();
  /** Without locks every tab holds what it asks for. */
  constructor(readonly locks = true) {}
  tab(): Holder & TabHands {
    const { holders, locks } = this;
    const self: Holder & TabHands = {
      stepBack: async () => undefined,
      taken: () => undefined,
      frozen: false,
      async tryHold(id) {
        if (!locks) return true;
        const there = holders.get(id);
        if (there && there !== self) return false;
        holders.set(id, self);
        return true;
      },
      letGo(id) {
        if (holders.get(id) === self) holders.delete(id);
      },
      async takeOver(id) {
        const there = holders.get(id);
        if (there && there !== self && !there.frozen) await there.stepBack(id);
        holders.set(id, self);
      },
      held: async () => new Set(locks ? holders.keys() : []),
      onAsked(work) {
        self.stepBack = work;
      },
      onTaken(work) {
        self.taken = work;
      },
    };
    return self;
  }
}

let ids = 0;

export interface TabOptions {
  readonly hub?: Hub;
  readonly saveAs?: Disk["saveAs"];
  readonly persist?: () => Promise<boolean>;
}

/** A tab of the browser: an editor with its file desk, a disk that writes where it is told, and a clock moved by hand. */
export function openTab(shelf: MemoryShelf, options: TabOptions = {}) {
  const holder = (options.hub ?? new Hub()).tab();
  let timers: { readonly at: number; readonly ring: () => void }[] = [];
  /** Time that passes, and what the clock on the wall says. */
  let passed = 1000;
  let clock = 1000;
  const store = createEditor({ plan, tools: [hand], reader: readAtOnce });
  const downloads: { name: string; text: string }[] = [];
  const desk = createFileDesk({
    store,
    shelf,
    disk: {
      pick: async () => undefined,
      saveAs:
        options.saveAs ??
        (async (name, text) => {
          downloads.push({ name, text });
          return { name };
        }),
    },
    tab: `tab-${++ids}`,
    freshId: () => `document-${++ids}`,
    now: () => clock,
    wait(ms, then) {
      const timer = { at: passed + ms, ring: then };
      timers.push(timer);
      return () => {
        timers = timers.filter((other) => other !== timer);
      };
    },
    holder,
    pack: async (text) => text,
    unpack: async (packed) => String(packed),
    picture: () => ({ width: 1, height: 1, room: "", benches: "", tracks: "", hidden: "" }),
    persist: options.persist ?? (async () => true),
  });
  const retitle = (title: string): boolean => store.getState().edit(setTitle(store.getState().history.plan, title));
  const ring = (): void => {
    const due = timers.filter(({ at }) => at <= passed);
    timers = timers.filter(({ at }) => at > passed);
    for (const timer of due) timer.ring();
  };
  /** Time passes, and what then is to be written is written: nothing that is not due. */
  const pass = async (ms: number): Promise<void> => {
    passed += ms;
    clock += ms;
    ring();
    await rest();
  };
  return {
    store,
    desk,
    holder,
    downloads,
    retitle,
    pass,
    ring,
    setClock: (to: number) => {
      clock = to;
    },
    get id() {
      return desk.state.getState().document.id;
    },
    get title() {
      return store.getState().history.plan.title;
    },
    get unsaved() {
      return isUnsaved(store.getState());
    },
    /** The tab is gone without a word: a crash. */
    die: () => {
      desk.stop();
      timers = [];
      holder.letGo(desk.state.getState().document.id);
    },
    dueIn: () => Math.min(...timers.map(({ at }) => at - passed)),
  };
}

/** Until nothing is left to be done at once. */
export const rest = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
