/**
 * Walls: the room drawn by clicking its corners or by walking along its walls with a tape. At every step it says how
 * far the first corner is; a room that fails to close is closed by a last wall, or the failing is spread over the walls.
 */
import { closingError, crossedLine, spreadClosing } from "../../drafting/closing.js";
import { replaceRoom } from "../../drafting/reshape-room.js";
import { distance, type Point } from "../../geometry/pose.js";
import { toDegrees } from "../../geometry/units.js";
import { refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import type { Outcome, Overlay, Tool, ToolInput } from "../tool.js";
import {
  type Chain,
  chainFields,
  chainOverlay,
  type ChainRules,
  emptyChain,
  stepChain,
  turnText,
} from "./corner-chain.js";
import { committed, putAside, sentence } from "./outcomes.js";
import { entryOf, entryWhile } from "./typing.js";

export type WallsState = Chain<never>;

/** A last corner this near the first is the first: no tape is read finer. */
const CLOSED = 1;

const RULES: ChainRules<never> = { closed: true, kinds: [], fields: [], origin: { x: 0, y: 0 }, refuse: crossed };

export const wallsTool: Tool<WallsState> = {
  id: "walls",
  stage: "survey",
  name: "Walls",
  key: "w",
  begin: () => emptyChain(),

  handle(state, event, input): Outcome<WallsState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel")
      return state.corners.length > 0 || state.typing.text !== "" ? { state: emptyChain() } : putAside(state);
    if (event.type === "key" && event.key.toLowerCase() === "s" && state.typing.text === "")
      return spread(state, input);
    const { chain, finish } = stepChain(state, event, input, RULES);
    return finish ? finished(chain, withoutLast(chain.corners), input) : { state: chain };
  },

  show(state, input) {
    const { corners } = state;
    const overlay: Overlay[] = chainOverlay(state, input, true);
    const gap = closingError(corners);
    const [first, last] = [corners[0], corners.at(-1)];
    let closing = "";
    if (gap && first && last) {
      closing =
        gap.distance < CLOSED
          ? "The walls close. "
          : `Back to the first corner: ${formatLength(gap.distance, input.units)} at ${formatAngle((toDegrees(gap.heading) + 360) % 360)}. `;
      if (gap.distance >= CLOSED) {
        overlay.push({ kind: "line", points: [last, first], style: "guide" });
        overlay.push({ kind: "label", at: last, text: formatLength(gap.distance, input.units) });
      }
    }
    const fields = chainFields(RULES);
    return {
      overlay,
      hint: state.refusal === undefined ? closing + nextStep(state) : `${sentence(state.refusal)} ${closing}`,
      ...entryWhile(
        corners.length > 0,
        entryOf(state.typing, fields, corners.length > 1 && state.typing.field === "length" ? turnText(state) : ""),
      ),
      cursor: "crosshair",
    };
  },
};

function nextStep({ corners }: WallsState): string {
  if (corners.length === 0) {
    return "Click the first corner of the room, or type the length of the first wall and press Enter.";
  }
  if (corners.length === 1)
    return "Click the next corner, or type the wall’s length. Backspace takes back, Esc starts over.";
  const turn = "← → turn (Tab types an angle), then type the next length, or click. ";
  const close = corners.length > 2 ? "Enter closes with a last wall, S spreads the error over the walls. " : "";
  return `${turn}${close}Backspace takes back.`;
}

function withoutLast(corners: readonly Point[]): readonly Point[] {
  const gap = closingError(corners);
  return gap && gap.distance < CLOSED ? corners.slice(0, -1) : corners;
}

function spread(state: WallsState, input: ToolInput): Outcome<WallsState> {
  const corners = spreadClosing(state.corners);
  if (!corners) return committed(refused("these walls cannot be closed by changing their lengths"), state, state);
  return finished(state, corners, input);
}

function finished(state: WallsState, corners: readonly Point[], input: ToolInput): Outcome<WallsState> {
  const { edit, note } = replaceRoom(input.plan, corners);
  return committed(edit, emptyChain(), state, note === "" ? [] : [{ do: "say", text: sentence(note) }]);
}

/** A room measured worse than this has a slip in it, not an error: part of the length walked. */
const WORST_ERROR = 0.05;

/** Why a wall to the next corner cannot be. The last may run a little past the first, as measured ones do. */
function crossed(corners: readonly Point[], next: Point): string | undefined {
  const wall = crossedLine(corners, next);
  if (wall === undefined) return undefined;
  const chain = [...corners, next];
  const walked = chain.reduce((sum, p, i) => sum + distance(chain[i - 1] ?? p, p), 0);
  const gap = closingError(chain)?.distance ?? walked;
  return wall === 0 && gap <= WORST_ERROR * walked ? undefined : `that wall would cross wall ${wall + 1}`;
}
