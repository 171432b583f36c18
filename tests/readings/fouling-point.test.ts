/** Fouling points against envelopes sampled by brute force, and by hand where routes part straight. */
import { describe, expect, test } from "vitest";
import type { Layout } from "../../src/layout/layout.js";
import type { LineKey } from "../../src/layout/line.js";
import type { Leg } from "../../src/plan/schema.js";
import { crossingFouling, foulingPoint } from "../../src/readings/fouling-point.js";
import { sampledWorth, sampleWay, type Stretch } from "./envelope-sampler.js";
import { at, CAR, type Draft, from, left, plan, right, straight } from "./fixture.js";

const CENTRES = 50;
/** Longer than a car. */
const BEFORE = 350;
const BEYOND = 1250;
/** Spacing short by this is kept where it is judged. */
const KEPT = 0.1;

interface Parting {
  readonly host: readonly Leg[];
  readonly spur: readonly Leg[];
  readonly number: number;
  readonly hand?: "left" | "right";
}

const draftOf = ({ host, spur, number, hand = "left" }: Parting): Draft =>
  plan()
    .limits({ centres: CENTRES })
    .track("main", at(1000, 3000), host)
    .turnout("t", { on: "main", at: 900, hand, number })
    .track("spur", from("t"), spur, { class: "spur" });

/** The routes as ways from BEFORE mm before they part, the through one first, as far as they are looked at. */
function waysOf(layout: Layout): readonly [readonly Stretch[], readonly Stretch[]] {
  const departs = layout.turnouts.get("t")?.departs ?? 0;
  const length = (key: LineKey): number => Math.min(BEYOND, layout.lines.get(key)?.path.length ?? 0);
  return [
    [["track:main", departs - BEFORE, departs + BEYOND]],
    [
      ["track:main", departs - BEFORE, departs],
      ["turnout:t", 0, length("turnout:t")],
      ["track:spur", 0, length("track:spur")],
    ],
  ];
}

describe("of a turnout", () => {
  test.each<[string, Parting]>([
    ["straight, No. 6", { host: [straight(3000)], spur: [straight(1200)], number: 6 }],
    ["straight, No. 4, right", { host: [straight(3000)], spur: [straight(1200)], number: 4, hand: "right" }],
    ["straight, No. 12", { host: [straight(4000)], spur: [straight(1800)], number: 12 }],
    [
      "back to parallel 60 mm off",
      { host: [straight(3000)], spur: [straight(170), right(700, 9.52728), straight(700)], number: 6 },
    ],
    ["on the outside of a curve", { host: [left(1100, 170)], spur: [straight(1200)], number: 8, hand: "right" }],
    ["on the inside of a curve", { host: [left(1500, 120)], spur: [left(700, 60)], number: 6 }],
    ["with a curve away", { host: [straight(3000)], spur: [left(450, 80)], number: 6 }],
  ])("%s, cars there stand clear by a tenth of a millimetre, and no sooner", (_, parting) => {
    const { layout } = draftOf(parting);
    const ways = waysOf(layout);
    const [through, diverging] = [sampleWay(layout, ways[0], CAR), sampleWay(layout, ways[1], CAR)];
    const points = foulingPoint(layout, "t");
    expect(points.map(({ line }) => line).sort()).toEqual(["track:main", "turnout:t"]);
    const inside = (layout.turnouts.get("t")?.departs ?? 0) - 900;
    for (const { line, distance = Number.NaN } of points) {
      const [a, b] = line === "track:main" ? [through, diverging] : [diverging, through];
      const far = BEFORE + distance - inside;
      const worth = (s: number): number => {
        const i = Math.floor(s);
        return sampledWorth(a, i, b) * (1 - (s - i)) + sampledWorth(a, i + 1, b) * (s - i);
      };
      expect(Math.abs(worth(far) - (CENTRES - KEPT))).toBeLessThan(0.1);
      for (let s = BEFORE; s < far - 3; s += 20) expect(worth(s)).toBeLessThan(CENTRES - KEPT);
      // From there on for as long as a car.
      for (let s = far + 1; s < far + CAR.length; s += 20) expect(worth(s)).toBeGreaterThan(CENTRES - KEPT - 0.1);
    }
  });

  test("by hand on straight routes a car length behind their curve", () => {
    // From where the routes meet they part at F = 2 atan(1 / 2N); the lead curve is tangent to both there.
    const { layout } = draftOf({ host: [straight(6000)], spur: [straight(3000)], number: 20 });
    const angle = 2 * Math.atan(1 / 40);
    const [diverging] = foulingPoint(layout, "t").filter(({ line }) => line === "turnout:t");
    const turnout = layout.turnouts.get("t");
    const tangent = (turnout?.radius ?? 0) * Math.tan(angle / 2);
    const arc = (turnout?.radius ?? 0) * angle;
    const along = (CENTRES - KEPT) / Math.sin(angle);
    const inside = (turnout?.departs ?? 0) - 900;
    // Past the lead curve the diverging route is as far along as from where the routes meet, and what the arc is shorter.
    expect(diverging?.distance).toBeCloseTo(inside + tangent + along - (2 * tangent - arc), 1);
  });

  test("a host no route leaves for good has none", () => {
    const close = draftOf({
      host: [straight(6000)],
      spur: [straight(20), right(700, 9.52728), straight(3000)],
      number: 6,
    });
    expect(foulingPoint(close.layout, "t").map(({ distance }) => distance)).toEqual([undefined, undefined]);
    expect(foulingPoint(close.layout, "nothing")).toEqual([]);
  });

  test("wider centres move it out, the place lies on the line named", () => {
    const near = draftOf({ host: [straight(3000)], spur: [straight(1200)], number: 6 });
    const far = near.limits({ centres: 70 });
    const [a, b] = [near, far].map(({ layout }) => foulingPoint(layout, "t"));
    a?.forEach(({ distance = 0, place }, i) => {
      expect(b?.[i]?.distance).toBeGreaterThan(distance + 100);
      expect(["track:main", "turnout:t", "track:spur"]).toContain(place?.line);
    });
  });
});

test.each([90, 45, 20])("of a crossing at %d degrees: centres over the sine to both sides of both tracks", (angle) => {
  const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  const { layout } = plan()
    .limits({ centres: CENTRES })
    .track("a", at(1000, 2000), [straight(3000)])
    .track("b", at(2500 - 900 * c, 2000 - 900 * s, angle), [straight(1800)]);
  const [crossing] = layout.crossings;
  if (!crossing) throw new Error("no crossing");
  // Centres across the other line: a car's end on the one may not come nearer to the other's centre line.
  const expected = (CENTRES - KEPT) / s;
  for (const { before, after } of crossingFouling(layout, crossing)) {
    expect(before).toBeCloseTo(expected, 1);
    expect(after).toBeCloseTo(expected, 1);
  }
});
