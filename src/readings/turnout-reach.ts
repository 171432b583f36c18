/**
 * Turnouts within reach, always: the points of each turnout, held to the reach at its deck's height, as `reach` measures it.
 */
import { poseAt } from "../geometry/path.js";
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line, PlacedTurnout } from "../layout/line.js";
import type { Id } from "../plan/schema.js";
import { whileSame } from "./carry.js";
import { deckBenches } from "./deck-benches.js";
import { isHidden, sameHidden } from "./hidden-places.js";
import { decksByHeight, distanceIn, hiddenOf, reaching, reachReading, whyLess } from "./reach.js";
import { floorOf, hasBenches, reachAreaOf } from "./walkable.js";
import { lineContexts } from "./line-context.js";
import { rememberBeside } from "./remember.js";
import type { Measured, Rule } from "./rule.js";

export const turnoutReach: Rule = {
  id: "turnout-reach",
  take: whileSame(
    ({ plan, layout }) =>
      [
        hasBenches(layout) ? reachAreaOf(floorOf(layout)) : undefined,
        deckBenches(layout),
        sameHidden(layout),
        lineContexts(layout),
        layout.turnouts,
        plan.decks,
        plan.standards,
      ] as const,
    ({ plan, layout }) => {
      const by = reaching(plan, layout);
      if (!by) return [];
      const found = new Map<Id, Found[]>();
      for (const turnout of layout.turnouts.values()) {
        const host = layout.lines.get(turnout.host);
        if (!host) continue;
        const isUnseen = isHidden(hiddenOf(by, host), turnout.at);
        const measured = pointsIn(turnout, host, by.from, by.overhead(host.deck), by.less, isUnseen);
        const own = found.get(host.deck);
        if (own) own.push(measured);
        else found.set(host.deck, [measured]);
      }
      return decksByHeight(plan).flatMap(([id, deck]) => {
        const own = (found.get(id) ?? []).map((m) => ({ m, most: "fails" as const, thing: m.thing }));
        return reachReading(plan, "turnout-reach", `Turnouts within reach, ${deck.name}`, id, deck, own);
      });
    },
  ),
};

interface Found extends Measured {
  readonly thing: string;
}

/** How far in the points of a turnout lie. */
const pointsIn = rememberBeside(
  (
    { id, at }: PlacedTurnout,
    host: Line,
    from: PreparedArea,
    overhead: Parameters<typeof whyLess>[0],
    less: Millimetres,
    isUnseen: boolean,
  ): Found => {
    const p = poseAt(host.path, at);
    const why = whyLess(overhead, isUnseen, p);
    return {
      value: distanceIn(from, p) + (why === undefined ? 0 : less),
      line: host,
      s: at,
      thing: `turnouts.${id}`,
      ...(why !== undefined && { note: `${why}, counted farther in` }),
    };
  },
);
