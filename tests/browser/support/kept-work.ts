/** What the browser's storage keeps of unsaved work. */
import type { Page } from "@playwright/test";

/** Titles of the plans that are kept. */
export const keptTitles = (page: Page): Promise<string[]> =>
  page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const opening = indexedDB.open("ruling-grade");
        opening.onerror = () => resolve([]);
        opening.onsuccess = () => {
          const db = opening.result;
          if (!db.objectStoreNames.contains("plans")) return resolve([]);
          const all = db.transaction("plans").objectStore("plans").getAll();
          all.onsuccess = () => {
            db.close();
            resolve(all.result.map((one: { title: string }) => one.title));
          };
        };
      }),
  );
