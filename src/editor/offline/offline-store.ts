/** Whether a newer version of the program waits to be used. */
import { createStore, type StoreApi } from "zustand/vanilla";

/** Where it is noted which plan to open again after the page was loaded anew. */
export const OPEN_AGAIN = "ruling-grade open again";

export interface OfflineState {
  /** Puts the newer version to use; undefined while there is none. */
  readonly use: (() => void) | undefined;
  /** Everything is kept and the page is about to be loaded anew: nobody is asked whether to leave. */
  readonly leaving: boolean;
}

export const createOffline = (): StoreApi<OfflineState> =>
  createStore<OfflineState>()(() => ({ use: undefined, leaving: false }));

/** The page's own. */
export const offline = createOffline();
