/** The options of the plan side by side, while they are looked at. It is no part of the plan, of no file and of no undo. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Candidate } from "../exchange/compare.js";
import type { Id } from "../plan/schema.js";

export interface OptionsState {
  /** The panel is shown. */
  readonly open: boolean;
  /** Every option as it was last laid out and read, in the plan's order; none before the first is. */
  readonly candidates: readonly Candidate[];
  /** The option on the second sheet of a pair; where that is none, or in hand, the first that is not. */
  readonly beside: Id | undefined;
}

export type OptionStore = StoreApi<OptionsState>;

export const createOptionStore = (): OptionStore =>
  createStore<OptionsState>()(() => ({ open: false, candidates: [], beside: undefined }));

/** The page's own. */
export const sideBySide = createOptionStore();

export const toggleSideBySide = (): void => sideBySide.setState(({ open }) => ({ open: !open, candidates: [] }));

const NONE: readonly Candidate[] = [];

/** The options to be drawn beside the one in hand; none while they are not looked at. */
export const besides = ({ open, candidates }: OptionsState): readonly Candidate[] => (open ? candidates : NONE);

/** What the second sheet of a pair shows while options are looked at side by side; undefined where there is no other. */
export function onSecondSheet(
  { open, candidates, beside }: OptionsState,
  inHand: Id | undefined,
): Candidate | undefined {
  if (!open) return undefined;
  const others = candidates.filter(({ option }) => option !== inHand);
  return others.find(({ option }) => option === beside) ?? others[0];
}
