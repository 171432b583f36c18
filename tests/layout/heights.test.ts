import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Link, solveHeights } from "../../src/layout/height-solve.js";
import { deriveProfiles, type Heights } from "../../src/layout/heights.js";
import type { LineKey } from "../../src/layout/line.js";
import { heightAt } from "../../src/layout/profile.js";
import { networkOf, type NetworkSpec, SPUR_ON_A_GRADE } from "./network-fixture.js";

const derive = (spec: NetworkSpec, previous?: Heights, lines?: Parameters<typeof networkOf>[1]): Heights =>
  deriveProfiles(networkOf(spec, lines), previous);

const heightOn = (heights: Heights, line: string, s: number): number => {
  const profile = heights.profiles.get(line as LineKey);
  if (!profile) throw new Error(`no profile of ${line}`);
  return heightAt(profile, s);
};

/** A connected network: node n hangs on an earlier one, and a few links more close loops. Nodes 0 and 1 are pinned. */
const meshes = fc
  .record({
    tree: fc.array(fc.record({ to: fc.nat(), length: fc.double({ min: 1, max: 20_000, noNaN: true }) }), {
      minLength: 2,
      maxLength: 60,
    }),
    more: fc.array(
      fc.record({ a: fc.nat(), b: fc.nat(), length: fc.double({ min: 0.001, max: 20_000, noNaN: true }) }),
      { maxLength: 40 },
    ),
    pins: fc.array(fc.record({ node: fc.nat(), height: fc.double({ min: -500, max: 2500, noNaN: true }) }), {
      minLength: 1,
      maxLength: 5,
    }),
  })
  .map(({ tree, more, pins }) => {
    const count = tree.length + 1;
    const links: Link[] = tree.map(({ to, length }, i) => ({ a: i + 1, b: to % (i + 1), length }));
    for (const { a, b, length } of more) links.push({ a: a % count, b: b % count, length });
    const pinned = new Float64Array(count).fill(Number.NaN);
    for (const { node, height } of pins) pinned[node % count] = height;
    return { count, links, pinned };
  });

const values = (pinned: Float64Array): number[] => [...pinned].filter((h) => !Number.isNaN(h));

describe("solveHeights", () => {
  it("keeps within the pins, and balances the grades at every free node", () => {
    fc.assert(
      fc.property(meshes, ({ count, links, pinned }) => {
        const heights = solveHeights(count, links, pinned);
        const least = Math.min(...values(pinned));
        const greatest = Math.max(...values(pinned));
        const balance = new Float64Array(count);
        const size = new Float64Array(count);
        for (const { a, b, length } of links) {
          const grade = ((heights[b] ?? 0) - (heights[a] ?? 0)) / length;
          balance[a] = (balance[a] ?? 0) + grade;
          balance[b] = (balance[b] ?? 0) - grade;
          for (const n of [a, b]) size[n] = (size[n] ?? 0) + 1 / length;
        }
        heights.forEach((h, n) => {
          expect(h).toBeGreaterThanOrEqual(least - 1e-9);
          expect(h).toBeLessThanOrEqual(greatest + 1e-9);
          const pin = pinned[n] ?? Number.NaN;
          const wrong = Number.isNaN(pin) ? (balance[n] ?? 0) / (size[n] ?? 1) : h - pin;
          expect(Math.abs(wrong)).toBeLessThan(1e-9);
        });
      }),
      { seed: 21, numRuns: 300 },
    );
  });

  it("is linear in the pins", () => {
    fc.assert(
      fc.property(meshes, fc.double({ min: -3, max: 3, noNaN: true }), ({ count, links, pinned }, factor) => {
        const other = pinned.map((h, i) => (Number.isNaN(h) ? h : 100 * Math.sin(i)));
        const mixed = pinned.map((h, i) => factor * h + (other[i] ?? 0));
        const [p, q, r] = [pinned, other, mixed].map((pins) => solveHeights(count, links, pins));
        for (let i = 0; i < count; i++) {
          expect(Math.abs(factor * (p?.[i] ?? 0) + (q?.[i] ?? 0) - (r?.[i] ?? Number.NaN))).toBeLessThan(1e-8);
        }
      }),
      { seed: 22, numRuns: 200 },
    );
  });

  it("is exactly level where all pins agree", () => {
    fc.assert(
      fc.property(meshes, ({ count, links, pinned }) => {
        const flat = pinned.map((h) => (Number.isNaN(h) ? h : 1016.3));
        expect(new Set(solveHeights(count, links, flat))).toEqual(new Set([1016.3]));
      }),
      { seed: 23, numRuns: 100 },
    );
  });

  it("raises every node, or leaves it, when a pin is raised", () => {
    fc.assert(
      fc.property(meshes, ({ count, links, pinned }) => {
        const raised = Float64Array.from(pinned);
        const first = raised.findIndex((h) => !Number.isNaN(h));
        raised[first] = (raised[first] ?? 0) + 25;
        const [before, after] = [solveHeights(count, links, pinned), solveHeights(count, links, raised)];
        for (let i = 0; i < count; i++) {
          expect((after[i] ?? 0) - (before[i] ?? 0)).toBeGreaterThan(-1e-9);
          expect((after[i] ?? 0) - (before[i] ?? 0)).toBeLessThan(25 + 1e-9);
        }
      }),
      { seed: 24, numRuns: 100 },
    );
  });

  it.each([
    {
      name: "one run",
      links: [
        { a: 0, b: 2, length: 300 },
        { a: 2, b: 1, length: 700 },
      ],
      expected: 106,
    },
    {
      // 300 mm to the lower pin, to the upper one 700 and 700 side by side, which is 350.
      name: "parallel runs",
      links: [
        { a: 0, b: 2, length: 300 },
        { a: 2, b: 1, length: 700 },
        { a: 2, b: 1, length: 700 },
      ],
      expected: 100 + (20 * 300) / 650,
    },
    {
      name: "a loop on a node",
      links: [
        { a: 0, b: 2, length: 1 },
        { a: 2, b: 1, length: 1 },
        { a: 2, b: 2, length: 5 },
      ],
      expected: 110,
    },
  ])("follows the laws of series and parallel: $name", ({ links, expected }) => {
    const pinned = Float64Array.from([100, 120, Number.NaN]);
    expect(solveHeights(3, links, pinned)[2]).toBeCloseTo(expected, 12);
  });

  it("says NaN where no pin reaches", () => {
    const pinned = Float64Array.from([100, Number.NaN, Number.NaN, Number.NaN]);
    const heights = solveHeights(
      4,
      [
        { a: 0, b: 1, length: 5 },
        { a: 2, b: 3, length: 5 },
      ],
      pinned,
    );
    expect([...heights]).toEqual([100, 100, Number.NaN, Number.NaN]);
  });
});

describe("deriveProfiles", () => {
  it("climbs evenly between pins, through joints, and on level beyond them", () => {
    const heights = derive({
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [500, "low"],
            [1000, "ab"],
          ],
        },
        "track:b": {
          stops: [
            [0, "ab"],
            [1500, "high"],
            [2000, "b1"],
          ],
        },
      },
      nodes: { low: { pinned: 900 }, high: { pinned: 940 } },
    });
    expect(heights.profiles.get("track:a")?.heights).toEqual([900, 900, 910]);
    expect(heights.profiles.get("track:b")?.heights).toEqual([910, 940, 940]);
  });

  it("gives a diverging end the height of the heel, and a dead spur that of its turnout", () => {
    const heights = derive(SPUR_ON_A_GRADE);
    const heel = heightOn(heights, "track:main", 1200);
    expect(heel).toBeCloseTo(924, 9);
    expect(heightOn(heights, "turnout:t", 0)).toBeCloseTo(920, 9);
    expect(heightOn(heights, "turnout:t", 201)).toBe(heel);
    expect(heights.profiles.get("track:spur")?.heights).toEqual([heel, heel]);
  });

  it("follows chains of level nodes, and survives circles of them", () => {
    const lines = {
      "track:a": {
        stops: [
          [0, "a0"],
          [1000, "a1"],
        ],
      },
      "track:b": {
        stops: [
          [0, "b0"],
          [1000, "b1"],
        ],
      },
      "track:c": {
        stops: [
          [0, "c0"],
          [1000, "c1"],
        ],
      },
    } as const;
    const pinned = { a0: { pinned: 900 }, a1: { pinned: 950 } };
    const chain = derive({ lines, nodes: { ...pinned, c0: { level: "b0" }, b0: { level: "a1" } } });
    expect(heightOn(chain, "track:c", 500)).toBe(950);
    const circle = derive({
      lines,
      nodes: { ...pinned, b0: { level: "c0" }, c0: { level: "b0" }, b1: { level: "b1" }, c1: { level: "nowhere" } },
    });
    expect(heightOn(circle, "track:b", 500)).toBe(900);
    expect(heightOn(circle, "track:a", 500)).toBe(925);
  });

  it("lays a piece without a pin level at the deck of its longest line", () => {
    const heights = derive({
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [1000, "ab"],
          ],
          deck: "lower",
        },
        "track:b": {
          stops: [
            [0, "ab"],
            [1500, "b1"],
          ],
          deck: "upper",
        },
        "track:far": {
          stops: [
            [0, "f0"],
            [300, "f1"],
          ],
          deck: "lower",
        },
      },
    });
    expect(heights.profiles.get("track:a")?.heights).toEqual([1300, 1300]);
    expect(heights.profiles.get("track:b")?.heights).toEqual([1300, 1300]);
    expect(heights.profiles.get("track:far")?.heights).toEqual([900, 900]);
  });

  it("closes loops: what a train climbs round a loop it comes down again", () => {
    const heights = derive({
      lines: {
        "track:loop": {
          stops: [
            [0, "join"],
            [2000, "top"],
            [5000, "join"],
          ],
        },
        "track:up": {
          stops: [
            [0, "u0"],
            [1000, "points"],
            [1200, "heel"],
            [4000, "u1"],
          ],
        },
      },
      nodes: { join: { pinned: 900 }, top: { pinned: 930 }, u0: { pinned: 900 }, u1: { pinned: 980 } },
    });
    const loop = heights.profiles.get("track:loop");
    expect(loop?.heights[0]).toBe(loop?.heights.at(-1));
    expect(heightOn(heights, "track:loop", 3500)).toBeCloseTo(915, 9);
  });

  it("shares the climb between a main and the siding beside it", () => {
    const heights = derive({
      lines: {
        "track:main": {
          stops: [
            [0, "w"],
            [1000, "p1"],
            [1200, "h1"],
            [3200, "h2"],
            [3400, "p2"],
            [5000, "e"],
          ],
        },
        "turnout:t1": {
          stops: [
            [0, "p1"],
            [201, "d1"],
          ],
          plane: "t1",
        },
        "turnout:t2": {
          stops: [
            [0, "~p2"],
            [201, "~d2"],
          ],
          plane: "t2",
        },
        "track:siding": {
          stops: [
            [0, "d1"],
            [1000, "mid"],
            [2000, "d2"],
          ],
        },
      },
      nodes: { w: { pinned: 900 }, e: { pinned: 980 }, d1: { level: "h1" }, d2: { level: "h2" } },
    });
    // 1200 + 2000 / 2 + 1800 mm of run for 80 mm of rise.
    expect(heightOn(heights, "track:main", 1200)).toBeCloseTo(900 + (80 * 1200) / 4000, 9);
    expect(heightOn(heights, "track:siding", 1000)).toBeCloseTo(900 + (80 * 1700) / 4000, 9);
    expect(heightOn(heights, "track:siding", 2000)).toBeCloseTo(heightOn(heights, "track:main", 3200), 9);
  });

  it("reports pins that disagree on one height and takes the first", () => {
    const nodes = { ...SPUR_ON_A_GRADE.nodes, heel: { pinned: 930 }, diverging: { level: "heel", pinned: 935 } };
    const heights = derive({ ...SPUR_ON_A_GRADE, nodes });
    expect(heights.findings).toMatchObject([
      { kind: "pins-conflict", thing: "turnouts.t", deck: "lower", point: { x: 201, y: 0 } },
    ]);
    expect(heightOn(heights, "track:spur", 700)).toBe(930);
    const agreed = derive({ ...SPUR_ON_A_GRADE, nodes: { ...nodes, diverging: { level: "heel", pinned: 930.001 } } });
    expect(agreed.findings).toEqual([]);
  });

  it("makes one height of the ends of an edge without length", () => {
    const heights = derive({
      lines: {
        "track:a": {
          stops: [
            [0, "a0"],
            [600, "x"],
            [600, "y"],
            [1000, "a1"],
          ],
        },
        "track:b": {
          stops: [
            [0, "y"],
            [0, "b1"],
          ],
        },
      },
      nodes: { a0: { pinned: 900 }, a1: { pinned: 920 } },
      verticalCurve: 100,
    });
    expect(heightOn(heights, "track:a", 600)).toBeCloseTo(912, 9);
    expect(heightOn(heights, "track:b", 0)).toBeCloseTo(912, 9);
  });
});

describe("deriveProfiles, from the previous heights", () => {
  const far: NetworkSpec["lines"] = {
    "track:far": {
      stops: [
        [0, "f0"],
        [1000, "f1"],
      ],
    },
    "track:farther": {
      stops: [
        [0, "f1"],
        [1000, "f2"],
      ],
    },
  };
  const base: NetworkSpec = {
    lines: { ...SPUR_ON_A_GRADE.lines, ...far },
    nodes: { ...SPUR_ON_A_GRADE.nodes, f0: { pinned: 1000 }, f2: { pinned: 1010 } },
    verticalCurve: 150,
  };
  const input = networkOf(base);
  const first = deriveProfiles(input);

  it("counts every line at first and none when nothing changed", () => {
    expect(first.solved).toBe(5);
    const again = derive(base, first, input.lines);
    expect(again.solved).toBe(0);
    expect(again.profiles).toBe(first.profiles);
  });

  it.each<[string, Partial<NetworkSpec>, LineKey[]]>([
    ["a pin of one piece", { nodes: { ...base.nodes, f2: { pinned: 1020 } } }, ["track:far", "track:farther"]],
    [
      "a longer spur, which carries nothing and lies as it lay but for its end",
      {
        lines: {
          ...base.lines,
          "track:spur": {
            stops: [
              [0, "diverging"],
              [1600, "buffer"],
            ],
          },
        },
      },
      ["track:spur"],
    ],
    [
      "a spur pinned higher, which draws on the main",
      { nodes: { ...base.nodes, buffer: { pinned: 950 } } },
      ["track:main", "turnout:t", "track:spur"],
    ],
    ["the deck of a pinned piece", { decks: { lower: 950 } }, []],
    [
      "names of nodes",
      {
        lines: {
          ...base.lines,
          "track:spur": {
            stops: [
              [0, "diverging"],
              [1500, "end"],
            ],
          },
        },
      },
      [],
    ],
  ])("makes only what changed anew: %s", (_, change, expected) => {
    const next = derive({ ...base, ...change }, first, input.lines);
    const fresh = [...next.profiles].filter(([line, profile]) => first.profiles.get(line) !== profile);
    expect(fresh.map(([line]) => line)).toEqual(expected);
    expect(next.solved).toBe(expected.length);
  });

  it("gives what deriving from nothing gives, over many edits", () => {
    const edit = fc.record({
      west: fc.integer({ min: 880, max: 920 }),
      spur: fc.constantFrom(1500, 1600, 2000),
      buffer: fc.option(fc.integer({ min: 880, max: 960 }), { nil: undefined }),
      far: fc.constantFrom(1010, 1020),
      curve: fc.constantFrom(150, 150, 300),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 2, maxLength: 12 }), (edits) => {
        let before: Heights | undefined;
        let lines: Parameters<typeof networkOf>[1];
        for (const { west, spur, buffer, far: height, curve } of edits) {
          const next = networkOf(
            {
              lines: {
                ...base.lines,
                "track:spur": {
                  stops: [
                    [0, "diverging"],
                    [spur, "buffer"],
                  ],
                },
              },
              nodes: {
                ...base.nodes,
                west: { pinned: west },
                f2: { pinned: height },
                ...(buffer !== undefined && { buffer: { pinned: buffer } }),
              },
              verticalCurve: curve,
            },
            lines,
          );
          const grown = deriveProfiles(next, before);
          const anew = deriveProfiles(next);
          expect([...grown.profiles.keys()]).toEqual([...anew.profiles.keys()]);
          for (const [line, profile] of anew.profiles) {
            const own = grown.profiles.get(line);
            expect(own?.curves.length).toBe(profile.curves.length);
            profile.heights.forEach((h, i) => expect(own?.heights[i]).toBeCloseTo(h, 8));
            profile.curves.forEach((c, i) => expect(own?.curves[i]?.length).toBeCloseTo(c.length, 6));
          }
          before = grown;
          lines = next.lines;
        }
      }),
      { seed: 25, numRuns: 60 },
    );
  });

  it("drops the profiles of lines that are gone", () => {
    const next = derive({ ...base, lines: SPUR_ON_A_GRADE.lines }, first, input.lines);
    expect([...next.profiles.keys()]).toEqual(["track:main", "turnout:t", "track:spur"]);
    expect(next.solved).toBe(0);
  });
});
