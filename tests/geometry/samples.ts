/** Paths to test with: seeded random chains of straights, curves and easements, and a few with a name. */
import fc from "fast-check";
import { makePath, type Path } from "../../src/geometry/path.js";
import type { Segment } from "../../src/geometry/segment.js";

export const SEED = 20240917;

/** Numbers spread evenly over a range; fast-check's own doubles crowd about zero and the smallest numbers there are. */
export const finite = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((i) => min + ((max - min) * i) / 1_000_000);

export const anyPose = fc.record({ x: finite(-5000, 5000), y: finite(-5000, 5000), heading: finite(-7, 7) });
export const anyPoint = fc.record({ x: finite(-6000, 6000), y: finite(-6000, 6000) });

/** Curvatures down to a radius of 150 mm, either hand. */
const curvature = finite(-1 / 150, 1 / 150);
export const anySegment: fc.Arbitrary<Segment> = fc.oneof(
  finite(1, 1500).map((length) => ({ length, k0: 0, k1: 0 })),
  fc.record({ length: finite(1, 2500), k0: curvature }).map((g) => ({ ...g, k1: g.k0 })),
  fc.record({ length: finite(1, 900), k0: fc.constant(0), k1: curvature }),
  fc.record({ length: finite(1, 900), k0: curvature, k1: curvature }),
);
export const anyPath: fc.Arbitrary<Path> = fc
  .tuple(anyPose, fc.array(anySegment, { maxLength: 6 }))
  .map(([start, segments]) => makePath(start, segments));

/** Spiral, arc, spiral turning through `angle` in all. */
export function easedCurve(radius: number, angle: number, easement: number, hand: 1 | -1 = 1): Segment[] {
  const k = hand / radius;
  const arc = { length: radius * angle - easement, k0: k, k1: k };
  if (easement === 0) return [arc];
  return [{ length: easement, k0: 0, k1: k }, arc, { length: easement, k0: k, k1: 0 }];
}

export const straightOf = (length: number): Segment => ({ length, k0: 0, k1: 0 });
