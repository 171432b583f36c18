import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makePath } from "../../src/geometry/path.js";
import { segmentTurn } from "../../src/geometry/segment.js";
import { circleTurn, circleTurnLength, sharpChord, spiralProgress, steeringGear } from "../../src/geometry/steering.js";
import { easedTurn, type Turn, turnExtent } from "../../src/geometry/turn.js";
import { toRadians } from "../../src/geometry/units.js";
import { pathFaults } from "./path-faults.js";
import { finite, SEED } from "./samples.js";

const ORIGIN = { x: 0, y: 0, heading: 0 };
const RUNS = { seed: SEED, numRuns: 500 };
const total = (t: Turn): number => easedTurn(t).reduce((sum, g) => sum + segmentTurn(g), 0);

const anyTurn: fc.Arbitrary<Turn> = fc.record({
  radius: finite(150, 1200),
  angle: fc.oneof(finite(0.001, 1), finite(0.5, 40)),
  hand: fc.constantFrom("left", "right"),
  easeIn: fc.oneof(fc.constant(0), finite(1, 900)),
  easeOut: fc.oneof(fc.constant(0), finite(1, 900)),
});

describe("an eased turn", () => {
  it("turns by the angle, keeps the radius and each end's sharpness", () =>
    fc.assert(
      fc.property(anyTurn, (t) => {
        expect(Math.abs(total(t))).toBeCloseTo(t.angle, 10);
        expect(Math.sign(total(t))).toBe(t.hand === "left" ? 1 : -1);
        const segments = easedTurn(t);
        for (const g of segments) {
          const most = Math.max(Math.abs(g.k0), Math.abs(g.k1));
          expect(most).toBeLessThanOrEqual((1 + 1e-12) / t.radius);
          const easement = g.k0 === 0 ? t.easeIn : g.k1 === 0 ? t.easeOut : 0;
          if (g.k0 !== g.k1) expect((Math.abs(g.k1 - g.k0) / g.length) * t.radius * easement).toBeCloseTo(1, 9);
        }
        segments.slice(1).forEach((g, i) => expect(g.k0).toBe(segments[i]?.k1));
      }),
      RUNS,
    ));

  it.each([
    ["90 degrees, as long as arc and easement together", 90, 300, 300, [300, 610 * (Math.PI / 2) - 300, 300]],
    ["a helix of three turns", 1080, 300, 300, [300, 610 * 6 * Math.PI - 300, 300]],
    ["without easements, one arc", 45, 0, 0, [(610 * Math.PI) / 4]],
    ["eased at one end", 60, 0, 200, [(610 * Math.PI) / 3 - 100, 200]],
    [
      "too small for its easements",
      10,
      300,
      300,
      [Math.sqrt(toRadians(10) * 610 * 300), Math.sqrt(toRadians(10) * 610 * 300)],
    ],
    ["too small for unlike easements: both as sharp as asked", 10, 400, 100, [0.8 * 326.3, 0.2 * 326.3]],
    ["of no angle", 0, 300, 300, []],
  ] as const)("%s", (_what, degrees, easeIn, easeOut, lengths) => {
    const turn = easedTurn({ radius: 610, angle: toRadians(degrees), hand: "left", easeIn, easeOut });
    expect(turn).toHaveLength(lengths.length);
    lengths.forEach((length, i) => expect(Math.abs((turn[i]?.length ?? 0) - length)).toBeLessThan(0.05));
  });

  it("of an angle just large enough meets the one just too small", () => {
    const turn = (angle: number) =>
      makePath(ORIGIN, easedTurn({ radius: 500, angle, hand: "right", easeIn: 200, easeOut: 350 }));
    const [below, above] = [turn(0.55 - 1e-9), turn(0.55 + 1e-9)];
    expect(above.length - below.length).toBeLessThan(1e-5);
    expect(Math.hypot(above.end.x - below.end.x, above.end.y - below.end.y)).toBeLessThan(1e-5);
  });

  it("stands off from its plain arc by shift and advance", () =>
    fc.assert(
      fc.property(finite(200, 1200), finite(1, 600), finite(0.05, 2.5), (radius, easement, more) => {
        const angle = easement / radius + more;
        if (angle > 3) return;
        const { shift, advance } = turnExtent(radius, easement);
        const end = makePath(
          ORIGIN,
          easedTurn({ radius, angle, hand: "left", easeIn: easement, easeOut: easement }),
        ).end;
        const tangent = (radius + shift) * Math.tan(angle / 2) + advance;
        expect(end.x).toBeCloseTo(tangent * (1 + Math.cos(angle)), 8);
        expect(end.y).toBeCloseTo(tangent * Math.sin(angle), 8);
      }),
      RUNS,
    ));

  it("without easement does not stand off", () => expect(turnExtent(500, 0)).toEqual({ shift: 0, advance: 0 }));
});

describe("turns of a steering", () => {
  const steering = fc.record({ radius: finite(200, 1000), easement: finite(1, 1000) });

  it("from circle to circle end on the circle, within the limits and as long as weighed", () =>
    fc.assert(
      fc.property(steering, finite(0, 6.28), fc.constantFrom(1 as const, -1 as const), (s, deflection, side) => {
        const gear = steeringGear(s);
        const path = makePath(ORIGIN, circleTurn(gear, deflection, side));
        const { advance, offset } = gear;
        const [cos, sin] = [Math.cos(deflection), Math.sin(deflection)];
        const goal = {
          x: advance * (1 + cos) + offset * sin,
          y: side * (advance * sin + offset * (1 - cos)),
          heading: side * deflection,
        };
        expect(pathFaults(path, goal, s)).toEqual([]);
        expect(path.length).toBeCloseTo(circleTurnLength(gear, deflection), 9);
      }),
      RUNS,
    ));

  it("sharp have the chord weighed", () =>
    fc.assert(
      fc.property(steering, finite(0, 1), ({ radius, easement }, part) => {
        const gear = steeringGear({ radius, easement });
        const angle = part * gear.leastTurn;
        const { end } = makePath(
          ORIGIN,
          easedTurn({ radius, angle, hand: "left", easeIn: easement, easeOut: easement }),
        );
        expect(Math.hypot(end.x, end.y)).toBeCloseTo(Math.abs(sharpChord(gear, angle)), 9);
      }),
      RUNS,
    ));

  it("with easements of several radii go round once more rather than break a limit", () => {
    const s = { radius: 100, easement: 700 };
    const gear = steeringGear(s);
    for (const deflection of [0.1, 1, 2, 4, 6]) {
      const path = makePath(ORIGIN, circleTurn(gear, deflection, 1));
      const heading = deflection;
      expect(pathFaults(path, { ...path.end, heading }, s)).toEqual([]);
      expect(path.length).toBeCloseTo(circleTurnLength(gear, deflection), 9);
    }
  });

  it.each([
    [0, 1],
    // A spiral that ends at right angles: cos(pi/2 - pi u^2/2) = sin(pi u^2/2) integrates to S(1) (Abramowitz & Stegun).
    [Math.PI / 2, 0.4382591473903548],
  ])("spiral progress at %s is %s", (angle, expected) => expect(spiralProgress(angle)).toBeCloseTo(expected, 15));
});
