/** What several rules ask of a line within one layout, found once. */
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import { remember } from "./remember.js";

export function perLine<V>(compute: (layout: Layout, line: Line) => V): (layout: Layout, line: Line) => V {
  const ofLayout = remember((_layout: Layout) => new Map<LineKey, { readonly value: V }>());
  return (layout, line) => {
    const known = ofLayout(layout);
    const before = known.get(line.key);
    if (before) return before.value;
    const value = compute(layout, line);
    known.set(line.key, { value });
    return value;
  };
}
