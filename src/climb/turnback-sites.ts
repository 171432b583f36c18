/** Where there is room to turn a train back: centres about which a circle is clear most of the way round. */
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import type { ClimbLimits } from "./limits.js";

/** Grid on which room is looked for, and places taken round a circle. */
const GRID: Millimetres = 100;
const ROUND = 24;
/** A circle that is clear all this way round can turn a train back and a little more. */
export const TURNS_BACK: Radians = (200 * Math.PI) / 180;
/** A centre is moved by steps down to this as long as it gets more room about it. */
const FINEST: Millimetres = 10;

export interface TurnbackSite {
  readonly x: Millimetres;
  readonly y: Millimetres;
  /** How far round the circle is clear without a break. */
  readonly clear: Radians;
}

/** The clearest and roomiest first; none nearer to another than `apart`. */
export function turnbackSites(
  ground: Ground,
  radius: Millimetres,
  { throws }: ClimbLimits,
  apart: Millimetres,
): TurnbackSite[] {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of ground.area) {
    for (const { x, y } of ring) {
      [minX, minY] = [Math.min(minX, x), Math.min(minY, y)];
      [maxX, maxY] = [Math.max(maxX, x), Math.max(maxY, y)];
    }
  }
  const sites: (TurnbackSite & { readonly room: Millimetres })[] = [];
  for (let x = minX + GRID / 2; x < maxX; x += GRID) {
    for (let y = minY + GRID / 2; y < maxY; y += GRID) {
      const clear = clearRound(x, y, radius, throws, ground);
      if (clear >= TURNS_BACK) sites.push({ x, y, clear, room: ground.spare(x, y, 0) });
    }
  }
  sites.sort((a, b) => b.clear - a.clear || b.room - a.room || a.x - b.x || a.y - b.y);
  const kept: TurnbackSite[] = [];
  for (const site of sites) {
    if (near(kept, site, apart)) continue;
    const moved = roomier(site, radius, throws, ground);
    if (!near(kept, moved, apart / 3)) kept.push(moved);
  }
  return kept;
}

const near = (sites: readonly TurnbackSite[], { x, y }: TurnbackSite, within: Millimetres): boolean =>
  sites.some((site) => Math.hypot(x - site.x, y - site.y) < within);

/** The centre moved to where it has most room about it, as long as its circle stays as clear. */
function roomier(site: TurnbackSite, radius: Millimetres, throws: Millimetres, ground: Ground): TurnbackSite {
  let best = site;
  let room = ground.spare(site.x, site.y, 0);
  for (let step = GRID / 2; step >= FINEST; step /= 2) {
    for (let moved = true; moved; ) {
      moved = false;
      for (const [dx, dy] of [
        [step, 0],
        [-step, 0],
        [0, step],
        [0, -step],
      ] as const) {
        const [x, y] = [best.x + dx, best.y + dy];
        const more = ground.spare(x, y, 0);
        if (more <= room) continue;
        const clear = clearRound(x, y, radius, throws, ground);
        if (clear < best.clear) continue;
        [best, room, moved] = [{ x, y, clear }, more, true];
      }
    }
  }
  return best;
}

/** Longest row of clear places round a circle. */
function clearRound(x: number, y: number, radius: number, throws: number, ground: Ground): Radians {
  let longest = 0;
  let row = 0;
  for (let i = 0; i < 2 * ROUND; i++) {
    const angle = (2 * Math.PI * i) / ROUND;
    if (ground.spare(x + radius * Math.cos(angle), y + radius * Math.sin(angle), throws) < 0) row = 0;
    else longest = Math.max(longest, ++row);
    if (i >= ROUND && row === 0) break;
  }
  return (2 * Math.PI * Math.min(longest, ROUND)) / ROUND;
}
