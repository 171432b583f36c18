/** Flying to a place of the sheet: the window glides there in 320 ms, or is there at once for who wants no motion. */
import type { Viewport } from "../../drafting/viewport.js";
import type { Point } from "../../geometry/pose.js";
import type { Thing } from "../../drafting/thing.js";
import type { Place } from "../../readings/reading.js";
import { COLLECTIONS } from "../../plan/schema.js";
import type { EditorStore } from "../store.js";

const FLIGHT = 320;
/** A place is looked at no farther away than this, px per mm: about 1.5 m of room across a hand's breadth of screen. */
const NEAR = 0.35;

/** The thing a reading's place names (`tracks.x`, `tracks.x.legs.2`, `room.obstacles.y`); undefined for `room`. */
export function thingNamed(name: string): Thing | undefined {
  const [first, id, part, leg] = name.split(".");
  if (first === "room" && part !== undefined) {
    if (id === "openings") return { kind: "opening", id: part };
    return id === "obstacles" ? { kind: "obstacle", id: part } : undefined;
  }
  const collection = COLLECTIONS.find((known) => known === first);
  if (collection === undefined || id === undefined) return undefined;
  const index = Number(leg);
  return {
    kind: "record",
    collection,
    id,
    ...(part === "legs" && Number.isInteger(index) && { leg: index }),
  };
}

/** Shows a place: its deck in hand, the thing there selected, the window over it. */
export function showPlace(store: EditorStore, place: Place): void {
  const state = store.getState();
  if (place.deck !== "") state.setDeck(place.deck);
  const thing = thingNamed(place.thing);
  if (thing) state.select([thing]);
  const { line, s } = { line: lineNamed(place.thing), s: place.s };
  if (line && s !== undefined) state.setHover({ line, s });
  flyTo(store, place.point);
}

const lineNamed = (thing: string) => {
  const [collection, id] = thing.split(".");
  if (id === undefined) return undefined;
  return collection === "tracks"
    ? (`track:${id}` as const)
    : collection === "turnouts"
      ? (`turnout:${id}` as const)
      : undefined;
};

let flight = 0;

export function flyTo(store: EditorStore, point: Point): void {
  const from = store.getState().viewport;
  const to = { centre: { x: point.x, y: point.y }, scale: Math.max(from.scale, NEAR) };
  cancelAnimationFrame(flight);
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return store.getState().setViewport({ ...from, ...to });
  const began = performance.now();
  const frame = (now: number): void => {
    const part = Math.min(1, Math.max(0, (now - began) / FLIGHT));
    // The window may have been resized meanwhile.
    const { width, height } = store.getState().viewport;
    store.getState().setViewport({ ...between(from, to, eased(part)), width, height });
    if (part < 1) flight = requestAnimationFrame(frame);
  };
  flight = requestAnimationFrame(frame);
}

/** Starts fast and comes to rest without bouncing. */
const eased = (part: number): number => 1 - (1 - part) ** 3;

/** Scales change in even ratios; the place goes to the middle in step with what is seen of it. */
export function between(
  from: Viewport,
  to: { readonly centre: Point; readonly scale: number },
  part: number,
): Viewport {
  const scale = from.scale * (to.scale / from.scale) ** part;
  // Where the scale changes, a point moves evenly on screen when its distance shrinks with the scale.
  const ratio = to.scale / from.scale;
  const done = Math.abs(ratio - 1) < 1e-6 ? part : (1 - from.scale / scale) / (1 - from.scale / to.scale);
  return {
    ...from,
    scale,
    centre: {
      x: from.centre.x + (to.centre.x - from.centre.x) * done,
      y: from.centre.y + (to.centre.y - from.centre.y) * done,
    },
  };
}
