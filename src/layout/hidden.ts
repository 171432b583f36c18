/** Hidden stretches: what the owner marked so, and everything on a staging deck. Dashed on every drawing. */
import type { Plan, Track } from "../plan/schema.js";
import type { HiddenStretch } from "./layout.js";
import type { Line, LineKey } from "./line.js";

export function deriveHidden(plan: Plan, lines: ReadonlyMap<LineKey, Line>): HiddenStretch[] {
  const hidden: HiddenStretch[] = [];
  for (const line of lines.values()) {
    const staging = plan.decks[line.deck]?.kind === "staging";
    const host = line.kind === "track" ? line.id : plan[`${line.kind}s`][line.id]?.on;
    const marked = plan.tracks[host ?? ""]?.hidden;
    if (staging || marked !== undefined) hidden.push(...hiddenOn(line, staging, marked));
  }
  return hidden;
}

type Marked = Track["hidden"];

const known = new WeakMap<Line, { staging: boolean; marked: Marked; hidden: readonly HiddenStretch[] }>();

/** Hidden stretches of a line; the same objects again for the same line. */
function hiddenOn(line: Line, staging: boolean, marked: Marked): readonly HiddenStretch[] {
  const before = known.get(line);
  if (before?.staging === staging && before.marked === marked) return before.hidden;
  const hidden = stretchesOf(line, staging, marked);
  known.set(line, { staging, marked, hidden });
  return hidden;
}

function stretchesOf(line: Line, staging: boolean, marked: Marked): HiddenStretch[] {
  const whole = { line: line.key, from: 0, to: line.path.length };
  if (staging) return [{ ...whole, why: "staging" }];
  if (marked === true) return [{ ...whole, why: "marked" }];
  // A stretch marked on a track says nothing of the turnout routes that leave it.
  if (marked === undefined || marked === false || line.kind !== "track") return [];
  return marked.flatMap((span): HiddenStretch[] => {
    const from = Math.max(0, Math.min(span.from, span.to));
    const to = Math.min(line.path.length, Math.max(span.from, span.to));
    return to > from ? [{ line: line.key, from, to, why: "marked" }] : [];
  });
}

const lists = new WeakMap<readonly HiddenStretch[], ReadonlyMap<LineKey, readonly HiddenStretch[]>>();

/** The hidden stretches of each line, in order along it; kept with the list. */
export function hiddenByLine(hidden: readonly HiddenStretch[]): ReadonlyMap<LineKey, readonly HiddenStretch[]> {
  const before = lists.get(hidden);
  if (before) return before;
  const byLine = new Map<LineKey, HiddenStretch[]>();
  for (const stretch of hidden) {
    const own = byLine.get(stretch.line);
    if (own) own.push(stretch);
    else byLine.set(stretch.line, [stretch]);
  }
  for (const own of byLine.values()) own.sort((a, b) => a.from - b.from);
  lists.set(hidden, byLine);
  return byLine;
}
