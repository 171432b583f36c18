/**
 * The published figures of a whole layout: cars it runs with, their share of what the main holds, cars moved in a cycle.
 * Storage is what stands in yards and spurs; connecting is all that is neither main (or branch) nor stood on: leads,
 * ladders, throats. Nothing limits them; they tell one plan from another.
 */
import type { Layout } from "../layout/layout.js";
import { cite } from "../standards/cited.js";
import { WHOLE_LAYOUT, wholeLayout } from "../standards/whole-layout.js";
import { remember } from "./remember.js";
import type { Rule } from "./rule.js";
import { useOf } from "./runs-of-track.js";
import { sidingsOf } from "./siding-lengths.js";
import { standingTracks } from "./standing-tracks.js";

interface Lengths {
  readonly storage: number;
  readonly staging: number;
  readonly passing: number;
  readonly connecting: number;
  readonly main: number;
}

/** Track by what it is for, mm; together all the track there is. */
const lengthsOf = remember((layout: Layout): Lengths => {
  const sum = (clear: readonly { readonly clear: number }[]): number => clear.reduce((all, one) => all + one.clear, 0);
  const storage = sum(standingTracks(layout, "yard")) + sum(standingTracks(layout, "spur"));
  const staging = sum(standingTracks(layout, "staging"));
  const sidings = sidingsOf(layout).filter(({ use }) => use === "siding");
  const passing = sum(sidings);
  let [all, main] = [0, 0];
  for (const line of layout.lines.values()) {
    all += line.path.length;
    const use = useOf(layout, line);
    if (line.kind === "track" && (use === "main" || use === "branch")) main += line.path.length;
  }
  return { storage, staging, passing, main, connecting: Math.max(0, all - storage - staging - passing - main) };
});

export const totals: Rule = {
  id: "totals",
  take({ plan, layout }) {
    if (layout.lines.size === 0) return [];
    const car = plan.standards.averageCar.value;
    const lengths = lengthsOf(layout);
    const held = {
      storage: lengths.storage / car,
      staging: lengths.staging / car,
      passing: lengths.passing / car,
      connecting: lengths.connecting / car,
      main: lengths.main / car,
    };
    const { cars, share, moved } = wholeLayout(held);
    const count = (value: number) => ({ value: Math.floor(value), unit: "count" }) as const;
    return [
      {
        id: "totals",
        label: "Cars to run with, of what the main holds",
        value: share,
        unit: "percent",
        limit: undefined,
        bound: undefined,
        verdict: "none",
        places: [],
        source: cite(WHOLE_LAYOUT),
        figures: {
          "cars to run with": count(cars),
          "moved in a cycle": count(moved),
          storage: count(held.storage),
          staging: count(held.staging),
          passing: count(held.passing),
          connecting: count(held.connecting),
          main: count(held.main),
        },
      },
    ];
  },
};
