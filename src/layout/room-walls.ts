/**
 * The room's walls as a way round: places on them as distances anticlockwise, whichever way the owner drew the outline.
 * Wall n keeps the number it has in the plan.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, type Ring, signedSize } from "../geometry/areas.js";
import { distance, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";

export interface RoomWalls {
  readonly area: Area;
  readonly prepared: PreparedArea;
  /** Corners anticlockwise. */
  readonly ring: Ring;
  /** Distance of each corner from the first, and last the whole way round. */
  readonly stations: readonly Millimetres[];
  readonly length: Millimetres;
  /** Distance anticlockwise of a place given by wall and distance from the wall's first corner; undefined for a wall that is not there. */
  readonly placeAt: (wall: number, at: Millimetres) => Millimetres | undefined;
}

export function roomWalls(outline: readonly Point[], area: Area): RoomWalls {
  const clockwise = signedSize(outline) < 0;
  const ring = clockwise ? [...outline].reverse() : outline;
  const stations: Millimetres[] = [0];
  let length = 0;
  ring.forEach((p, i) => {
    length += distance(p, ring[i + 1] ?? ring[0] ?? p);
    stations.push(length);
  });
  const n = ring.length;
  function placeAt(wall: number, at: Millimetres): Millimetres | undefined {
    if (wall < 0 || wall >= n) return undefined;
    // Turned round, wall n runs from corner n + 1 to corner n: its last corner comes first.
    const edge = clockwise ? (2 * n - 2 - wall) % n : wall;
    const begin = stations[edge] ?? 0;
    const end = stations[edge + 1] ?? begin;
    const along = Math.min(Math.max(at, 0), end - begin);
    return clockwise ? end - along : begin + along;
  }
  return { area, prepared: prepareArea(area), ring, stations, length, placeAt };
}
