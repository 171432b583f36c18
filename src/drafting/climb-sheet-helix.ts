/**
 * A climb reckoned on the climb sheet as a helix cut through its axis and seen from the front, true to scale. Across is from
 * the axis, up from the railhead at the foot, which lies in the cut at the right.
 *
 * Always holds: equal input gives equal marks; widths and heights have one scale.
 */
import { centreThrow, endThrow } from "../geometry/throw.js";
import type { Millimetres } from "../geometry/units.js";
import type { ClimbSheet } from "../climb/climb-sheet.js";
import { heightAt } from "../layout/profile.js";
import type { Plan } from "../plan/schema.js";
import { reckonedText } from "./climb-figures.js";
import { heightChain, thin, TICK, widthChain } from "./dimension-marks.js";
import type { Units } from "./figures.js";
import { SIZE, textWidth } from "./label.js";
import { DASH, WALL_BAND, WEIGHT } from "./line-weights.js";
import { line, rectangle, type SectionLayer, type SectionMark, type SectionPlace } from "./section-marks.js";

export interface ClimbLook {
  readonly plan: Plan;
  readonly sheet: ClimbSheet;
  /** px to a millimetre. */
  readonly scale: number;
  readonly units: Units;
}

/** Lines of what is cut. */
const CUT = 1.2;
/** Chords of half a turn. */
const CHORDS = 32;
/** px from the bench to the first line of dimensions, and from one to the next. */
const FIRST = 24;
const ROW = 24;

/** What a drawing takes up. */
export interface Extent {
  readonly left: Millimetres;
  readonly right: Millimetres;
  readonly bottom: Millimetres;
  readonly top: Millimetres;
  /** px round it. */
  readonly margin: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
}

/** Of the helix: its bench, from under the lowest structure to the roof of a car at the head. */
export function helixExtent({ plan, sheet, units }: Omit<ClimbLook, "scale">): Extent {
  const half = sheet.pad.bench / 2;
  const { trackStructure, longestCar } = plan.standards;
  const widest = Math.max(
    ...[sheet.sums.rise, sheet.sums.perTurn].map((mm) => textWidth(reckonedText(mm, units), SIZE)),
  );
  return {
    left: -half,
    right: half,
    bottom: -trackStructure.value,
    top: sheet.sums.rise + longestCar.value.height,
    margin: { left: FIRST + widest + 16, right: FIRST + 2 * widest + 40, top: 22, bottom: WALL_BAND + FIRST + 3 * ROW },
  };
}

export function helixLayers(look: ClimbLook): SectionLayer[] {
  return [
    { name: "far-side", marks: farSide(look) },
    { name: "levels", marks: levels(look) },
    { name: "cut", marks: cutMarks(look) },
    { name: "dimensions", marks: [...heightDimensions(look), ...widthDimensions(look)] },
  ].filter(({ marks }) => marks.length > 0);
}

/** A place of the helix: how far round from the cut at the right, where the foot is, and its height. */
function placeAt({ sums, profile }: ClimbSheet, turned: number): SectionPlace {
  const s = (profile.stations[1] ?? 0) + turned * sums.radius;
  return { x: sums.radius * Math.cos(turned), y: heightAt(profile, s) };
}

/** The half turns beyond the cut: every other one, the first beginning at the foot. */
function farSide({ plan, sheet }: ClimbLook): SectionMark[] {
  const whole = 2 * Math.PI * sheet.sums.turns;
  const under = plan.standards.trackStructure.value;
  const marks: SectionMark[] = [];
  for (let from = 0; from < whole; from += 2 * Math.PI) {
    const to = Math.min(from + Math.PI, whole);
    const steps = Math.max(2, Math.ceil((CHORDS * (to - from)) / Math.PI));
    const top = Array.from({ length: steps + 1 }, (_, i) => placeAt(sheet, from + ((to - from) * i) / steps));
    const bottom = top.map(({ x, y }) => ({ x, y: y - under })).reverse();
    marks.push(
      { kind: "line", points: [...top, ...bottom], closed: true, fill: "lower-tint" },
      line(bottom, "lower-edge", WEIGHT.dimension),
      line(top, "ink2", 1),
    );
  }
  return marks;
}

/** Foot and head as levels, and the axis. */
function levels({ sheet: { sums, pad }, plan }: ClimbLook): SectionMark[] {
  const half = pad.bench / 2;
  const level = (y: Millimetres, name: string): SectionMark[] => [
    line(
      [
        { x: -half, y },
        { x: half, y },
      ],
      "upper-edge",
      WEIGHT.dimension,
      DASH.fasciaAbove,
    ),
    {
      kind: "text",
      at: { x: 0, y, down: -8 },
      text: name,
      size: 13,
      ink: "ink2",
      face: "name",
      italic: true,
      halo: "paper",
    },
  ];
  return [
    line(
      [
        { x: 0, y: -plan.standards.trackStructure.value, down: 4 },
        { x: 0, y: sums.rise, down: -20 },
      ],
      "ink3",
      0.5,
      DASH.centre,
    ),
    ...level(sums.rise, "head"),
    ...level(0, "foot"),
  ];
}

interface CutTurn {
  readonly x: Millimetres;
  readonly y: Millimetres;
  /** +1 at the right, where the foot is. */
  readonly side: 1 | -1;
}

/** Where the plane of the cut meets the track: at the right at every whole turn, at the left half way between. */
function cutsOf(sheet: ClimbSheet): CutTurn[] {
  return Array.from({ length: Math.floor(2 * sheet.sums.turns + 1e-9) + 1 }, (_, i) => {
    const { y } = placeAt(sheet, i * Math.PI);
    const side = i % 2 === 0 ? 1 : -1;
    return { x: side * sheet.sums.radius, y, side };
  });
}

/** The bench, the structure cut through, and the longest car on every turn with what it throws. */
function cutMarks({ plan, sheet }: ClimbLook): SectionMark[] {
  const { trackStructure, roadbedWidth, longestCar } = plan.standards;
  const { width, height, length, truckCentres } = longestCar.value;
  const { radius } = sheet.sums;
  const half = sheet.pad.bench / 2;
  const out = width / 2 + endThrow(radius, length, truckCentres);
  const within = width / 2 + centreThrow(radius, truckCentres);
  const bed = roadbedWidth.value / 2;
  const gauge = plan.scale.gauge / 2;
  const under = -trackStructure.value;
  const marks: SectionMark[] = [
    rectangle([-half, under, half, under], { hatch: "lower-edge" }, [0, 0, 0, WALL_BAND]),
    line(
      [
        { x: -half, y: under },
        { x: half, y: under },
      ],
      "lower-ink",
      CUT,
    ),
  ];
  for (const { x, y, side } of cutsOf(sheet)) {
    const swept = [x - (side > 0 ? within : out), x + (side > 0 ? out : within)] as const;
    marks.push(
      rectangle([x - bed, y + under, x + bed, y], {
        fill: "lower-tint",
        hatch: "lower-edge",
        ink: "lower-ink",
        weight: CUT,
      }),
      rectangle([swept[0], y, swept[1], y + height], { ink: "ink3", weight: 0.6, dash: [2, 2] }),
      rectangle([x - width / 2, y, x + width / 2, y + height], { fill: "paper", ink: "ink", weight: 0.9 }),
      ...[x - gauge, x + gauge].map((rail) => rectangle([rail, y, rail, y], { fill: "ink" }, [1, 0, 1, 3.2])),
    );
  }
  return marks;
}

/** At the left one turn, railhead to railhead; at the right what is clear under it, and the whole rise. */
function heightDimensions(drawn: ClimbLook): SectionMark[] {
  const look = { ...drawn, told: reckonedText };
  const { plan, sheet, units } = drawn;
  const cuts = cutsOf(sheet);
  const half = sheet.pad.bench / 2;
  const bed = plan.standards.roadbedWidth.value / 2;
  const marks: SectionMark[] = [];
  const reach = (cut: CutTurn, right: number, y = cut.y): SectionMark =>
    thin([
      { x: cut.x + cut.side * bed, y, right: 4 * cut.side },
      { x: cut.side * half, y, right: right + TICK * cut.side },
    ]);
  const [low, high] = [cuts[1], cuts[3]];
  if (low && high) {
    marks.push(
      reach(low, -FIRST),
      reach(high, -FIRST),
      ...heightChain(look, -half, -FIRST, [low.y, high.y], { ink: "ink" }),
    );
  }
  const [foot, next] = [cuts[0], cuts[2]];
  let outer = FIRST;
  if (foot && next) {
    const under = next.y - plan.standards.trackStructure.value;
    const heights = [foot.y, under, next.y].sort((a, b) => a - b);
    marks.push(
      reach(next, FIRST),
      reach(next, FIRST, under),
      ...heightChain(look, half, FIRST, heights, { ink: "ink" }),
    );
    const figures = heights.slice(1).map((y, i) => textWidth(reckonedText(y - (heights[i] ?? y), units), SIZE));
    outer += Math.max(...figures) + 18;
  }
  marks.push(
    thin([
      { x: half, y: 0, right: 4 },
      { x: half, y: 0, right: outer + TICK },
    ]),
    thin([
      { x: half, y: sheet.sums.rise, right: 4 },
      { x: half, y: sheet.sums.rise, right: outer + TICK },
    ]),
    ...heightChain(look, half, outer, [0, sheet.sums.rise], { ink: "ink", bold: true }),
  );
  return marks;
}

/** Under the bench: what is free within, the circle of the track, and the bench. */
function widthDimensions(drawn: ClimbLook): SectionMark[] {
  const look = { ...drawn, told: reckonedText };
  const { sums, pad } = look.sheet;
  const y = -look.plan.standards.trackStructure.value;
  const rows: readonly (readonly [diameter: Millimetres, name: string])[] = [
    [pad.hole, "within ⌀ "],
    [2 * sums.radius, "track ⌀ "],
    [pad.bench, "bench ⌀ "],
  ];
  return rows.flatMap(([diameter, name], i) => {
    if (!(diameter > 0)) return [];
    const rows = { down: WALL_BAND + FIRST + i * ROW, clear: WALL_BAND + 4 };
    return widthChain(look, y, rows, [-diameter / 2, diameter / 2], { ink: "ink" }, name);
  });
}
