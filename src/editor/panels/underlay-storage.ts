/**
 * Keeps the picture under the sheet in the browser's storage, by plan: it is no part of the plan's file, which stays
 * small and holds no photos of anyone's house.
 */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { UnderlayPlacement } from "../../drafting/underlay.js";

export interface KeptUnderlay {
  /** Of the plan: the name of its file, or its title while it has none. */
  readonly plan: string;
  readonly picture: Blob;
  readonly placement: UnderlayPlacement;
}

interface Schema extends DBSchema {
  underlays: { key: string; value: KeptUnderlay };
}

/** A browser that keeps nothing (private windows, full disks) answers with a rejected promise. */
export interface UnderlayStorage {
  put(kept: KeptUnderlay): Promise<void>;
  get(plan: string): Promise<KeptUnderlay | undefined>;
  remove(plan: string): Promise<void>;
}

export function underlayStorage(name = "ruling-grade-pictures"): UnderlayStorage {
  let opened: Promise<IDBPDatabase<Schema>> | undefined;
  const database = (): Promise<IDBPDatabase<Schema>> => {
    opened ??= openDB<Schema>(name, 1, {
      upgrade: (db) => {
        db.createObjectStore("underlays", { keyPath: "plan" });
      },
    });
    opened.catch(() => {
      opened = undefined;
    });
    return opened;
  };
  return {
    async put(kept) {
      await (await database()).put("underlays", kept);
    },
    get: async (plan) => (await database()).get("underlays", plan),
    remove: async (plan) => (await database()).delete("underlays", plan),
  };
}
