/**
 * Names of places stand where their owner put them, or a little aside where they would lie on track or on one another.
 * Those of the decks in hand may lie on track rather than be left out; those of pale decks need room.
 */
import type { Id, Plan } from "../plan/schema.js";
import type { Ink } from "./batch.js";
import { deckTone } from "./decks.js";
import { type Ground, type Label, onPaper, type Paper, readable, settle, textWidth } from "./label.js";
import type { PaperBox } from "./occupancy.js";

const NAME_SIZE = 15;
const NAMES_OFF_TRACK = 2;

export function placeLabels(paper: Paper, ground: Ground, plan: Plan, deck: Id, pale: boolean): Label[] {
  const tone = deckTone(plan, deck);
  const ink: Ink = pale || tone === "staging" ? `${tone}-ink` : "ink";
  return Object.values(plan.labels).flatMap((label): Label[] => {
    // A label of no deck is told with the deck in hand.
    if (label.deck === undefined ? pale : label.deck !== deck) return [];
    const at = onPaper(paper, label.at);
    const turn = readable(-(label.heading ?? 0));
    const wanted = { ...at, width: textWidth(label.text, NAME_SIZE, "name"), height: NAME_SIZE, turn };
    const places = [...aside(wanted)];
    const box =
      settle(ground, places, NAMES_OFF_TRACK) ??
      places.find((place) => [ground.labels, ground.track, ground.edges].every((taken) => taken.isFree(place, 0))) ??
      (pale || !ground.labels.isFree(wanted, 0) ? undefined : wanted);
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

/** A box where it is, then moved along and across its own direction, nearest first. */
function* aside(box: PaperBox): Generator<PaperBox> {
  const angle = (box.turn * Math.PI) / 180;
  const along = { x: Math.cos(angle) * box.width, y: Math.sin(angle) * box.width };
  const across = { x: -Math.sin(angle) * box.height, y: Math.cos(angle) * box.height };
  for (const [u, v] of NUDGES) {
    yield { ...box, x: box.x + u * along.x + v * across.x, y: box.y + u * along.y + v * across.y };
  }
}

/** In widths and heights of the lettering. */
const NUDGES: readonly (readonly [number, number])[] = [0, 0.7, -0.7, 1.3, -1.3]
  .flatMap((v) => [0, 0.25, -0.25, 0.5, -0.5].map((u) => [u, v] as const))
  .sort(([u1, v1], [u2, v2]) => Math.abs(u1) * 2 + Math.abs(v1) - Math.abs(u2) * 2 - Math.abs(v2));
