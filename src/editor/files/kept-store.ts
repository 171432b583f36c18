/** Which of what is kept in the browser is looked at. It is no part of the plan, of no file and of no undo. */
import { createStore, type StoreApi } from "zustand/vanilla";

export interface KeptState {
  /** The shelf of plans, over the sheet. */
  readonly shelf: boolean;
  /** Versions of the open plan, in the column. naming: opened to name one. */
  readonly versions: "closed" | "open" | "naming";
}

export const createKeptView = (): StoreApi<KeptState> =>
  createStore<KeptState>()(() => ({ shelf: false, versions: "closed" }));

/** The page's own. */
export const keptView = createKeptView();

export const openShelf = (): void => keptView.setState({ shelf: true });
export const openVersions = (): void => keptView.setState({ versions: "open" });
export const nameVersion = (): void => keptView.setState({ versions: "naming" });
