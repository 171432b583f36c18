/** Frog number and hand, beside the points on the side the turnout does not diverge to. */
import { poseAt } from "../geometry/path.js";
import type { Layout } from "../layout/layout.js";
import type { PlacedTurnout } from "../layout/line.js";
import { besideBoxes, type Ground, type Labelling, type Paper, settle, settledText, SIZE, textWidth } from "./label.js";
import type { PaperBox } from "./occupancy.js";

export const frogText = ({ number, hand }: PlacedTurnout): string => `No. ${Math.round(number * 10) / 10} ${hand}`;

/** A turnout drawn shorter says nothing of itself, px. */
const LEAST_TURNOUT = 24;
/** px off the host that are tried. */
const OFF = [8, 14];

export function* turnoutLabels(
  paper: Paper,
  ground: Ground,
  layout: Layout,
  turnouts: Iterable<PlacedTurnout>,
): Labelling {
  for (const turnout of turnouts) {
    yield undefined;
    const host = layout.lines.get(turnout.host);
    if (!host) continue;
    if (Math.abs(turnout.heel - turnout.joint) * paper.scale < LEAST_TURNOUT) continue;
    const text = frogText(turnout);
    const width = textWidth(text, SIZE);
    const diverges = (turnout.hand === "left" ? 1 : -1) * turnout.direction;
    const box = settle(ground, candidates());
    if (!box) continue;
    const anchor = poseAt(host.path, turnout.at);
    yield { kind: "turnout", anchor, box, line: turnout.host, marks: [settledText(box, text, "ink2")] };
    function* candidates(): Generator<PaperBox> {
      for (const s of [turnout.at, turnout.joint, (turnout.at + turnout.departs) / 2]) {
        if (host) yield* besideBoxes(paper, poseAt(host.path, s), diverges === 1 ? -1 : 1, width, OFF);
      }
    }
  }
}
