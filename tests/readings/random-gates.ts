/** Gates added to plans of chance: one with a track of its own square across it, one where there may be a turnout. */
import { at, box, type Draft, straight } from "./fixture.js";

export function withGates(plan: Draft, random: () => number): Draft {
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  let draft = plan;
  const kind = (): { kind: "lift-out" | "lift" | "swing" | "drop"; hinge: number } => ({
    kind: pick(["lift-out", "lift", "swing", "drop"]),
    hinge: pick([0, 1, 2, 3]),
  });
  if (random() < 0.3)
    draft = draft
      .track("lone", at(500, 300, pick([0, 0, 3, 12])), [straight(3000)])
      .gate("flap", box(1500, 150, 2100, 450 + 400 * random()), "lower", kind());
  if (random() < 0.3) {
    const from = 900 + 2000 * random();
    draft = draft.gate("leaf", box(from, 5200, from + 600, 5420), "lower", kind());
  }
  return draft;
}
