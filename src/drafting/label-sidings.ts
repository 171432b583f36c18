/**
 * Lengths of sidings and staging tracks in average cars, beside the middle of what lies between their fouling points.
 * They are told from the readings, so that drawing measures nothing.
 */
import { poseAt } from "../geometry/path.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Place, Reading } from "../readings/reading.js";
import { besideBoxes, type Ground, type Labelling, type Paper, settle, settledText, SIZE, textWidth } from "./label.js";
import type { PaperBox } from "./occupancy.js";

export const carsText = (cars: number): string => (cars === 1 ? "1 car" : `${cars} cars`);

/** What is clear of a siding is drawn at least so much longer than the lettering. */
const LONGER = 1.5;
/** px off the siding that are tried. */
const OFF = [8, 14, 22];
/** Parts of what is clear that are tried, from its middle. */
const ALONG = [0, -0.15, 0.15, -0.3, 0.3];

export function* sidingLabels(
  paper: Paper,
  ground: Ground,
  layout: Layout,
  readings: readonly Reading[],
  drawn: ReadonlySet<LineKey>,
): Labelling {
  for (const { place, clear, cars } of lengthsIn(layout, readings)) {
    yield undefined;
    const line = lineOf(layout, place);
    if (!line || !drawn.has(line.key) || cars < 1) continue;
    const text = carsText(cars);
    const width = textWidth(text, SIZE);
    if (clear * paper.scale < LONGER * width) continue;
    const box = settle(ground, boxesAlong(paper, line, place.s ?? 0, clear, width));
    if (box)
      yield { kind: "siding", anchor: place.point, box, line: line.key, marks: [settledText(box, text, "ink2")] };
  }
}

interface Told {
  readonly place: Place;
  readonly clear: number;
  readonly cars: number;
}

function lengthsIn({ plan }: Layout, readings: readonly Reading[]): Told[] {
  const average = plan.standards.averageCar.value;
  return readings.flatMap(({ id, places, figures }): Told[] => {
    if (id === "staging")
      return places.map((place) => ({
        place,
        clear: place.value ?? 0,
        cars: Math.floor((place.value ?? 0) / average),
      }));
    const [place] = id === "siding" ? places : [];
    const [clear, cars] = [figures?.["clear length"]?.value ?? 0, figures?.["average cars"]?.value ?? 0];
    return place ? [{ place, clear, cars }] : [];
  });
}

function lineOf({ lines }: Layout, { thing }: Place): Line | undefined {
  const [kind, id] = thing.split(".");
  return kind === "tracks" ? lines.get(`track:${id}`) : undefined;
}

function* boxesAlong(paper: Paper, line: Line, middle: number, clear: number, width: number): Generator<PaperBox> {
  for (const part of ALONG) {
    const s = middle + part * clear;
    if (s >= 0 && s <= line.path.length) yield* besideBoxes(paper, poseAt(line.path, s), 1, width, OFF);
  }
}
