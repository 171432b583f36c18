/**
 * Turnouts by frog number: held to the least of their track's class, as the radius is; a wye and a slip by their own
 * number. Hidden ones are held to what is advised where nobody sees them derail as well, which is tight, not failed.
 */
import type { Layout } from "../layout/layout.js";
import { leastTurnout } from "../plan/settings.js";
import { cite } from "../standards/cited.js";
import { LEAST_HIDDEN_TURNOUT } from "../standards/operation.js";
import { hiddenAt } from "./hidden-places.js";
import type { Reading } from "./reading.js";
import { remember } from "./remember.js";
import { limitedReading, type Measured, type Rule, readingByClass } from "./rule.js";

/** Numbers of templates and slips follow from angles, which are known to a tenth of a degree; so are they to a tenth. */
const KNOWN_TO = 10;

/** Every turnout and slip by its number, at its points or where the tracks cross. */
export const turnoutNumbers = remember((layout: Layout): readonly Required<Omit<Measured, "note">>[] => {
  const { lines, turnouts, slips } = layout;
  const rounded = (number: number): number => Math.round(number * KNOWN_TO) / KNOWN_TO;
  const found = [...turnouts.values()].flatMap(({ id, host, at, number }) => {
    const line = lines.get(host);
    return line ? [{ value: rounded(number), line, s: at, thing: `turnouts.${id}` }] : [];
  });
  const slipped = [...slips.values()].flatMap(({ id, on, number }) => {
    const line = lines.get(on.line);
    return line ? [{ value: rounded(number), line, s: on.s, thing: `slips.${id}` }] : [];
  });
  return [...found, ...slipped];
});

export const turnoutSize: Rule = {
  id: "turnout-size",
  take(input) {
    const { plan, layout } = input;
    const all = turnoutNumbers(layout);
    const head = {
      id: "turnout-size",
      label: "Least frog number",
      unit: "count",
      bound: "least",
      margin: 0,
    } as const;
    const byClass = readingByClass(input, head, (_, trackClass) => leastTurnout(plan, trackClass), all);
    const hidden = all.filter(({ line, s }) => hiddenAt(layout, line, s));
    if (hidden.length === 0) return byClass;
    const limit = { value: LEAST_HIDDEN_TURNOUT.value, source: cite(LEAST_HIDDEN_TURNOUT) };
    const whole = { ...head, scope: "hidden", label: "Least frog number, hidden", limit };
    const reading: Reading = limitedReading(plan, whole, hidden);
    return [...byClass, reading.verdict === "fails" ? { ...reading, verdict: "tight" } : reading];
  },
};
