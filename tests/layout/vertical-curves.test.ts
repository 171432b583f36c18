import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { deriveProfiles, type Heights, type HeightsInput } from "../../src/layout/heights.js";
import type { LineKey } from "../../src/layout/line.js";
import { heightAt, type Profile, slopeAt } from "../../src/layout/profile.js";
import { networkOf, type NetworkSpec, SPUR_ON_A_GRADE } from "./network-fixture.js";

const profileOf = (heights: Heights, line: string): Profile => {
  const profile = heights.profiles.get(line as LineKey);
  if (!profile) throw new Error(`no profile of ${line}`);
  return profile;
};

const derive = (spec: NetworkSpec): Heights => deriveProfiles(networkOf(spec));

/** One line of 2 % up, level and 1 % down, cut by pins at 1000 and 1000 + level. */
const summit = (level: number, verticalCurve: number): NetworkSpec => ({
  lines: {
    "track:a": {
      stops: [
        [0, "a0"],
        [1000, "p"],
        [1000 + level, "q"],
        [3000 + level, "a1"],
      ],
    },
  },
  nodes: { a0: { pinned: 900 }, p: { pinned: 920 }, q: { pinned: 920 }, a1: { pinned: 900 } },
  verticalCurve,
});

describe("vertical curves", () => {
  it("are as long as the change of grade asks, centred on the break", () => {
    const { curves } = profileOf(derive(summit(1000, 150)), "track:a");
    expect(curves.map((c) => c.at)).toEqual([1000, 2000]);
    [300, 150].forEach((length, i) => {
      expect(curves[i]?.wanted).toBeCloseTo(length, 9);
      expect(curves[i]?.length).toBeCloseTo(length, 9);
    });
    expect(curves[0]?.change).toBeCloseTo(-0.02, 12);
  });

  it("reach at most half way to the next break, and say what they wanted", () => {
    const { curves } = profileOf(derive(summit(200, 150)), "track:a");
    expect(curves[0]?.length).toBeCloseTo(200, 9);
    expect(curves[0]?.wanted).toBeCloseTo(300, 9);
    expect(curves[1]?.length).toBeCloseTo(150, 9);
  });

  it("do not reach past the end of the track", () => {
    const spec: NetworkSpec = {
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [40, "p"],
            [2000, "a1"],
          ],
        },
      },
      nodes: { p: { pinned: 900 }, a1: { pinned: 939.2 } },
      verticalCurve: 150,
    };
    const [curve] = profileOf(derive(spec), "track:a").curves;
    expect(curve?.length).toBeCloseTo(80, 9);
    expect(curve?.wanted).toBeCloseTo(300, 9);
  });

  it.each([
    { name: "below the least change", rise: 0.04, verticalCurve: 150, count: 0 },
    { name: "above it", rise: 0.06, verticalCurve: 150, count: 1 },
    { name: "where none are asked for", rise: 20, verticalCurve: 0, count: 0 },
  ])("are laid or left out $name", ({ rise, verticalCurve, count }) => {
    const spec: NetworkSpec = {
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [1000, "p"],
            [2000, "a1"],
          ],
        },
      },
      nodes: { a0: { pinned: 900 }, p: { pinned: 900 }, a1: { pinned: 900 + rise } },
      verticalCurve,
    };
    expect(profileOf(derive(spec), "track:a").curves).toHaveLength(count);
  });

  it("stand on every line they reach, whichever way the lines run", () => {
    const heights = derive({
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [980, "p"],
            [1000, "ab"],
          ],
        },
        "track:b": {
          stops: [
            [0, "bc"],
            [50, "~ab"],
          ],
        },
        "track:c": {
          stops: [
            [0, "~bc"],
            [1000, "c1"],
          ],
        },
      },
      nodes: { a0: { pinned: 900 }, p: { pinned: 900 }, c1: { pinned: 921.4 } },
      verticalCurve: 150,
    });
    const places = ["track:a", "track:b", "track:c"].map((line) => profileOf(heights, line).curves.map((c) => c.at));
    // 20 mm back from the joint on a; b runs toward the joint, so the break lies 20 mm beyond its end; 70 mm before c.
    expect(places).toEqual([[980], [70], [-70]]);
    const [a, b, c] = ["track:a", "track:b", "track:c"].map((line) => profileOf(heights, line));
    if (!a || !b || !c) throw new Error("lines missing");
    expect(heightAt(b, 50)).toBeCloseTo(heightAt(a, 1000), 9);
    expect(heightAt(c, 0)).toBeCloseTo(heightAt(b, 0), 9);
    expect(slopeAt(b, 50)).toBeCloseTo(-slopeAt(a, 1000), 9);
    expect(slopeAt(c, 0)).toBeCloseTo(-slopeAt(b, 0), 9);
  });

  it("at a turnout's heel: each route has its own, and neither reaches past the points", () => {
    const { lines, nodes } = SPUR_ON_A_GRADE;
    const heights = derive({ lines, nodes: { ...nodes, buffer: { pinned: 980 } }, verticalCurve: 600 });
    const main = profileOf(heights, "track:main");
    const route = profileOf(heights, "turnout:t");
    const spur = profileOf(heights, "track:spur");
    expect(main.curves.map((c) => [c.at, Math.round(c.length)])).toEqual([[1200, 400]]);
    expect(route.curves.map((c) => [c.at, Math.round(c.length)])).toEqual([[201, 402]]);
    expect(spur.curves.map((c) => [c.at, Math.round(c.length)])).toEqual([[0, 402]]);
    expect(main.curves[0]?.wanted).toBeGreaterThan(400);
    expect(main.curves[0]?.change).not.toBeCloseTo(spur.curves[0]?.change ?? 0, 4);
    expect(heightAt(route, 0)).toBeCloseTo(heightAt(main, 1000), 9);
    expect(heightAt(spur, 0)).toBeCloseTo(heightAt(route, 201), 9);
  });

  it("before a turnout's points: the diverging route copies the host's at the same distance", () => {
    const { lines, nodes } = SPUR_ON_A_GRADE;
    const main = {
      stops: [
        [0, "west"],
        [960, "pin"],
        [1000, "points"],
        [1200, "heel"],
        [3000, "east"],
      ],
    } as const;
    const heights = derive({
      lines: { ...lines, "track:main": main },
      nodes: { ...nodes, pin: { pinned: 900 } },
      verticalCurve: 60,
    });
    const host = profileOf(heights, "track:main");
    const route = profileOf(heights, "turnout:t");
    const [curve] = host.curves;
    expect(curve?.at).toBe(960);
    expect(curve?.length).toBeGreaterThan(100);
    expect(route.curves[0]).toEqual({ ...curve, at: -40 });
    expect(heightAt(route, 0)).toBeCloseTo(heightAt(host, 1000), 9);
  });

  it("at pinned points: host and diverging route bend together", () => {
    const { lines, nodes } = SPUR_ON_A_GRADE;
    const heights = derive({ lines, nodes: { ...nodes, points: { pinned: 905 } }, verticalCurve: 60 });
    const host = profileOf(heights, "track:main");
    const route = profileOf(heights, "turnout:t");
    expect(route.curves[0]).toEqual({ ...host.curves[0], at: 0 });
    expect(heightAt(route, 0)).toBeCloseTo(heightAt(host, 1000), 9);
  });

  it("bend once where lines meet by an edge without length", () => {
    const stops = [
      [0, "a0"],
      [1000, "x"],
      [1000, "y"],
      [2000, "a1"],
    ] as const;
    const heights = derive({
      lines: { "track:a": { stops } },
      nodes: { a0: { pinned: 900 }, x: { pinned: 900 }, a1: { pinned: 920 } },
      verticalCurve: 150,
    });
    expect(profileOf(heights, "track:a").curves.map((c) => [c.at, Math.round(c.length)])).toEqual([[1000, 300]]);
  });

  it("go round a closed loop, half of it at most", () => {
    const heights = derive({
      lines: {
        "track:loop": {
          stops: [
            [0, "join"],
            [400, "top"],
            [1000, "join"],
          ],
        },
      },
      nodes: { join: { pinned: 900 }, top: { pinned: 930 } },
      verticalCurve: 1000,
    });
    const loop = profileOf(heights, "track:loop");
    expect(loop.curves.map((c) => [c.at, Math.round(c.length)])).toEqual([
      [0, 400],
      [400, 400],
      [1000, 400],
    ]);
    expect(heightAt(loop, 0)).toBeCloseTo(heightAt(loop, 1000), 9);
    expect(slopeAt(loop, 0)).toBeCloseTo(slopeAt(loop, 1000), 9);
  });
});

/**
 * A main of turnouts facing either way at random distances, every one with a spur of its own or a siding that runs on
 * to the next turnout where that faces it; pins at random.
 */
const railways = fc
  .record({
    turnouts: fc.array(
      fc.record({
        gap: fc.integer({ min: 1, max: 900 }),
        length: fc.integer({ min: 40, max: 320 }),
        facing: fc.boolean(),
        spur: fc.integer({ min: 1, max: 900 }),
        pin: fc.option(fc.integer({ min: 880, max: 940 }), { nil: undefined }),
        before: fc.option(fc.integer({ min: 890, max: 930 }), { nil: undefined }),
      }),
      { minLength: 1, maxLength: 7 },
    ),
    verticalCurve: fc.integer({ min: 20, max: 600 }),
  })
  .map(({ turnouts, verticalCurve }): NetworkSpec => {
    const lines: Record<string, NetworkSpec["lines"][string]> = {};
    const nodes: Record<string, { pinned?: number; level?: string }> = { m0: { pinned: 900 }, m1: { pinned: 910 } };
    const main: [number, string][] = [[0, "m0"]];
    let s = 0;
    turnouts.forEach(({ gap, length, facing, spur, pin, before }, i) => {
      const [points, heel, diverging] = [`p${i}`, `h${i}`, `d${i}`];
      if (before !== undefined) {
        main.push([s + gap / 2, `pin${i}`]);
        nodes[`pin${i}`] = { pinned: before };
      }
      s += gap;
      main.push([s, facing ? points : heel]);
      s += length;
      main.push([s, facing ? heel : `~${points}`]);
      lines[`turnout:t${i}`] = {
        stops: [
          [0, points],
          [length + 1, diverging],
        ],
        plane: `t${i}`,
      };
      nodes[diverging] = { level: heel };
      const previous = turnouts[i - 1];
      const siding = !facing && previous?.facing && i % 2 === 1;
      if (siding)
        lines[`track:spur${i - 1}`] = {
          stops: [
            [0, `d${i - 1}`],
            [gap + spur, `~${diverging}`],
          ],
        };
      else
        lines[`track:spur${i}`] = {
          stops: [
            [0, diverging],
            [spur, `end${i}`],
          ],
        };
      if (!siding && pin !== undefined) nodes[`end${i}`] = { pinned: pin };
    });
    main.push([s + 700, "m1"]);
    return { lines: { "track:main": { stops: main }, ...lines }, nodes, verticalCurve };
  });

/** Height of each edge end at each node, by line. */
function nodeHeights({ network }: HeightsInput, heights: Heights): Map<string, number[]> {
  const at = new Map<string, number[]>();
  for (const edge of network.edges) {
    const profile = profileOf(heights, edge.line);
    for (const [{ node }, s] of [
      [edge.a, edge.from],
      [edge.b, edge.to],
    ] as const) {
      at.set(node, [...(at.get(node) ?? []), heightAt(profile, s)]);
    }
  }
  return at;
}

describe("vertical curves on any railway", () => {
  it("leave no step where lines meet", () => {
    fc.assert(
      fc.property(railways, (spec) => {
        const input = networkOf(spec);
        const heights = deriveProfiles(input);
        for (const [, there] of nodeHeights(input, heights)) {
          expect(Math.max(...there) - Math.min(...there)).toBeLessThan(1e-6);
        }
      }),
      { seed: 31, numRuns: 400 },
    );
  });

  it("do not overlap, and are no longer than wanted", () => {
    fc.assert(
      fc.property(railways, (spec) => {
        for (const { curves } of derive(spec).profiles.values()) {
          curves.forEach((curve, i) => {
            expect(curve.length).toBeLessThanOrEqual(curve.wanted);
            expect(curve.wanted).toBeCloseTo(Math.abs(curve.change) * 100 * (spec.verticalCurve ?? 0), 6);
            const next = curves[i + 1] ?? { at: Number.POSITIVE_INFINITY, length: 0 };
            expect(curve.at + curve.length / 2).toBeLessThanOrEqual(next.at - next.length / 2 + 1e-6);
          });
        }
      }),
      { seed: 32, numRuns: 400 },
    );
  });

  it("leave no kink on a line where there is room for a curve", () => {
    fc.assert(
      fc.property(railways, (spec) => {
        for (const [line, profile] of derive(spec).profiles) {
          if (!line.startsWith("track:")) continue;
          const crowded = profile.curves.filter((c) => c.length < 1e-3).map((c) => c.at);
          const roomy = profile.stations.slice(1, -1).filter((s) => !crowded.some((at) => Math.abs(at - s) < 1e-6));
          for (const s of roomy) {
            expect(Math.abs(slopeAt(profile, s + 1e-7) - slopeAt(profile, s - 1e-7))).toBeLessThan(6e-5);
          }
        }
      }),
      { seed: 33, numRuns: 200 },
    );
  });
});
