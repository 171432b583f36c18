/** What is wrong with a route, by the sampler of the tests alone. */
import type { ClimbRoute } from "../../src/climb/request.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { sampleRoute } from "./dense-sampler.js";
import { CENTRES, EDGE, OVER_TRACK, type RandomRoom, STRUCTURE, WALL } from "./random-rooms.js";

/** Rounding of the sampler's steps: of grades over 15 mm, and of places between them. */
const STEPPED = 0.03;

export function violations({ around, limits }: RandomRoom, { edit, track }: ClimbRoute): string[] {
  const found = sampleRoute(deriveLayout(edit.plan), track, around);
  const wrong: string[] = [];
  const most = (what: string, value: number, limit: number): void => {
    if (value > limit) wrong.push(`${what} ${value} over ${limit}`);
  };
  most("curvature", found.curvature, 1 / limits.radius + 1e-9);
  if (limits.easement > 0) most("sharpness", found.sharpness, 1 / (limits.radius * limits.easement) + 1e-9);
  most("grade", found.grade, limits.grade + STEPPED);
  most("felt", found.felt, limits.felt + STEPPED);
  most("short of gap", OVER_TRACK + STRUCTURE - found.gap, 0);
  most("short of spacing", CENTRES - found.spacing, STEPPED);
  most("short of bench", EDGE - found.bench, STEPPED);
  most("short of wall", WALL - found.wall, STEPPED);
  return wrong;
}
