/**
 * Edges: how near track comes to the edge of what carries it, and to walls, obstacles and backdrops at its height.
 * Beside a wall the longest car's throw toward it is taken off, so one limit serves straight and curve. Where a deck has
 * no benches yet there is no edge to keep from.
 */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import type { PlacedTurntable } from "../layout/turntable.js";
import type { Car, Plan } from "../plan/schema.js";
import { type Barriers, barriersOf, nearestBarrier } from "./barriers.js";
import { nearestBenchEdge } from "./bench-edge.js";
import { benchUnder, carrierOf } from "./bench-under.js";
import { whileSame } from "./carry.js";
import { type DeckBenches, deckBenches } from "./deck-benches.js";
import type { Throws } from "./envelope.js";
import { foundByLine, type LineContext, present } from "./line-context.js";
import { rememberBeside } from "./remember.js";
import { limitedReading, type Measured, type Rule } from "./rule.js";

export const edge: Rule = {
  id: "edge",
  take: whileSame(
    ({ plan, layout }) => {
      const { standards } = plan;
      const decks = deckBenches(layout);
      return [
        benchEdges(layout, plan.decks, decks),
        wallsNear(layout, barriersOf(layout), standards.longestCar.value),
        decks,
        layout.turntables,
        standards,
      ] as const;
    },
    ({ plan, layout }, [ofBenches, ofWalls, decks]) => {
      const benches = present(ofBenches);
      const walls = present(ofWalls);
      for (const turntable of layout.turntables.values()) {
        const line = layout.lines.get(turntable.approach.line);
        const carrier = line && benchUnder(layout, decks, line);
        const pit = line && carrier && nearestToPit(line, carrier, turntable);
        if (pit) benches.push(pit);
      }
      const { benchEdge, wall } = plan.standards;
      const head = { id: "edge", unit: "mm", bound: "least" } as const;
      return [
        limitedReading(plan, { ...head, scope: "bench", label: "Track to bench edge", limit: benchEdge }, benches),
        limitedReading(plan, { ...head, scope: "wall", label: "Track to wall or backdrop", limit: wall }, walls),
      ].filter((reading) => reading.value !== undefined);
    },
  ),
};

const benchEdges = foundByLine(
  ({ line, heights }: LineContext, decks: Plan["decks"], benches: DeckBenches): Measured | undefined => {
    const carrier = carrierOf(decks, benches, line, heights);
    return carrier && nearestBenchEdge(line, carrier);
  },
);

const wallsNear = foundByLine(
  ({ line, heights, throws }: LineContext, barriers: Barriers, car: Car): Measured | undefined =>
    heights && nearestWall(line, heights, barriers, throws, car),
);

/** How near the pit of a turntable comes to the edge; told at the end of its approach. */
function nearestToPit(
  line: Line,
  carrier: PreparedArea,
  { centre, radius, approach }: PlacedTurntable,
): Measured | undefined {
  const apart = carrier.nearestEdge(centre)?.distance;
  if (apart === undefined) return undefined;
  const value = (carrier.contains(centre) ? apart : -apart) - radius;
  const s = approach.end === "end" ? line.path.length : 0;
  return { value, line, s, note: value < 0 ? "the pit runs off the bench" : "edge of the pit" };
}

/**
 * The place of a line where least is clear beside it. From one place to another the distance to anything changes by no
 * more than the way between them: places that cannot have less are passed over.
 */
const nearestWall = rememberBeside(
  (line: Line, heights: Profile, barriers: Barriers, throws: Throws, car: Car): Measured | undefined => {
    const { count, s: stations } = line.samples;
    let least = Number.POSITIVE_INFINITY;
    let at = -1;
    let sure = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const s = stations[i] ?? 0;
      if (s < sure) continue;
      const { clear, any } = nearestBarrier(barriers, line, heights, car, throws, i);
      if (clear < least) [least, at] = [clear, i];
      sure = s + any - throws.most - least;
    }
    return at < 0 ? undefined : { value: least, line, s: stations[at] ?? 0 };
  },
);
