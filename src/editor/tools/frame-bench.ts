/** Bench: any outline, clicked corner by corner or walked by typing; a typed radius rounds the corner clicked last. */
import type { SnapKind } from "../../drafting/snap.js";
import type { Corner } from "../../geometry/rings.js";
import { outlineArea } from "../../layout/bench-shape-outline.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import type { Millimetres } from "../../geometry/units.js";
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

export interface BenchState {
  readonly chain: Chain<"round">;
  /** Radii by number of corner. */
  readonly rounds: ReadonlyMap<number, Millimetres>;
}

const KINDS: readonly SnapKind[] = ["bench-corner", "wall-corner", "bench-edge", "wall"];
const RULES: ChainRules<"round"> = {
  closed: true,
  kinds: KINDS,
  fields: [{ key: "round", label: "Round the last corner", takes: "length", least: 0 }],
};
const EMPTY: BenchState = { chain: emptyChain(), rounds: new Map() };

export const benchTool: Tool<BenchState> = {
  id: "bench",
  stage: "frame",
  name: "Bench",
  key: "b",
  begin: () => EMPTY,

  handle(state, event, input): Outcome<BenchState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      const idle = state.chain.corners.length === 0 && state.chain.typing.text === "";
      return idle ? putAside(EMPTY) : { state: EMPTY, effects: [{ do: "abandon" }] };
    }
    const { chain, finish, set } = stepChain(state.chain, event, input, RULES);
    const count = chain.corners.length;
    let rounds = state.rounds;
    if (set && count > 0) rounds = new Map(rounds).set(count - 1, set.value);
    if ([...rounds.keys()].some((corner) => corner >= count)) rounds = new Map([...rounds].filter(([c]) => c < count));
    const next = { chain, rounds };
    if (finish) return committed(edited(next, input), EMPTY, next);
    return { state: next, effects: count >= 3 ? previewed(edited(next, input)) : [{ do: "abandon" }] };
  },

  show({ chain, rounds }, input) {
    const count = chain.corners.length;
    const close = count > 2 ? " Enter or the first corner closes." : "";
    const hint =
      count === 0
        ? "Click the first corner of the bench."
        : `Click the next corner, or type a length (← → turn, Tab: round the last corner).${close} Backspace takes back.`;
    const round = rounds.get(count - 1);
    const value =
      chain.typing.field === "length" && count > 1
        ? turnText(chain)
        : chain.typing.field === "round" && round !== undefined
          ? formatLength(round, input.units)
          : "";
    return {
      overlay: chainOverlay(chain, input, true),
      hint: chain.refusal === undefined ? hint : sentence(chain.refusal),
      ...entryWhile(count > 0, entryOf(chain.typing, chainFields(RULES), value)),
      cursor: "crosshair",
    };
  },
};

function edited({ chain, rounds }: BenchState, { plan, deck }: ToolInput): Edit {
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  const outline = chain.corners.map(({ x, y }, i): Corner => {
    const round = rounds.get(i) ?? 0;
    return round > 0 ? { x, y, round } : { x, y };
  });
  const { trouble } = outlineArea(outline);
  if (trouble) return refused(trouble.note);
  return putRecord(plan, "benches", newId(plan, "bench"), { deck, shape: { outline } }, "Build bench");
}
