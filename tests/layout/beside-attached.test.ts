/**
 * A track beside another stays attached while that is laid elsewhere: exactly its spacing away wherever both are straight
 * and nowhere nearer. The wider spacing is had in the middle of curves where easements and straights leave room for it.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Leg } from "../../src/plan/schema.js";
import { appendLeg, moveTrackStart, removeLeg, setLeg } from "../../src/plan/track-edits.js";
import { at, lineAt, planOf, straight, track } from "./small-plan.js";

const SPACING = 55;
const CURVE_SPACING = 62;
/** Spacing on straights, and anywhere, is kept to this, mm. */
const EXACT = 1e-6;
const KEPT = 1e-3;

/** Straights and curves long enough for the easements of the class on both tracks, so that every curve is fitted anew. */
const run = fc.integer({ min: 1000, max: 1800 }).map((length) => straight(length));
const bend = fc
  .record({
    radius: fc.integer({ min: 850, max: 1400 }),
    angle: fc.integer({ min: 60, max: 90 }),
    hand: fc.constantFrom("left" as const, "right" as const),
  })
  .map(({ radius, angle, hand }): Leg => ({ curve: { radius, angle, hand } }));
const pieces = fc.array(fc.tuple(bend, run), { minLength: 1, maxLength: 3 });
const place = fc.tuple(
  fc.integer({ min: 0, max: 3000 }),
  fc.integer({ min: 0, max: 3000 }),
  fc.integer({ min: -180, max: 180 }),
);

type Change = {
  readonly kind: "move" | "curve" | "straight" | "longer" | "shorter";
  readonly by: number;
  readonly leg: Leg;
};
const change: fc.Arbitrary<Change> = fc.record({
  kind: fc.constantFrom("move", "curve", "straight", "longer", "shorter"),
  by: fc.integer({ min: -180, max: 180 }),
  leg: bend,
});

describe("beside with curve widening", () => {
  it("keeps its spacing through edits of its host, derived from the layout before", () => {
    fc.assert(
      fc.property(
        run,
        pieces,
        place,
        fc.constantFrom("left" as const, "right" as const),
        fc.array(change, { minLength: 1, maxLength: 5 }),
        fc.boolean(),
        (first, rest, [x, y, heading], side, changes, eased) => {
          // Yards ask for no easement, mains do.
          const more = { class: eased ? "main" : "yard" } as const;
          const beside = { beside: { track: "host", side, spacing: SPACING, curveSpacing: CURVE_SPACING } };
          const start = { beside: { track: "host", at: 0, side, spacing: SPACING } };
          let plan = planOf({
            tracks: {
              host: track(at(x, y, heading), [first, ...rest.flat()], more),
              second: track(start, [beside], more),
            },
          });
          let layout = deriveLayout(plan);
          expect(detached(layout)).toEqual([]);
          for (const edit of changes) {
            plan = edited(plan, edit);
            layout = deriveLayout(plan, layout);
            expect(detached(layout)).toEqual([]);
          }
        },
      ),
      { numRuns: 40, seed: 20 },
    );
  });

  function edited(plan: ReturnType<typeof planOf>, { kind, by, leg }: Change): typeof plan {
    const legs = plan.tracks["host"]?.legs ?? [];
    const edit =
      kind === "move"
        ? moveTrackStart(plan, "host", at(1000 + by, 1000 - by, by))
        : kind === "curve"
          ? setLeg(plan, "host", 1, leg)
          : kind === "straight"
            ? setLeg(plan, "host", 2, straight(1000 + by))
            : kind === "shorter" && legs.length > 3
              ? removeLeg(plan, "host", legs.length - 1)
              : appendLeg(plan, "host", straight(800 + by));
    if (!edit.ok) throw new Error(edit.message);
    // A curve at the very end has no straight behind it to be fitted to.
    const last = edit.plan.tracks["host"]?.legs.at(-1);
    const closing = last && "curve" in last ? appendLeg(edit.plan, "host", straight(900)) : edit;
    if (!closing.ok) throw new Error(closing.message);
    return closing.plan;
  }

  /** Where it lies otherwise than it should. */
  function detached(layout: ReturnType<typeof deriveLayout>): unknown[] {
    const faults: unknown[] = [...layout.findings];
    const host = lineAt(layout, "track:host").path;
    const second = lineAt(layout, "track:second").path;
    const [a, b] = [host.start, second.start];
    if (Math.abs(Math.hypot(a.x - b.x, a.y - b.y) - SPACING) > EXACT) faults.push(["start", a, b]);
    host.segments.forEach(({ length, k0, k1 }, i) => {
      const s = (host.stations[i] ?? 0) + length / 2;
      const { distance, s: abreast } = nearestOnPath(second, poseAt(host, s));
      // Where both are straight the spacing is exact; a curve fitted anew reaches a little into the host's straights.
      if (k0 === 0 && k1 === 0 && curvatureAt(second, abreast) === 0 && Math.abs(distance - SPACING) > EXACT)
        faults.push(["straight", s, distance]);
    });
    for (let i = 0; i <= 60; i++) {
      const { distance } = nearestOnPath(second, poseAt(host, (i / 60) * host.length));
      if (distance < SPACING - KEPT) faults.push(["near", i / 60, distance]);
    }
    return faults;
  }

  it.each([60, 66, 70, 80, 90])("is as wide as asked in the middle of a plain curve of %d degrees, inside", (angle) => {
    const legs = [
      straight(1000),
      { curve: { radius: 850, angle, hand: "left", easement: 0 } } as const,
      straight(1000),
    ];
    const start = { beside: { track: "host", at: 0, side: "left", spacing: SPACING } } as const;
    const beside = { beside: { track: "host", side: "left", spacing: SPACING, curveSpacing: CURVE_SPACING } } as const;
    const more = { class: "yard" } as const;
    const layout = deriveLayout(
      planOf({ tracks: { host: track(at(0, 0), legs, more), second: track(start, [beside], more) } }),
    );
    const host = lineAt(layout, "track:host").path;
    const { distance } = nearestOnPath(lineAt(layout, "track:second").path, poseAt(host, host.length / 2));
    expect(distance).toBeGreaterThanOrEqual(CURVE_SPACING - 1e-3);
  });
});
