/** Whether a place of a line is hidden. */
import type { Millimetres } from "../geometry/units.js";
import { hiddenByLine } from "../layout/hidden.js";
import type { HiddenStretch, Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { type Carried, carry } from "./carry.js";
import { sameItems } from "./remember.js";

/** The hidden stretches of a layout; the same list while they are the same. */
export const sameHidden = carry(
  ({ hidden }: Layout, last: Carried<readonly HiddenStretch[]> | undefined): readonly HiddenStretch[] =>
    last && sameItems(last.value, hidden) ? last.value : hidden,
);

export const hiddenAt = ({ hidden }: Layout, { key }: Line, s: Millimetres): boolean =>
  isHidden(hiddenByLine(hidden).get(key) ?? [], s);

export const isHidden = (hidden: readonly HiddenStretch[], s: Millimetres): boolean =>
  hidden.some(({ from, to }) => s >= from && s <= to);
