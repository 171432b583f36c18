/**
 * The rings of an area that matter near a place. An area of many pieces (benches all over a hall) is asked about along
 * short lines, where all but a few of its rings are far away.
 *
 * Always holds: pieces that are left out have no point in the box; a ring within another comes with it, so that what is
 * found of a piece is found of all of it; rings come in the area's order.
 */
import type { Area, Ring } from "./areas.js";
import { type BoxIndex, indexBoxes } from "./search.js";
import type { Millimetres } from "./units.js";

/** Of fewer rings all are taken. */
const FEW_RINGS = 4;

interface Pieces {
  /** By piece, the numbers of its rings: the first encloses the others. */
  readonly rings: readonly (readonly number[])[];
  readonly index: BoxIndex;
}

const known = new WeakMap<Area, Pieces>();

export function ringsNear(
  area: Area,
  minX: Millimetres,
  minY: Millimetres,
  maxX: Millimetres,
  maxY: Millimetres,
): Area {
  if (area.length <= FEW_RINGS) return area;
  let pieces = known.get(area);
  if (!pieces) known.set(area, (pieces = piecesOf(area)));
  const numbers: number[] = [];
  pieces.index.visit(minX, minY, maxX, maxY, (piece) => {
    for (const n of pieces.rings[piece] ?? []) numbers.push(n);
  });
  if (numbers.length === 1) return [area[numbers[0] as number] as Ring];
  numbers.sort((a, b) => a - b);
  return numbers.filter((n, i) => n !== numbers[i - 1]).map((n) => area[n] as Ring);
}

type Sides = readonly [Millimetres, Millimetres, Millimetres, Millimetres];

function sidesOf(ring: Ring): Sides {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of ring) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return [minX, minY, maxX, maxY];
}

/** Rings whose box lies within another's are of one piece with it, whether they are holes in it or islands in those. */
function piecesOf(area: Area): Pieces {
  const boxes = area.map(sidesOf);
  const size = ([minX, minY, maxX, maxY]: Sides): number => (maxX - minX) * (maxY - minY);
  const largestFirst = boxes.map((box, n) => ({ box, n })).sort((p, q) => size(q.box) - size(p.box));
  const pieces: { readonly box: Sides; readonly rings: number[] }[] = [];
  for (const { box, n } of largestFirst) {
    let taken = false;
    for (const { box: outer, rings } of pieces) {
      if (box[0] < outer[0] || box[1] < outer[1] || box[2] > outer[2] || box[3] > outer[3]) continue;
      rings.push(n);
      taken = true;
    }
    if (!taken) pieces.push({ box, rings: [n] });
  }
  return { rings: pieces.map(({ rings }) => rings), index: indexBoxes(pieces.flatMap(({ box }) => [...box])) };
}
