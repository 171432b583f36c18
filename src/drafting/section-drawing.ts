/**
 * A section as a draughtsman draws it: cut bodies heavy and hatched, track and cars in thin lines, the operator with
 * lines of sight and reach, heights at the left, separations at the right, widths below.
 *
 * Always holds: equal input gives equal marks; everything cut is drawn, whether its figures find room or not.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Body, Section } from "../layout/section.js";
import type { Standing } from "../layout/section-sight.js";
import type { CutTrack } from "../layout/section-tracks.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Ink } from "./batch.js";
import { deckTone } from "./decks.js";
import type { Units } from "./figures.js";
import { DASH, WALL_BAND, WEIGHT } from "./line-weights.js";
import { dimensionLayer } from "./section-dimensions.js";
import { line, rectangle, type SectionHatch, type SectionLayer, type SectionMark } from "./section-marks.js";
import { peopleLayers, peopleNotes } from "./section-people.js";

export interface SectionLook {
  readonly plan: Plan;
  readonly section: Section;
  /** px to a millimetre of the room. */
  readonly scale: number;
  readonly units: Units;
  /** There is little height: the width of the whole room is left out. */
  readonly close?: boolean;
  /** Who stands in the aisle, and where along the cut; nobody where left out. */
  readonly standing?: Standing | undefined;
}

/** Lines of what is cut. */
const CUT = 1.4;

export function sectionLayers(look: SectionLook): SectionLayer[] {
  return [
    { name: "room", marks: roomMarks(look.section) },
    { name: "obstacles", marks: look.section.obstacles.map((body) => cutBody(body, "wall", "wall")) },
    ...peopleLayers(look),
    { name: "decks", marks: deckMarks(look) },
    { name: "backdrops", marks: backdropMarks(look) },
    { name: "track", marks: look.section.tracks.flatMap((track) => trackMarks(look.plan, track)) },
    ...peopleNotes(look),
    dimensionLayer(look),
  ].filter(({ marks }) => marks.length > 0);
}

const cutBody = ({ from, to, bottom, top }: Body, hatch: SectionHatch, ink: Ink, fill: Ink = "paper"): SectionMark =>
  rectangle([from, bottom, to, top], { fill, hatch, ink, weight: CUT });

function roomMarks({ room, walls, ceiling, length }: Section): SectionMark[] {
  const band = WALL_BAND;
  const marks: SectionMark[] = [];
  for (const { from, to } of room) {
    const [before, after] = [walls.some((w) => w.at === from), walls.some((w) => w.at === to)];
    const grow = [before ? band : 0, after ? band : 0] as const;
    marks.push(
      rectangle([from, 0, to, 0], { hatch: "wall" }, [grow[0], 0, grow[1], band]),
      rectangle([from, ceiling, to, ceiling], { hatch: "wall" }, [grow[0], band, grow[1], 0]),
      line(
        [
          { x: from, y: 0 },
          { x: to, y: 0 },
        ],
        "wall",
        WEIGHT.wall,
      ),
      line(
        [
          { x: from, y: ceiling },
          { x: to, y: ceiling },
        ],
        "wall",
        WEIGHT.wall,
      ),
    );
    if (!before && from <= 0) marks.push(breakLine(0, ceiling));
    if (!after && to >= length) marks.push(breakLine(length, ceiling));
  }
  for (const { at, solid, openings } of walls) {
    const [left, right] = solid === "before" ? [band, 0] : [0, band];
    const solidFrom = (bottom: number, top: number): void => {
      if (top <= bottom) return;
      marks.push(
        rectangle([at, bottom, at, top], { hatch: "wall" }, [left, 0, right, 0]),
        line(
          [
            { x: at, y: bottom },
            { x: at, y: top },
          ],
          "wall",
          WEIGHT.wall,
        ),
      );
    };
    let bottom = 0;
    for (const { kind, sill, head } of [...openings].sort((a, b) => a.sill - b.sill)) {
      solidFrom(bottom, sill);
      // A window shows its panes, a door its leaf; a passage shows nothing.
      const strokes = kind === "window" ? [0, 0.5, 1] : kind === "door" ? [0.5] : [];
      for (const share of strokes) {
        const off = share * (right - left);
        marks.push(
          line(
            [
              { x: at, y: sill, right: off },
              { x: at, y: head, right: off },
            ],
            "wall",
            WEIGHT.hatch,
          ),
        );
      }
      for (const y of kind === "passage" ? [head] : [sill, head]) {
        if (y > 0)
          marks.push(
            line(
              [
                { x: at, y, right: -left },
                { x: at, y, right },
              ],
              "wall",
              WEIGHT.wall,
            ),
          );
      }
      bottom = Math.max(bottom, head);
    }
    solidFrom(bottom, ceiling);
  }
  return marks;
}

/** The room goes on where the cut ends. */
function breakLine(x: Millimetres, ceiling: Millimetres): SectionMark {
  const middle = { x, y: ceiling / 2 };
  return line(
    [
      { x, y: 0, down: WALL_BAND },
      { ...middle, down: 9 },
      { ...middle, right: -5, down: 3 },
      { ...middle, right: 5, down: -3 },
      { ...middle, down: -9 },
      { x, y: ceiling, down: -WALL_BAND },
    ],
    "ink3",
    WEIGHT.dimension,
  );
}

function deckMarks({ plan, section }: SectionLook): SectionMark[] {
  const bodies = section.decks.map((body) => {
    const tone = deckTone(plan, body.deck);
    const mark = cutBody(body, `${tone}-edge`, `${tone}-ink`, `${tone}-tint`);
    return body.gate === undefined || mark.kind !== "line" ? mark : { ...mark, dash: DASH.gate };
  });
  const roadbeds = section.tracks.flatMap(({ line: { deck }, roadbed, height }) => {
    const tone = deckTone(plan, deck);
    return roadbed ? [cutBody({ ...roadbed, top: height }, `${tone}-edge`, `${tone}-ink`, `${tone}-tint`)] : [];
  });
  return [...bodies, ...roadbeds];
}

function backdropMarks({ plan, section }: SectionLook): SectionMark[] {
  return section.backdrops.flatMap(({ at, bottom, top, deck }) => {
    const ends = [
      { x: at, y: bottom },
      { x: at, y: top },
    ];
    return [line(ends, "ink2", 3), line(ends, tintOf(plan, deck), 1.4)];
  });
}

const tintOf = (plan: Plan, deck: Id): Ink => `${deckTone(plan, deck)}-tint`;

/** Foot and height of a rail, px: no more than a sign at this scale. */
const RAIL = { width: 1, height: 3.2 } as const;

function trackMarks(plan: Plan, { at, height, rails, car, swept, hidden, line: track }: CutTrack): SectionMark[] {
  const ink: Ink = plan.decks[track.deck]?.kind === "staging" ? "staging-ink" : "ink";
  const marks: SectionMark[] = [];
  if (swept.to - swept.from > car.to - car.from + 1) {
    marks.push(rectangle([swept.from, height, swept.to, car.top], { ink: "ink3", weight: 0.6, dash: [2, 2] }));
  }
  marks.push(
    rectangle([car.from, height, car.to, car.top], {
      fill: "paper",
      ink,
      weight: 0.9,
      ...(hidden && { dash: DASH.hidden }),
    }),
    line(
      [
        { x: at, y: height, down: 8 },
        { x: at, y: car.top, down: -5 },
      ],
      "ink3",
      0.5,
      [7, 2, 1.5, 2],
    ),
    ...rails.map((x) => rectangle([x, height, x, height], { fill: ink }, [RAIL.width, 0, RAIL.width, RAIL.height])),
  );
  return marks;
}
