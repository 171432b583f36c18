/** Benches, gates and backdrops of a scene: tinted with a solid fascia in hand, an empty dash-dot outline otherwise. */
import type { Area } from "../geometry/areas.js";
import type { Layout } from "../layout/layout.js";
import type { DeckSpace } from "../layout/space.js";
import { recordsInHand } from "../layout/options.js";
import type { Gate, Id } from "../plan/schema.js";
import type { DeckTone } from "./decks.js";
import { type Outline, pointsOutline } from "./line-shapes.js";
import { DASH, WEIGHT } from "./line-weights.js";
import type { Batch } from "./batch.js";

export interface BenchShapes {
  made: number;
  readonly kept: WeakMap<Area | DeckSpace["backdrops"] | Gate, Outline>;
}

export const makeBenchShapes = (): BenchShapes => ({ made: 0, kept: new WeakMap() });

function keep(store: BenchShapes, of: Area | DeckSpace["backdrops"] | Gate, make: () => Outline): Outline {
  let shape = store.kept.get(of);
  if (!shape) {
    shape = make();
    store.made++;
    store.kept.set(of, shape);
  }
  return shape;
}

const benchShape = (store: BenchShapes, bench: Area): Outline => keep(store, bench, () => pointsOutline(bench, true));

export function deckBatches(store: BenchShapes, layout: Layout, deck: Id, tone: DeckTone): Batch[] {
  const space = layout.space.decks.get(deck);
  if (!space) return [];
  const batches: Batch[] = [];
  if (space.bench.length > 0) {
    batches.push({
      key: `${deck} bench`,
      shapes: [benchShape(store, space.bench)],
      fill: `${tone}-tint`,
      stroke: `${tone}-edge`,
      weight: WEIGHT.fascia,
    });
  }
  const gates = recordsInHand(layout.plan, layout.plan.gates).flatMap(([, gate]) =>
    gate.deck === deck ? [keep(store, gate, () => pointsOutline([gate.outline], true))] : [],
  );
  if (gates.length > 0) {
    // The fascia is taken out where a gate parts from the bench, then drawn again in dashes.
    const { gate: dash } = DASH;
    batches.push({ key: `${deck} gate ground`, shapes: gates, stroke: `${tone}-tint`, weight: 1.6 });
    batches.push({ key: `${deck} gates`, shapes: gates, stroke: `${tone}-edge`, weight: WEIGHT.fascia, dash });
  }
  if (space.backdrops.length > 0) {
    const lines = () =>
      pointsOutline(
        space.backdrops.map((backdrop) => backdrop.line),
        false,
      );
    const shapes = [keep(store, space.backdrops, lines)];
    batches.push({ key: `${deck} backdrops`, shapes, stroke: "ink2", weight: 2.4 });
    batches.push({ key: `${deck} backdrop cores`, shapes, stroke: `${tone}-tint`, weight: 1 });
  }
  return batches;
}

export function ghostBenches(store: BenchShapes, layout: Layout, deck: Id, tone: DeckTone, bare: boolean): Batch[] {
  const bench = layout.space.decks.get(deck)?.bench ?? [];
  if (bench.length === 0) return [];
  return [
    {
      key: `${deck} fascia`,
      shapes: [benchShape(store, bench)],
      stroke: `${tone}-edge`,
      weight: bare ? WEIGHT.dimension : WEIGHT.fascia,
      ...(bare ? {} : { dash: DASH.fasciaAbove }),
    },
  ];
}
