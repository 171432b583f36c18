/**
 * A line with what rules that look at pairs of lines ask of it: its heights and the throws of cars on it. The context
 * of a line is the same object as long as all of this stays, so that a pair is known by its two contexts.
 */
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { type Throws, throwsOf } from "./envelope.js";
import { remember, rememberBeside } from "./remember.js";

export interface LineContext {
  readonly line: Line;
  readonly heights: Profile | undefined;
  readonly throws: Throws;
}

const contextOf = rememberBeside(
  (line: Line, heights: Profile | undefined, throws: Throws): LineContext => ({ line, heights, throws }),
);

/** Contexts of all lines of a layout. */
export const lineContexts = remember((layout: Layout): ReadonlyMap<LineKey, LineContext> => {
  const contexts = new Map<LineKey, LineContext>();
  for (const line of layout.lines.values()) {
    contexts.set(line.key, contextOf(line, layout.profiles.get(line.key), throwsOf(layout, line)));
  }
  return contexts;
});
