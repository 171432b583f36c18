/** The climb sheet over the plan: whether it is looked at, and what is reckoned on it. It is no part of the plan, of no file and of no undo. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { ClimbWishes } from "../climb/climb-sheet.js";
import type { TrackClass } from "../plan/schema.js";

export interface SheetWishes extends ClimbWishes {
  readonly class: TrackClass;
  /** A scale whose usual limits are taken, by its key; undefined for those of the plan that is open. */
  readonly scale: string | undefined;
}

export interface ClimbSheetState {
  readonly open: boolean;
  /** undefined until something is typed: the plan's own figures. */
  readonly wishes: SheetWishes | undefined;
}

export type ClimbSheetStore = StoreApi<ClimbSheetState>;

export const createClimbSheet = (): ClimbSheetStore =>
  createStore<ClimbSheetState>()(() => ({ open: false, wishes: undefined }));

/** The page's own. */
export const reckoned = createClimbSheet();

export const openClimbSheet = (): void => reckoned.setState({ open: true });
