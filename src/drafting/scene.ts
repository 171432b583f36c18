/**
 * What is drawn of a layout in one view of its decks: batches of like things in the order they are painted, and marks of
 * constant size. Shapes are kept as long as what they are made of, so that an edit makes anew only what it changed.
 *
 * Always holds: every line of the decks in hand that touches the visible box is in a batch, and nothing that lies wholly
 * outside it; the same look at the same layout makes no shape anew.
 */
import type { Layout } from "../layout/layout.js";
import type { Id } from "../plan/schema.js";
import type { Batch, Look } from "./batch.js";
import { type DeckTone, deckTone, decksInOrder, levelWith } from "./decks.js";
import { type Mark, marksOf } from "./scene-marks.js";
import { type BenchShapes, deckBatches, ghostBenches, makeBenchShapes } from "./scene-decks.js";
import { type RoomShapes, makeRoomShapes, roomGround, roomOver } from "./scene-room.js";
import { makeTrackShapes, type TrackShapes, ghostTrack, trackBatches } from "./scene-track.js";

export interface Scene {
  /** Walls, floor, benches, obstacles. */
  readonly ground: readonly Batch[];
  /** The other decks: benches, and track over them. */
  readonly ghosts: readonly Batch[];
  readonly ghostTrack: readonly Batch[];
  readonly track: readonly Batch[];
  readonly marks: readonly Mark[];
}

export interface Scenes {
  sceneOf(layout: Layout, look: Look): Scene;
  /** Shapes made so far, by kind; for counting what an edit makes anew. */
  readonly made: { readonly lines: number; readonly benches: number; readonly rooms: number };
}

/** A maker of scenes with its own store of shapes. */
export function makeScenes(): Scenes {
  const track: TrackShapes = makeTrackShapes();
  const benches: BenchShapes = makeBenchShapes();
  const room: RoomShapes = makeRoomShapes();
  return {
    get made() {
      return { lines: track.made, benches: benches.made, rooms: room.made };
    },
    sceneOf(layout, look) {
      const { plan } = layout;
      const level = levelWith(plan, look.deck).filter((id) => Object.hasOwn(plan.decks, id));
      const others = look.others === "alone" ? [] : decksInOrder(plan).filter((id) => !level.includes(id));
      const tone = (deck: Id): DeckTone => deckTone(plan, deck);
      // The deck in hand lies over those level with it.
      const drawn = [...level].reverse();
      const trackOfOthers = (): Batch[] =>
        look.others === "through" ? ghostTrack(track, layout, look, others, level) : [];
      // Each part is put together when it is painted: not every frame paints them all.
      return {
        get ground() {
          return [
            ...roomGround(room, plan, look),
            ...drawn.flatMap((deck) => deckBatches(benches, layout, deck, tone(deck))),
            ...roomOver(room, plan, look),
          ];
        },
        get ghosts() {
          const outline = look.others === "outline";
          return [
            ...others.flatMap((deck) => ghostBenches(benches, layout, deck, tone(deck), outline)),
            ...trackOfOthers(),
          ];
        },
        get ghostTrack() {
          return trackOfOthers();
        },
        get track() {
          return drawn.flatMap((deck) => trackBatches(track, layout, look, deck, tone(deck)));
        },
        get marks() {
          return marksOf(layout, look, level);
        },
      };
    },
  };
}
