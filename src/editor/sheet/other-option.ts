/** A sheet of another option than the one in hand: to be looked at, panned and zoomed, not worked on. */
import type { Candidate } from "../../exchange/compare.js";
import type { EditorState } from "../store.js";
import type { PointerSpot } from "./pointer-spot.js";

/** What is shown on the sheet of `other`: its layout and readings under the same window. */
export const asSeenIn = (state: EditorState, other: Candidate | undefined): EditorState =>
  other
    ? {
        ...state,
        plan: other.plan,
        layout: other.layout,
        settled: other.layout,
        readings: other.readings,
        selection: [],
        hover: undefined,
        show: NOTHING,
      }
    : state;

const NOTHING: EditorState["show"] = { overlay: [], hint: "" };

/** The pointer is always on the other sheet, of whatever deck, and shown as a cross. */
export const crossOnly = (spot: PointerSpot): PointerSpot => ({
  get() {
    const at = spot.get();
    return at && { ...at, deck: ELSEWHERE };
  },
  set: () => {},
  subscribe: (listener) => spot.subscribe(listener),
});

/** No deck is called so. */
const ELSEWHERE = "elsewhere:";
