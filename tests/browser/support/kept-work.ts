/** What the browser's storage keeps of plans. */
import type { Page } from "@playwright/test";

export interface Kept {
  readonly title: string;
  readonly unsaved: boolean;
  readonly text: string;
}

/** Every plan that is kept, whole. */
export const keptPlans = (page: Page): Promise<Kept[]> =>
  page.evaluate(
    () =>
      new Promise<Kept[]>((resolve) => {
        const opening = indexedDB.open("ruling-grade");
        opening.onerror = () => resolve([]);
        opening.onsuccess = () => {
          const db = opening.result;
          if (!db.objectStoreNames.contains("entries")) {
            db.close();
            return resolve([]);
          }
          const reading = db.transaction(["entries", "plans"]);
          const entries = reading.objectStore("entries").getAll();
          const plans = reading.objectStore("plans").getAll();
          reading.oncomplete = () => {
            db.close();
            const texts = new Map(plans.result.map(({ id, text }: { id: string; text: string }) => [id, text]));
            resolve(
              entries.result.map(({ id, title, unsaved }: { id: string; title: string; unsaved: boolean }) => ({
                title,
                unsaved,
                text: texts.get(id) ?? "",
              })),
            );
          };
        };
      }),
  );

/** Titles of the plans that are kept. */
export const keptTitles = async (page: Page): Promise<string[]> => (await keptPlans(page)).map(({ title }) => title);
