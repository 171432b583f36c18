/** The room and what stands in it: walls, obstacles, and the benches, gates and backdrops of every deck. */
import type { Area } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id } from "../plan/schema.js";

export interface DeckSpace {
  /** Benches and gates of the deck, united. */
  readonly bench: Area;
  readonly byBench: ReadonlyMap<Id, Area>;
  readonly backdrops: readonly {
    readonly id: Id;
    readonly line: readonly Point[];
    readonly from: Millimetres;
    readonly to: Millimetres;
  }[];
}

export interface Space {
  readonly room: Area;
  readonly obstacles: readonly {
    readonly id: Id;
    readonly area: Area;
    readonly from: Millimetres;
    readonly to: Millimetres;
  }[];
  readonly decks: ReadonlyMap<Id, DeckSpace>;
}
