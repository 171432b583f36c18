/** Backdrop: a line clicked from corner to corner or walked by typing, and as high over its deck as is typed. */
import type { SnapKind } from "../../drafting/snap.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import type { Outcome, Tool, ToolInput } from "../tool.js";
import {
  type Chain,
  chainFields,
  chainOverlay,
  type ChainRules,
  emptyChain,
  stepChain,
  turnText,
} from "./corner-chain.js";
import { committed, newId, previewed, putAside, sentence } from "./outcomes.js";
import { entryOf, entryWhile } from "./typing.js";

export interface BackdropState {
  readonly chain: Chain<"height">;
  readonly height: Millimetres;
}

const KINDS: readonly SnapKind[] = ["wall-corner", "bench-corner", "wall", "bench-edge"];
const RULES: ChainRules<"height"> = {
  closed: false,
  kinds: KINDS,
  fields: [{ key: "height", label: "Height over the railhead", takes: "length" }],
};
const USUAL = { imperial: 14 * INCH, metric: 350 } as const;

export const backdropTool: Tool<BackdropState> = {
  id: "backdrop",
  stage: "frame",
  name: "Backdrop",
  key: "r",
  begin: ({ units }) => ({ chain: emptyChain(), height: USUAL[units] }),

  handle(state, event, input): Outcome<BackdropState> {
    const { height } = state;
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      const idle = state.chain.corners.length === 0 && state.chain.typing.text === "";
      return idle ? putAside(state) : { state: { chain: emptyChain(), height }, effects: [{ do: "abandon" }] };
    }
    const { chain, finish, set } = stepChain(state.chain, event, input, RULES);
    const next = { chain, height: set?.value ?? height };
    if (finish) return committed(edited(next, input), { chain: emptyChain(), height: next.height }, next);
    return { state: next, effects: chain.corners.length > 1 ? previewed(edited(next, input)) : [{ do: "abandon" }] };
  },

  show({ chain, height }, input) {
    const count = chain.corners.length;
    const hint =
      count === 0
        ? "Click where the backdrop begins."
        : "Click on along the backdrop, or type lengths (← → turn, Tab: height). Enter or a double click ends it. Backspace takes back.";
    const value =
      chain.typing.field === "height"
        ? formatLength(height, input.units)
        : chain.typing.field === "length" && count > 1
          ? turnText(chain)
          : "";
    return {
      overlay: chainOverlay(chain, input, false),
      hint: chain.refusal === undefined ? hint : sentence(chain.refusal),
      ...entryWhile(count > 0, entryOf(chain.typing, chainFields(RULES), value)),
      cursor: "crosshair",
    };
  },
};

function edited({ chain, height }: BackdropState, { plan, deck }: ToolInput): Edit {
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  const line = chain.corners.map(({ x, y }) => ({ x, y }));
  return putRecord(plan, "backdrops", newId(plan, "backdrop"), { deck, line, height }, "Put up backdrop");
}
