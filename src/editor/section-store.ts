/** The cut across the room that is looked at beside the sheet. It is no part of the plan, of no file and of no undo. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Millimetres } from "../geometry/units.js";
import type { Cut } from "../layout/section.js";

export interface SectionState {
  readonly cut: Cut | undefined;
  /** The section is shown. */
  readonly open: boolean;
  /** Who stands in it, by name; the plan's first operator where left out. */
  readonly operator: string | undefined;
  /** Where they stand along the cut; in the middle of the widest aisle where left out. */
  readonly stand: Millimetres | undefined;
}

export type SectionStore = StoreApi<SectionState>;

export const createSections = (): SectionStore =>
  createStore<SectionState>()(() => ({ cut: undefined, open: false, operator: undefined, stand: undefined }));

/** The page's own. */
export const sections = createSections();
