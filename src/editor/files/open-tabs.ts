/** Which documents are open in some tab: each tab holds a lock by the document's id for as long as it lives. */
const NAME = "ruling-grade document ";

/** Ids of the documents that tabs hold; empty where the browser has no locks. */
export async function openDocuments(): Promise<Set<string>> {
  if (!("locks" in navigator)) return new Set();
  const { held = [] } = await navigator.locks.query();
  return new Set(held.flatMap(({ name }) => (name?.startsWith(NAME) === true ? [name.slice(NAME.length)] : [])));
}

let release: (() => void) | undefined;

/** Holds the lock of one document, and lets go of the one before. */
export function holdDocument(id: string): void {
  release?.();
  release = undefined;
  if (!("locks" in navigator)) return;
  void navigator.locks
    .request(
      NAME + id,
      { mode: "shared" },
      () =>
        new Promise<void>((resolve) => {
          release = resolve;
        }),
    )
    .catch(() => undefined);
}
