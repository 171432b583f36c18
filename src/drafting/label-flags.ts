/** Tight and failing readings beside what they measure: sign and word, then colour. */
import type { Id } from "../plan/schema.js";
import type { Reading } from "../readings/reading.js";
import type { Point } from "../geometry/pose.js";
import type { Box } from "../geometry/bounds.js";
import type { Ink } from "./batch.js";
import { boxesOverlap, pointsBox } from "./boxes.js";
import {
  besideBoxes,
  type Ground,
  type Labelling,
  type LabelMark,
  onPaper,
  type Paper,
  settle,
  SIZE,
  textWidth,
} from "./label.js";
import { VERDICTS } from "./verdict-words.js";

/** Worst places flagged of one reading: more would hide the plan. */
const FLAGS = 3;
const SIGN = 12;
/** Radius of the ring round a flagged place, px; other labels keep off it. */
const RING = 4;
/** px off the place that are tried. */
const OFF = [8, 16, 28, 44];

/** Flags of the decks in hand, within a region of the sheet where one is given. */
export function* flagLabels(
  paper: Paper,
  ground: Ground,
  decks: readonly Id[],
  readings: readonly Reading[],
  region: Box | undefined,
): Labelling {
  const worstFirst = [...readings].sort((a, b) => Number(b.verdict === "fails") - Number(a.verdict === "fails"));
  for (const { verdict, label, places } of worstFirst) {
    if (verdict !== "tight" && verdict !== "fails") continue;
    for (const place of places.slice(0, FLAGS)) {
      if (!decks.includes(place.deck) || (region && !boxesOverlap(pointsBox([place.point]), region))) continue;
      const text = `${VERDICTS[verdict].word}: ${label}`;
      const width = SIGN + 4 + textWidth(text, SIZE);
      const box = settle(ground, besideBoxes(paper, { ...place.point, heading: 0 }, 1, width, OFF));
      const ink: Ink = verdict;
      const at = onPaper(paper, place.point);
      ground.labels.markBox({ ...at, width: 2 * RING, height: 2 * RING, turn: 0 });
      const marks: LabelMark[] = [{ kind: "ring", at, radius: RING, ink, weight: 1.2 }];
      if (box) {
        const left = box.x - box.width / 2;
        const words = { x: left + SIGN + 4, y: box.y };
        marks.push(...signMarks(verdict, { x: left + SIGN / 2, y: box.y }));
        marks.push({ kind: "text", at: words, text, size: SIZE, ink, anchor: "start", bold: verdict === "fails" });
      }
      yield { kind: "flag", anchor: place.point, box, marks };
    }
  }
}

/** Triangle with a bar, or solid square with a cross. */
function signMarks(verdict: "tight" | "fails", at: Point): LabelMark[] {
  const r = SIGN / 2;
  const chain = (...points: readonly (readonly [number, number])[]): Point[] =>
    points.map(([x, y]) => ({ x: at.x + x * r, y: at.y + y * r }));
  if (verdict === "fails") {
    const cut = { kind: "stroke", ink: "paper", weight: 1.4 } as const;
    return [
      {
        kind: "stroke",
        points: chain([-0.9, -0.9], [0.9, -0.9], [0.9, 0.9], [-0.9, 0.9]),
        closed: true,
        fill: "fails",
      },
      { ...cut, points: chain([-0.5, -0.5], [0.5, 0.5]) },
      { ...cut, points: chain([-0.5, 0.5], [0.5, -0.5]) },
    ];
  }
  const line = { kind: "stroke", ink: "tight", weight: 1.2 } as const;
  return [
    { ...line, points: chain([0, -0.9], [1, 0.8], [-1, 0.8]), closed: true },
    { ...line, points: chain([0, -0.2], [0, 0.4]) },
  ];
}
