/**
 * The section: what a cut across the room from one point to another goes through, as distances along the cut and heights
 * above the floor. Nothing beyond the cut is in it.
 *
 * Always holds: everything lies between 0 and the cut's length; a deck's bodies are where its benches and gates are on
 * the cut; a track stands at the point where its centre line crosses the cut, at its railhead there; the cut made the
 * other way round gives the same section reversed.
 */
import { type Area } from "../geometry/areas.js";
import {
  clipStretches,
  crossingAhead,
  cutArea,
  gapsBetween,
  type Stretch,
  uniteStretches,
} from "../geometry/cut-area.js";
import { bearing, distance, type Point, type Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Opening } from "../plan/schema.js";
import { outlineArea } from "./bench-shape-outline.js";
import type { Layout } from "./layout.js";
import type { Line } from "./line.js";
import { recordsInHand } from "./options.js";
import { type CutTrack, cutTracks, type TrackThrows } from "./section-tracks.js";

/** From one point of the sheet to another; one looks across it to its left. */
export interface Cut {
  readonly from: Point;
  readonly to: Point;
}

/** The face of a wall, and what opens in it there. */
export interface WallFace {
  readonly at: Millimetres;
  /** The side of the face on which the wall is. */
  readonly solid: "before" | "after";
  readonly openings: readonly {
    readonly id: Id;
    readonly kind: Opening["kind"];
    readonly sill: number;
    readonly head: number;
  }[];
}

/** A body that is cut: a stretch along the cut, from a bottom to a top. */
export interface Body extends Stretch {
  readonly bottom: Millimetres;
  readonly top: Millimetres;
}

/** Benches of a deck, or a gate of it; the top is the railhead, the bottom its structure's underside. */
export interface DeckBody extends Body {
  readonly deck: Id;
  /** Id of the gate, where it is one. */
  readonly gate?: Id;
}

export interface CutBackdrop {
  readonly id: Id;
  readonly deck: Id;
  readonly at: Millimetres;
  readonly bottom: Millimetres;
  readonly top: Millimetres;
}

export interface Section {
  readonly cut: Cut;
  readonly length: Millimetres;
  readonly ceiling: Millimetres;
  /** Stretches within the room. */
  readonly room: readonly Stretch[];
  readonly walls: readonly WallFace[];
  readonly obstacles: readonly (Body & { readonly id: Id })[];
  readonly decks: readonly DeckBody[];
  readonly backdrops: readonly CutBackdrop[];
  /** In order along the cut, lower ones first. */
  readonly tracks: readonly CutTrack[];
  /** Floor on which nothing stands. */
  readonly floor: readonly Stretch[];
}

/** Shorter cuts have no direction. */
const NO_CUT: Millimetres = 1;
/** A wall's face this near to the end of a cut is still cut; hands do not end lines in walls to a hair. */
const AT_END: Millimetres = 1;
/** An area's edge and the outline it was made of are this near. */
const SAME_PLACE: Millimetres = 0.01;

/**
 * Undefined where the points coincide. `throws` gives how far the longest car reaches to either side of a line's samples;
 * where it is left out cars reach no farther than on straight track.
 */
export function deriveSection(layout: Layout, cut: Cut, throws?: (line: Line) => TrackThrows): Section | undefined {
  const length = distance(cut.from, cut.to);
  if (!(length > NO_CUT) || !Number.isFinite(length)) return undefined;
  const { plan, space } = layout;
  const pose: Pose = { x: cut.from.x, y: cut.from.y, heading: bearing(cut.from, cut.to) };
  const whole: Stretch = { from: 0, to: length };
  const across = (area: Area): Stretch[] => clipStretches(cutArea(area, pose), whole);

  const uncut = cutArea(space.room, pose);
  const room = clipStretches(uncut, whole);
  const obstacles = space.obstacles.flatMap(({ id, area, from: bottom, to: top }) =>
    across(area).map((stretch) => ({ ...stretch, id, bottom, top })),
  );
  const decks = deckBodies(layout, across);
  const backdrops = [...space.decks].flatMap(([deck, own]) =>
    own.backdrops.flatMap(({ id, line, from: bottom, to: top }) =>
      line.slice(1).flatMap((q, i) => {
        const at = crossingAhead(pose, line[i] as Point, q)?.ahead;
        return at === undefined || at < 0 || at > length ? [] : [{ id, deck, at, bottom, top }];
      }),
    ),
  );
  const tracks = cutTracks(layout, pose, length, decks, throws);
  const standing = obstacles.filter(({ bottom }) => bottom < plan.room.ceiling / 2);
  const floor = room.flatMap((stretch) => gapsBetween(stretch, [...decks, ...standing]));
  const walls = wallFaces(layout, pose, length, uncut);
  return { cut, length, ceiling: plan.room.ceiling, room, walls, obstacles, decks, backdrops, tracks, floor };
}

function deckBodies({ plan, space }: Layout, across: (area: Area) => Stretch[]): DeckBody[] {
  const gates = recordsInHand(plan, plan.gates);
  return [...space.decks].flatMap(([id, own]) => {
    const deck = plan.decks[id];
    if (!deck) return [];
    const body = { deck: id, bottom: deck.height - deck.thickness, top: deck.height };
    const benches = uniteStretches([...own.byBench.values()].flatMap(across));
    const bodies: DeckBody[] = benches.map((stretch) => ({ ...stretch, ...body }));
    for (const [gate, record] of gates) {
      if (record.deck !== id) continue;
      // Where a gate rests on a bench the bench is cut.
      for (const stretch of across(outlineArea(record.outline).area)) {
        bodies.push(...gapsBetween(stretch, benches).map((gap) => ({ ...gap, ...body, gate })));
      }
    }
    return bodies;
  });
}

function wallFaces({ plan }: Layout, pose: Pose, length: Millimetres, uncut: readonly Stretch[]): WallFace[] {
  const { outline, openings } = plan.room;
  const face = (at: Millimetres, solid: WallFace["solid"]): WallFace[] => {
    if (at < -AT_END || at > length + AT_END) return [];
    const open = outline.flatMap((p, wall) => {
      const q = outline[(wall + 1) % outline.length] ?? p;
      const crossing = crossingAhead(pose, p, q);
      if (!crossing || Math.abs(crossing.ahead - at) > SAME_PLACE) return [];
      const along = crossing.share * distance(p, q);
      return Object.entries(openings)
        .filter(([, o]) => o.wall === wall && along >= o.at && along <= o.at + o.width)
        .map(([id, o]) => ({
          id,
          kind: o.kind,
          sill: o.sill ?? 0,
          head: Math.min(o.head ?? plan.room.ceiling, plan.room.ceiling),
        }));
    });
    return [{ at: Math.min(Math.max(at, 0), length), solid, openings: open }];
  };
  return uncut.flatMap(({ from, to }) => [...face(from, "before"), ...face(to, "after")]);
}
