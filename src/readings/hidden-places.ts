/** Whether a place of a line is hidden. */
import type { Millimetres } from "../geometry/units.js";
import { hiddenByLine } from "../layout/hidden.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { isHidden } from "./reach.js";

export const hiddenAt = ({ hidden }: Layout, { key }: Line, s: Millimetres): boolean =>
  isHidden(hiddenByLine(hidden).get(key) ?? [], s);
