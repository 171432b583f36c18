/** Hidden stretches: what the owner marked so, and everything on a staging deck. Dashed on every drawing. */
import type { Plan } from "../plan/schema.js";
import type { HiddenStretch } from "./layout.js";
import type { Line, LineKey } from "./line.js";

export function deriveHidden(plan: Plan, lines: ReadonlyMap<LineKey, Line>): HiddenStretch[] {
  const hidden: HiddenStretch[] = [];
  for (const line of lines.values()) {
    const whole = { line: line.key, from: 0, to: line.path.length };
    if (plan.decks[line.deck]?.kind === "staging") {
      hidden.push({ ...whole, why: "staging" });
      continue;
    }
    const host = line.kind === "track" ? line.id : plan[`${line.kind}s`][line.id]?.on;
    const marked = plan.tracks[host ?? ""]?.hidden;
    if (marked === true) hidden.push({ ...whole, why: "marked" });
    // A stretch marked on a track says nothing of the turnout routes that leave it.
    if (!Array.isArray(marked) || line.kind !== "track") continue;
    for (const span of marked as readonly { readonly from: number; readonly to: number }[]) {
      const from = Math.max(0, Math.min(span.from, span.to));
      const to = Math.min(line.path.length, Math.max(span.from, span.to));
      if (to > from) hidden.push({ line: line.key, from, to, why: "marked" });
    }
  }
  return hidden;
}
