/**
 * Labels: what is lettered on a drawing, at a constant size. Placed in px of the drawing, whose origin is the sheet's own
 * and whose y runs down, so that the same placing serves paper and screen.
 */
import type { Point, Pose } from "../geometry/pose.js";
import type { LineKey } from "../layout/line.js";
import type { Ink } from "./batch.js";
import { cornersOf, type Occupancy, type PaperBox } from "./occupancy.js";

export interface Paper {
  /** px to a millimetre of the sheet. */
  readonly scale: number;
  /** px that drawn track reaches to either side of its centre line: none where it is one line. */
  readonly halfTrack: number;
}

export const onPaper = ({ scale }: Pick<Paper, "scale">, p: Point): Point => ({ x: p.x * scale, y: -p.y * scale });

export const fromPaper = ({ scale }: Pick<Paper, "scale">, p: Point): Point => ({ x: p.x / scale, y: -p.y / scale });

/** `draw`: figures on the drawing. `name`: names of places. */
export type Face = "draw" | "name";

export interface TextMark {
  readonly kind: "text";
  /** Middle of the lettering's height; of its width too unless it is anchored. */
  readonly at: Point;
  readonly text: string;
  readonly size: number;
  readonly ink: Ink;
  readonly face?: Face;
  readonly italic?: boolean;
  readonly bold?: boolean;
  readonly anchor?: "start" | "middle" | "end";
  /** Clockwise about its place, degrees. */
  readonly turn?: number;
  /** Ground laid round the letters, so that lines under them give way. */
  readonly halo?: Ink;
}

export interface StrokeMark {
  readonly kind: "stroke";
  readonly points: readonly Point[];
  readonly closed?: boolean;
  readonly fill?: Ink;
  readonly ink?: Ink;
  readonly weight?: number;
}

export interface RingMark {
  readonly kind: "ring";
  readonly at: Point;
  readonly radius: number;
  readonly ink: Ink;
  readonly weight: number;
}

export type LabelMark = TextMark | StrokeMark | RingMark;

export type LabelKind =
  | "room"
  | "flag"
  | "place"
  | "grade"
  | "radius"
  | "turnout"
  | "siding"
  | "height"
  | "pale-place"
  | "dimension";

export interface Label {
  readonly kind: LabelKind;
  /** Place of the sheet it belongs to: drawn at another scale, the label keeps its distance from there in px. */
  readonly anchor: Point;
  /** What it covers; undefined where only a mark on the place itself is drawn. */
  readonly box: PaperBox | undefined;
  readonly marks: readonly LabelMark[];
  /** The line it says something about. */
  readonly line?: LineKey;
}

/** Labels one after another; undefined between them, so that placing can be put off in the middle. */
export type Labelling = Generator<Label | undefined, void>;

/** Size of figures, and height that a line of them takes. */
export const SIZE = 12;
export const LINE_HEIGHT = 12;

/** Mean width of a letter as part of the type's size; a little generous, so that what is placed never touches. */
const LETTER: Readonly<Record<Face, number>> = { name: 0.46, draw: 0.52 };

export const textWidth = (text: string, size: number, face: Face = "draw"): number =>
  [...text].length * size * LETTER[face];

/** What labels keep clear of: track by 6 px, edges and one another by less. */
export interface Ground {
  readonly track: Occupancy;
  readonly edges: Occupancy;
  /** Edges of the pale decks: kept clear of where there is a choice. */
  readonly paleEdges: Occupancy;
  /** px that track reaches beyond its marked centre line. */
  readonly halfTrack: number;
  readonly labels: Occupancy;
  /** Whether a place of the drawing is within the walls: lettering does not hang out of the room. */
  readonly isOnFloor: (p: Point) => boolean;
}

const CLEAR_OF_TRACK = 5;
const CLEAR_OF_EDGES = 1;
export const CLEAR_OF_LABELS = 3;

/**
 * The first of the boxes that is free, which is then taken; one that is free of pale edges too goes before one that is
 * not. Undefined where none is free.
 */
export function settle(
  ground: Ground,
  boxes: Iterable<PaperBox>,
  offTrack: number = CLEAR_OF_TRACK,
): PaperBox | undefined {
  let found: PaperBox | undefined;
  for (const box of boxes) {
    if (
      ground.labels.isFree(box, CLEAR_OF_LABELS) &&
      ground.track.isFree(box, offTrack + ground.halfTrack) &&
      ground.edges.isFree(box, CLEAR_OF_EDGES) &&
      cornersOf(box).every(ground.isOnFloor)
    ) {
      const clear = ground.paleEdges.isFree(box, CLEAR_OF_EDGES);
      if (clear || !found) found = box;
      if (clear) break;
    }
  }
  if (found) ground.labels.markBox(found);
  return found;
}

/** px off a line that are tried, nearest first. */
const OFF = [9, 16, 26];

/** Boxes for level lettering beside a pose: the given side first (+1 left), nearest first. */
export function* besideBoxes(
  paper: Paper,
  pose: Pose,
  side: 1 | -1,
  width: number,
  offs: readonly number[] = OFF,
): Generator<PaperBox> {
  const at = onPaper(paper, pose);
  for (const off of offs) {
    for (const way of [side, -side]) {
      const normal = { x: -Math.sin(pose.heading) * way, y: -Math.cos(pose.heading) * way };
      const reach = paper.halfTrack + off + (Math.abs(normal.x) * width + Math.abs(normal.y) * LINE_HEIGHT) / 2;
      yield { x: at.x + normal.x * reach, y: at.y + normal.y * reach, width, height: LINE_HEIGHT, turn: 0 };
    }
  }
}

/** Degrees clockwise within [-90, 90): readable from the foot or the right of the sheet. */
export function readable(turn: number): number {
  const half = ((turn % 180) + 180) % 180;
  return half > 90 - 1e-9 && half < 90 + 1e-9 ? -90 : half > 90 ? half - 180 : half;
}

export const settledText = (box: PaperBox, text: string, ink: Ink, more: Partial<TextMark> = {}): TextMark => ({
  kind: "text",
  at: { x: box.x, y: box.y },
  text,
  size: SIZE,
  ink,
  ...more,
});
