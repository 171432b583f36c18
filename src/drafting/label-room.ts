/** What the room's openings and obstacles are called, on their walls and in their middle. */
import { offsetPoint } from "../geometry/pose.js";
import type { Plan } from "../plan/schema.js";
import { pointsBox } from "./boxes.js";
import { type Ground, type Label, type LabelMark, onPaper, type Paper, SIZE, textWidth } from "./label.js";
import { WALL_BAND } from "./line-weights.js";
import { openingPose, outsideOf } from "../layout/openings.js";

/** Off the outside of a wall, px. */
const OFF = 9;
/** Height of the clear field under an obstacle's name, and what it is wider than the name, px. */
const FIELD = 16;
const FIELD_MARGIN = 8;

export function roomLabels(paper: Paper, plan: Plan, ground?: Ground): Label[] {
  const labels = [...openingLabels(paper, plan), ...obstacleLabels(paper, plan)];
  for (const { box } of labels) if (box) ground?.labels.markBox(box);
  return labels;
}

function openingLabels(paper: Paper, { room }: Plan): Label[] {
  return Object.values(room.openings).flatMap((opening): Label[] => {
    const pose = openingPose(room, opening);
    if (!pose) return [];
    const text = opening.name ?? opening.kind;
    const beyond = (WALL_BAND + OFF) / paper.scale;
    const out = opening.swing?.into === "outside" ? opening.width * 0.4 : beyond;
    const anchor = offsetPoint(pose, opening.width / 2, outsideOf(room) * out);
    const at = onPaper(paper, anchor);
    const upright = Math.abs(Math.sin(pose.heading)) > 0.7;
    const turn = upright && !opening.swing ? -90 : 0;
    const box = { ...at, width: textWidth(text, SIZE), height: SIZE, turn };
    return [
      { kind: "room", anchor, box, marks: [{ kind: "text", at, text, size: SIZE, ink: "ink2", halo: "paper", turn }] },
    ];
  });
}

function obstacleLabels(paper: Paper, { room }: Plan): Label[] {
  return Object.values(room.obstacles).flatMap(({ name, outline }): Label[] => {
    if (!name) return [];
    const { minX, minY, maxX, maxY } = pointsBox(outline);
    const [wide, high] = [maxX - minX, maxY - minY];
    const width = textWidth(name, SIZE) + FIELD_MARGIN;
    if (width > Math.max(wide, high) * paper.scale) return [];
    const anchor = { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
    const at = onPaper(paper, anchor);
    const tall = high > wide;
    const [w, h] = tall ? [FIELD / 2, width / 2] : [width / 2, FIELD / 2];
    const field: LabelMark = {
      kind: "stroke",
      points: [
        { x: at.x - w, y: at.y - h },
        { x: at.x + w, y: at.y - h },
        { x: at.x + w, y: at.y + h },
        { x: at.x - w, y: at.y + h },
      ],
      closed: true,
      fill: "paper",
    };
    const turn = tall ? -90 : 0;
    return [
      {
        kind: "room",
        anchor,
        box: { ...at, width, height: FIELD, turn },
        marks: [field, { kind: "text", at, text: name, size: SIZE, ink: "ink2", turn }],
      },
    ];
  });
}
