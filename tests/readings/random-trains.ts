/** What trains are read of, added to plans of chance: a passing siding, a yard or staging on a lead, a spur. */
import { at, type Draft, from, join, right, straight } from "./fixture.js";

export function withTrains(plan: Draft, random: () => number): Draft {
  const between = (low: number, high: number): number => low + (high - low) * random();
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  let draft = plan.standards({ train: between(500, 2500), averageCar: 150, engine: pick([150, 300]) });
  if (random() < 0.4) draft = draft.standards({ trains: Math.floor(between(0, 5)) });
  if (random() < 0.4) {
    const [length, tail] = [between(900, 3000), between(100, 700)];
    draft = draft
      .track("line", at(700, 5300), [straight(1400 + length + tail)])
      .turnout("line-w", { on: "line", at: tail, hand: "left" })
      .turnout("line-e", { on: "line", at: 1300 + length, hand: "right", facing: "against" })
      .track(
        "loop",
        from("line-w"),
        [straight(150), right(700, 9.52728), straight(length), join(from("line-e"), 600)],
        {
          class: pick(["siding", "staging", "main", "branch"]),
        },
      );
  }
  if (random() < 0.4) {
    const lead = between(100, 2500);
    draft = draft.track("ladder", at(700, 4500), [straight(lead + 1200)], { class: pick(["lead", "lead", "main"]) });
    const use = pick(["yard", "staging", "spur"] as const);
    for (let i = 0; i < 3; i++) {
      draft = draft
        .turnout(`rung${i}`, { on: "ladder", at: lead + 380 * i, hand: "left" })
        .track(`road${i}`, from(`rung${i}`), [straight(between(100, 2000))], { class: use });
    }
  }
  return draft;
}
