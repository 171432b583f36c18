/** How much track there is, in all and by class. Nothing limits it; it is what is bought and laid. */
import { TRACK_CLASSES } from "../plan/schema.js";
import type { Reading } from "./reading.js";
import type { Rule } from "./rule.js";

export const length: Rule = {
  id: "length",
  take({ layout }) {
    const totals = new Map<string, number>();
    let all = 0;
    for (const line of layout.lines.values()) {
      // A turnout's diverging route counts with the class of its host, whose own way through is measured already.
      totals.set(line.class, (totals.get(line.class) ?? 0) + line.path.length);
      all += line.path.length;
    }
    const reading = (label: string, value: number | undefined, scope?: string): Reading => ({
      id: "length",
      ...(scope !== undefined && { scope }),
      label,
      value,
      unit: "mm",
      limit: undefined,
      bound: undefined,
      verdict: "none",
      places: [],
      source: "measured along centre lines",
    });
    const classes = TRACK_CLASSES.filter((c) => totals.has(c));
    return [
      reading("Track, all", layout.lines.size > 0 ? all : undefined),
      ...classes.map((c) => reading(`Track, ${c}`, totals.get(c), c)),
    ];
  },
};
