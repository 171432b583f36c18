/**
 * Which layers of a sheet have to be painted again. While something is in the hand, what moves is painted with it on the
 * uppermost layer, and what lies still is left on the paper as it is.
 */
import { makeParting, type Parts, type SomeLines } from "../../drafting/moving-lines.js";
import type { Plan } from "../../plan/schema.js";
import type { EditorState } from "../store.js";

/** From below: floor and benches, the other decks, track with labels, what is in hand. */
export const LAYERS = ["ground", "ghosts", "track", "over"] as const;
export type LayerName = (typeof LAYERS)[number];

export interface Staleness {
  /** What moves and what lies still; undefined where all is drawn as one. */
  partsOf(state: EditorState): Parts | undefined;
  between(now: EditorState, before: EditorState): LayerName[];
}

export function makeStaleness(): Staleness {
  const parting = makeParting();
  let last: { readonly settled: unknown; readonly layout: unknown; readonly parts: Parts | undefined } | undefined;
  const partsOf = ({ settled, layout }: EditorState): Parts | undefined => {
    if (last?.settled !== settled || last.layout !== layout)
      last = { settled, layout, parts: parting.of(settled, layout) };
    return last.parts;
  };
  /** What the layers of track show: the lines that lie still, or a whole layout. */
  const still = (state: EditorState): SomeLines | EditorState["layout"] => partsOf(state)?.still ?? state.layout;
  let painted: ReturnType<typeof still> | undefined;
  return {
    partsOf,
    between(now, before) {
      painted ??= still(before);
      if (now.viewport !== before.viewport || now.units !== before.units) {
        painted = still(now);
        return [...LAYERS];
      }
      const names = new Set<LayerName>();
      if (now.layout !== before.layout || now.settled !== before.settled) {
        if (GROUND.some((part) => now.plan[part] !== before.plan[part])) names.add("ground").add("ghosts").add("track");
        if (still(now) !== painted) names.add("ghosts").add("track");
        painted = still(now);
        names.add("over");
      }
      if (now.underlay !== before.underlay) names.add("ground");
      if (now.readings !== before.readings) names.add("track");
      if (now.selection !== before.selection || now.show !== before.show || now.hover !== before.hover)
        names.add("over");
      return LAYERS.filter((name) => names.has(name));
    },
  };
}

/** What floor, benches and names are drawn from. */
const GROUND = [
  "room",
  "decks",
  "benches",
  "gates",
  "backdrops",
  "labels",
  "option",
  "scale",
] as const satisfies readonly (keyof Plan)[];
