/**
 * Names of places stand where their owner put them, or a little aside where they would lie on track or on one another.
 * Those of the decks in hand may lie on track, which breaks under them, rather than be left out; those of pale decks need
 * room. A name too long for the room at this scale is left out, but one that was put outside it.
 */
import { recordsInHand } from "../layout/options.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Ink } from "./batch.js";
import { pointsBox } from "./boxes.js";
import { deckTone } from "./decks.js";
import { type Ground, type Label, onPaper, type Paper, readable, settle, textWidth } from "./label.js";
import { cornersOf, type Occupancy, type PaperBox } from "./occupancy.js";

const NAME_SIZE = 15;
const NAMES_OFF_TRACK = 2;
/** A name that takes more of the room's width does not lie on its track: from so far away it would hide the plan. */
const MOST_OF_ROOM = 1 / 3;

export function placeLabels(paper: Paper, ground: Ground, plan: Plan, deck: Id, pale: boolean): Label[] {
  const tone = deckTone(plan, deck);
  const { minX, maxX } = pointsBox(plan.room.outline);
  const widest = (maxX - minX) * paper.scale * MOST_OF_ROOM;
  const ink: Ink = pale || tone === "staging" ? `${tone}-ink` : "ink";
  return recordsInHand(plan, plan.labels).flatMap(([, label]): Label[] => {
    // A label of no deck is told with the deck in hand.
    if (label.deck === undefined ? pale : label.deck !== deck) return [];
    const at = onPaper(paper, label.at);
    const turn = readable(-(label.heading ?? 0));
    const wanted = { ...at, width: textWidth(label.text, NAME_SIZE, "name"), height: NAME_SIZE, turn };
    const places = [...aside(wanted, pale ? NEAR : FAR)];
    const box = settle(ground, places, NAMES_OFF_TRACK) ?? lastResort(ground, places, !pale && wanted.width <= widest);
    if (!box) return [];
    ground.labels.markBox(box);
    const where = { x: box.x, y: box.y };
    return [
      {
        kind: pale ? "pale-place" : "place",
        anchor: label.at,
        box,
        marks: [{ kind: "text", at: where, text: label.text, size: NAME_SIZE, ink, face: "name", italic: true, turn }],
      },
    ];
  });
}

function lastResort(ground: Ground, places: readonly PaperBox[], onTrack: boolean): PaperBox | undefined {
  const [wanted] = places;
  if (!wanted) return undefined;
  // Outside the room by choice.
  const outside = !ground.isOnFloor(wanted);
  const { labels, track, edges } = ground;
  // Track may cross a name, but not run along under it, where it would be lost.
  const across: Pick<Occupancy, "isFree"> = {
    isFree: (box, margin) => partsOf(box).filter((part) => !track.isFree(part, margin)).length <= PARTS / 2,
  };
  const free = (...taken: readonly Pick<Occupancy, "isFree">[]): PaperBox | undefined =>
    places.find(
      (box) => taken.every((one) => one.isFree(box, 0)) && (outside || cornersOf(box).every(ground.isOnFloor)),
    );
  return free(labels, track, edges) ?? (onTrack ? (free(labels, edges, across) ?? free(labels, across)) : undefined);
}

const PARTS = 6;

/** A box cut across its length. */
const partsOf = (box: PaperBox): PaperBox[] => {
  const angle = (box.turn * Math.PI) / 180;
  const width = box.width / PARTS;
  return Array.from({ length: PARTS }, (_, i) => {
    const along = (i - (PARTS - 1) / 2) * width;
    return { ...box, x: box.x + along * Math.cos(angle), y: box.y + along * Math.sin(angle), width };
  });
};

/** A box where it is, then moved along and across its own direction, nearest first. */
function* aside(box: PaperBox, most: number): Generator<PaperBox> {
  const angle = (box.turn * Math.PI) / 180;
  const along = { x: Math.cos(angle) * box.width, y: Math.sin(angle) * box.width };
  const across = { x: -Math.sin(angle) * box.height, y: Math.cos(angle) * box.height };
  for (const [u, v] of NUDGES) {
    if (Math.abs(v) > most) continue;
    yield { ...box, x: box.x + u * along.x + v * across.x, y: box.y + u * along.y + v * across.y };
  }
}

/** How far across names go from where they were put, in heights: those of pale decks less far. */
const NEAR = 2;
const FAR = 4;
/** In widths and heights of the lettering. */
const NUDGES: readonly (readonly [number, number])[] = [0, 0.7, -0.7, 1.3, -1.3, 2, -2, 3, -3, 4, -4]
  .flatMap((v) => [0, 0.25, -0.25, 0.5, -0.5].map((u) => [u, v] as const))
  .sort(([u1, v1], [u2, v2]) => Math.abs(u1) * 2 + Math.abs(v1) - Math.abs(u2) * 2 - Math.abs(v2));
