/**
 * What hangs on a record of an option that is not its own, told among the findings: it is amiss whichever option is in
 * hand, also while the other's record is there to hang on.
 */
import { poseAt } from "../geometry/path.js";
import type { Point } from "../geometry/pose.js";
import { printRef, type Ref } from "../plan/collections.js";
import { optionOf, strayReferences, strayText } from "../plan/option-records.js";
import type { Plan } from "../plan/schema.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey } from "./line.js";

/** The findings, with one for every record in hand that hangs on another option's; what was said of it before gives way. */
export function withStrays(
  plan: Plan,
  lines: ReadonlyMap<LineKey, Line>,
  findings: readonly Finding[],
): readonly Finding[] {
  const strays = strayReferences(plan).filter(({ from }) => [undefined, plan.option].includes(optionOf(plan, from)));
  if (strays.length === 0) return findings;
  const all = [...findings];
  const told = new Set<string>();
  for (const stray of strays) {
    const thing = printRef(stray.from);
    if (told.has(thing)) continue;
    told.add(thing);
    const note = strayText(plan, stray);
    const at = all.findIndex(
      (finding) =>
        finding.kind === "anchor-missing" && (finding.thing === thing || finding.thing.startsWith(`${thing}.`)),
    );
    const before = all[at];
    if (before) all[at] = { ...before, note };
    else all.push({ kind: "anchor-missing", thing, ...placeOf(plan, lines, stray.from), note });
  }
  return all;
}

function placeOf(
  { tracks, turnouts, turntables, slips, pins }: Plan,
  lines: ReadonlyMap<LineKey, Line>,
  { collection, id }: Ref,
): { readonly deck: string; readonly point: Point } {
  const on = collection === "pins" ? pins[id]?.track : (turnouts[id] ?? turntables[id] ?? slips[id])?.on;
  const line = lines.get(`track:${collection === "tracks" ? id : (on ?? "")}`);
  const at = collection === "tracks" ? 0 : (pins[id] ?? turnouts[id] ?? slips[id])?.at;
  const { x, y } = line ? poseAt(line.path, Math.min(at ?? 0, line.path.length)) : { x: 0, y: 0 };
  return { deck: line?.deck ?? tracks[id]?.deck ?? "", point: { x, y } };
}
