/** The shelf in the browser's own storage. */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import {
  type KeptPlan,
  type KeptVersion,
  type PlanLook,
  putOver,
  saysNoMore,
  type Shelf,
  type ShelfEntry,
  type VersionEntry,
} from "./shelf.js";

interface Schema extends DBSchema {
  entries: { key: string; value: ShelfEntry };
  plans: { key: string; value: Pick<KeptPlan, "id" | "text"> };
  looks: { key: string; value: PlanLook };
  versions: { key: [string, number]; value: KeptVersion };
}

/** As version 1 of the storage kept it. */
interface FirstKept {
  readonly id: string;
  readonly title: string;
  readonly fileName: string;
  readonly plan: unknown;
  readonly keptAt: number;
  readonly tab: string;
}

const STORES = ["entries", "plans", "looks", "versions"] as const;
const WRITE = { durability: "strict" } as const;
/** Nothing waits behind it for the disk. */
const QUICK = { durability: "relaxed" } as const;

/** Every version of one document. */
const allOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY]);

export function browserShelf(name = "ruling-grade"): Shelf {
  let opened: Promise<IDBPDatabase<Schema>> | undefined;
  const open = (): Promise<IDBPDatabase<Schema>> =>
    openDB<Schema>(name, 2, {
      async upgrade(db, from, _to, transaction) {
        db.createObjectStore("entries", { keyPath: "id" });
        db.createObjectStore("looks", { keyPath: "id" });
        db.createObjectStore("versions", { keyPath: ["id", "number"] });
        if (from < 1 || !db.objectStoreNames.contains("plans"))
          return void db.createObjectStore("plans", { keyPath: "id" });
        const plans = transaction.objectStore("plans");
        for (const first of (await plans.getAll()) as unknown as FirstKept[]) {
          const { plan, ...entry } = first;
          await plans.put({ id: first.id, text: JSON.stringify(plan) });
          await transaction.objectStore("entries").put({ ...entry, turn: 1, unsaved: true });
        }
      },
      // Another tab wants a newer version of the storage: let it, and open again when something is to be kept.
      blocking: (_now, _wanted, event) => {
        if (event.target instanceof IDBDatabase) event.target.close();
        opened = undefined;
      },
      terminated: () => {
        opened = undefined;
      },
    });
  const database = (): Promise<IDBPDatabase<Schema>> => {
    const opening = (opened ??= open());
    opening.catch(() => {
      if (opened === opening) opened = undefined;
    });
    return opening;
  };
  return {
    async put(kept, expected, firm) {
      const how = firm ? WRITE : QUICK;
      const transaction = (await database()).transaction(["entries", "plans"], "readwrite", how);
      const { text, ...entry } = kept;
      const entries = transaction.objectStore("entries");
      const outcome = putOver(await entries.get(kept.id), entry, expected);
      if (outcome === "kept" || outcome === "anew") {
        await Promise.all([entries.put(entry), transaction.objectStore("plans").put({ id: kept.id, text })]);
      }
      await transaction.done;
      return outcome;
    },
    async claim(id, tab) {
      const transaction = (await database()).transaction(["entries", "plans"], "readwrite", WRITE);
      const entries = transaction.objectStore("entries");
      const [entry, plan] = await Promise.all([entries.get(id), transaction.objectStore("plans").get(id)]);
      const ours = entry && { ...entry, tab, turn: entry.turn + 1 };
      if (ours) await entries.put(ours);
      await transaction.done;
      return ours && plan && { ...ours, text: plan.text };
    },
    async get(id) {
      const transaction = (await database()).transaction(["entries", "plans"]);
      const [entry, plan] = await Promise.all([
        transaction.objectStore("entries").get(id),
        transaction.objectStore("plans").get(id),
      ]);
      return entry && plan && { ...entry, text: plan.text };
    },
    entries: async () => (await database()).getAll("entries"),
    looks: async () => (await database()).getAll("looks"),
    putLook: async (look) => void (await (await database()).put("looks", look)),
    async remove(id) {
      const transaction = (await database()).transaction(STORES, "readwrite", WRITE);
      await Promise.all([
        transaction.objectStore("entries").delete(id),
        transaction.objectStore("plans").delete(id),
        transaction.objectStore("looks").delete(id),
        transaction.objectStore("versions").delete(allOf(id)),
      ]);
      await transaction.done;
    },
    async versions(id) {
      const all = await (await database()).getAll("versions", allOf(id));
      return all.map(({ packed: _packed, ...entry }): VersionEntry => entry);
    },
    version: async (id, number) => (await database()).get("versions", [id, number]),
    async addVersion(version) {
      const transaction = (await database()).transaction("versions", "readwrite", QUICK);
      const last = (await transaction.store.openCursor(allOf(version.id), "prev"))?.value;
      const same = saysNoMore(last, version);
      const number = (last?.number ?? 0) + 1;
      if (!same) await transaction.store.put({ ...version, number });
      await transaction.done;
      return same ? undefined : number;
    },
    async removeVersions(id, numbers) {
      const transaction = (await database()).transaction("versions", "readwrite");
      await Promise.all(numbers.map((number) => transaction.store.delete([id, number])));
      await transaction.done;
    },
  };
}
