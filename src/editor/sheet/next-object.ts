/** Going from object to object by the keyboard and by the list of objects. */
import { boxesOverlap } from "../../drafting/boxes.js";
import { objectsOf } from "../../drafting/objects.js";
import { deckOf, sameObject } from "../../drafting/thing.js";
import { thingBox } from "../../drafting/thing-shape.js";
import { visibleBox } from "../../drafting/viewport.js";
import type { EditorStore } from "../store.js";
import type { Selected } from "../tool.js";

/** Chooses a thing and brings it into the window, its deck in hand. */
export function choose(store: EditorStore, thing: Selected): void {
  const { plan, layout, viewport, select, setDeck, setViewport } = store.getState();
  const deck = deckOf(plan, thing);
  if (deck !== undefined) setDeck(deck);
  select([thing]);
  const box = thingBox(layout, thing);
  if (!box || boxesOverlap(box, visibleBox(viewport))) return;
  setViewport({ ...viewport, centre: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 } });
}

/** The object after or before the chosen one; false where nothing is chosen, so that Tab can leave the sheet. */
export function stepObject(store: EditorStore, way: 1 | -1): boolean {
  const { settled, selection, units } = store.getState();
  const last = selection.at(-1);
  const things = objectsOf(settled, units).map(({ thing }) => thing);
  const at = last ? things.findIndex((thing) => sameObject(thing, last)) : -1;
  const next = things[(at + way + things.length) % Math.max(things.length, 1)];
  if (at === -1 || !next) return false;
  choose(store, next);
  return true;
}
