/**
 * Has the page's files kept, so that it opens without a network, and says when a newer version of them is ready.
 *
 * Always holds: the page is loaded again only when somebody here asked for it, and only after all work was kept.
 */
import type { FileDesk } from "../files/file-desk.js";
import { OPEN_AGAIN, type OfflineState } from "./offline-store.js";
import type { StoreApi } from "zustand/vanilla";

export async function keepOffline(files: FileDesk, store: StoreApi<OfflineState>): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const workers = navigator.serviceWorker;
  const registration = await workers.register("./service-worker.js").catch(() => undefined);
  if (!registration) return;
  const offer = (waiting: ServiceWorker): void => store.setState({ use: () => void use(waiting) });
  const use = async (waiting: ServiceWorker): Promise<void> => {
    await files.hurry();
    const { document, trouble } = files.state.getState();
    // Without storage the work would be gone: the notice of that says how to save it.
    if (trouble !== undefined) return;
    sessionStorage.setItem(OPEN_AGAIN, document.id);
    workers.addEventListener("controllerchange", () => {
      store.setState({ leaving: true });
      location.reload();
    });
    waiting.postMessage("use this version");
  };
  const watch = (coming: ServiceWorker | null): void => {
    coming?.addEventListener("statechange", () => {
      // The first version ever has nothing to wait for.
      if (coming.state === "installed" && workers.controller) offer(coming);
    });
  };
  if (registration.waiting && workers.controller) offer(registration.waiting);
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  // A page left open for days hears of newer versions too.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration.update().catch(() => undefined);
  });
}
