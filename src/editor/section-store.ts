/** The cut across the room that is looked at beside the sheet. It is no part of the plan, of no file and of no undo. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Millimetres } from "../geometry/units.js";
import type { Cut } from "../layout/section.js";
import { isStart } from "../plan/history.js";
import type { EditorStore } from "./store.js";

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

const NONE: SectionState = { cut: undefined, open: false, operator: undefined, stand: undefined };

export const createSections = (): SectionStore => createStore<SectionState>()(() => NONE);

/** A cut is through one room: it is given up when another plan is opened. Returns what ends this. */
export const forgetWithPlan = (cuts: SectionStore, editor: EditorStore): (() => void) =>
  editor.subscribe((now, before) => {
    if (now.history !== before.history && isStart(now.history) && now.history.plan !== before.history.plan)
      cuts.setState(NONE);
  });

/** The page's own. */
export const sections = createSections();
