/** The browser's own storage for unsaved work: one record a document. */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { KeptPlan, Shelf } from "./recovery.js";

interface Schema extends DBSchema {
  plans: { key: string; value: KeptPlan };
}

export function browserShelf(name = "ruling-grade"): Shelf {
  let opened: Promise<IDBPDatabase<Schema>> | undefined;
  const database = (): Promise<IDBPDatabase<Schema>> => {
    opened ??= openDB<Schema>(name, 1, {
      upgrade: (db) => {
        db.createObjectStore("plans", { keyPath: "id" });
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
    opened.catch(() => {
      opened = undefined;
    });
    return opened;
  };
  return {
    async put(kept, takenOverFrom) {
      const transaction = (await database()).transaction("plans", "readwrite", { durability: "strict" });
      const there = await transaction.store.get(kept.id);
      const ours = !there || there.tab === kept.tab || there.tab === takenOverFrom;
      if (ours) await transaction.store.put(kept);
      await transaction.done;
      return ours ? "kept" : "taken";
    },
    get: async (id) => (await database()).get("plans", id),
    all: async () => (await database()).getAll("plans"),
    remove: async (id) => (await database()).delete("plans", id),
  };
}
