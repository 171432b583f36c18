/** Sections, circuits, turning places and longest ways of networks of chance, against plain search over their edges. */
import { describe, expect, test } from "vitest";
import { circuitsOf } from "../../src/layout/circuits.js";
import { longestWay } from "../../src/layout/longest-way.js";
import type { Network } from "../../src/layout/network.js";
import { passingWays } from "../../src/layout/passing-ways.js";
import {
  arrivalOf,
  beginOf,
  edgesOf,
  reversed,
  sectionLengths,
  sectionOf,
  sectionsOf,
} from "../../src/layout/sections.js";
import { strongParts } from "../../src/layout/strong-parts.js";
import { turningPlaces } from "../../src/layout/turning.js";
import { seeded } from "../support/shapes.js";
import { networkOf, type LineSpec } from "./network-fixture.js";
import { type Run, runName, runsOnwards } from "./network-walk.js";

/** Lines between a few nodes, whole lengths, any of them the other way round. */
function randomLines(seed: number): Record<string, LineSpec> {
  const random = seeded(seed);
  const nodes = 3 + Math.floor(random() * 5);
  const lines: Record<string, LineSpec> = {};
  const count = 2 + Math.floor(random() * 5);
  for (let i = 0; i < count; i++) {
    const stops = Array.from({ length: 2 + Math.floor(random() * 2) }, (_, n): [number, string] => [
      n * (100 + 10 * i),
      `${random() < 0.4 ? "~" : ""}n${Math.floor(random() * nodes)}`,
    ]);
    lines[`track:l${i}`] = { stops };
  }
  return lines;
}

const networks = Array.from({ length: 400 }, (_, seed) => {
  const lines = randomLines(seed + 1);
  const turned = Object.fromEntries(Object.entries(lines).reverse());
  return { seed, network: networkOf({ lines }).network, turned: networkOf({ lines: turned }).network };
});

const allRuns = ({ edges }: Network): Run[] =>
  edges.flatMap(({ index }) => [
    { edge: index, forwards: true },
    { edge: index, forwards: false },
  ]);

/** Sets of edges of all circuits, found by walking every way until it comes back to where it began. */
function circuitsByWalking(network: Network): Set<string> {
  const found = new Set<string>();
  for (const start of allRuns(network)) {
    const way: Run[] = [];
    const walk = (run: Run): void => {
      way.push(run);
      for (const next of runsOnwards(network, run)) {
        if (runName(next) === runName(start))
          found.add([...new Set(way.map(({ edge }) => edge))].sort((a, b) => a - b).join(","));
        else if (next.edge >= start.edge && !way.some((other) => runName(other) === runName(next))) walk(next);
      }
      way.pop();
    };
    walk(start);
  }
  return found;
}

describe("on 400 networks of chance", () => {
  test("every edge is in one section, and runs follow one another as its edges do", () => {
    for (const { seed, network } of networks) {
      const sections = sectionsOf(network);
      const edges = sections.sections.flatMap((section) => section.edges.map(({ edge }) => edge));
      expect([seed, edges.sort((a, b) => a - b)]).toEqual([seed, network.edges.map(({ index }) => index)]);
      sections.next.forEach((following, run) => {
        expect(reversed(reversed(run))).toBe(run);
        const own = edgesOf(sections, run);
        const [first, last] = [own[0], own.at(-1)];
        if (!first || !last) throw new Error("a section without edges");
        const onwards = runsOnwards(network, last).map(runName).sort();
        const firsts = following.flatMap((next) => edgesOf(sections, next).slice(0, 1)).map(runName);
        expect([seed, firsts.sort()]).toEqual([seed, onwards]);
        for (const next of following) expect(sections.next[reversed(next)]).toContain(reversed(run));
        expect(beginOf(sections, reversed(run))).toEqual(arrivalOf(sections, run));
      });
    }
  });

  test("circuits are those found by walking", () => {
    let several = 0;
    for (const { seed, network } of networks) {
      const sections = sectionsOf(network);
      const { circuits, all, together } = circuitsOf(network);
      if (!all) continue;
      const own = circuits.map((lap) =>
        [...new Set(lap.flatMap((run) => edgesOf(sections, run).map(({ edge }) => edge)))]
          .sort((a, b) => a - b)
          .join(","),
      );
      expect([seed, own.sort()]).toEqual([seed, [...circuitsByWalking(network)].sort()]);
      for (const lap of circuits)
        lap.forEach((run, i) => expect(sections.next[run]).toContain(lap[(i + 1) % lap.length]));
      const nodes = together.flatMap((i) => (circuits[i] ?? []).map((run) => beginOf(sections, run).node));
      expect(new Set(nodes).size).toBe(nodes.length);
      if (circuits.length > 2) several++;
    }
    expect(several).toBeGreaterThan(20);
  });

  test("a train can be turned exactly where runs and reversals lead back the other way", () => {
    let turns = 0;
    for (const { seed, network } of networks) {
      const group = new Map(allRuns(network).map((run) => [runName(run), runName(run)]));
      const root = (name: string): string => {
        const up = group.get(name) ?? name;
        return up === name ? name : root(up);
      };
      for (const run of allRuns(network))
        for (const next of runsOnwards(network, run)) group.set(root(runName(run)), root(runName(next)));
      const turnable = network.edges.some(({ index }) => root(`${index}+`) === root(`${index}-`));
      expect([seed, turningPlaces(network).length > 0]).toEqual([seed, turnable]);
      if (turnable) turns++;
    }
    expect(turns).toBeGreaterThan(100);
  });

  test("the longest way is the longest walked where nothing circles, and no shorter than any shortest route", () => {
    let without = 0;
    for (const { seed, network } of networks) {
      const lengthOf = ({ edge }: Run): number => network.edges[edge]?.length ?? 0;
      const begins = allRuns(network).filter(
        (run) => runsOnwards(network, { ...run, forwards: !run.forwards }).length === 0,
      );
      if (begins.length === 0) {
        expect([seed, longestWay(network)]).toEqual([seed, undefined]);
        continue;
      }
      if (strongParts(sectionsOf(network)).parts.length > 0) continue;
      without++;
      const longest = (run: Run): number => lengthOf(run) + Math.max(0, ...runsOnwards(network, run).map(longest));
      expect(longestWay(network)?.length).toBeCloseTo(Math.max(...begins.map(longest)), 6);
    }
    expect(without).toBeGreaterThan(50);
  });

  test("passing ways are two roads apart between the same legs, and all answers are the same in any order of records", () => {
    let ways = 0;
    for (const { seed, network, turned } of networks) {
      const sections = sectionsOf(network);
      for (const { road, other } of passingWays(network)) {
        ways++;
        const [first, last] = [road[0] ?? 0, road.at(-1) ?? 0];
        const [otherFirst, otherLast] = [other[0] ?? 0, other.at(-1) ?? 0];
        expect([seed, beginOf(sections, first)]).toEqual([seed, beginOf(sections, otherFirst)]);
        expect([seed, arrivalOf(sections, last)]).toEqual([seed, arrivalOf(sections, otherLast)]);
        const shared = road.map(sectionOf).filter((i) => other.map(sectionOf).includes(i));
        expect([seed, shared]).toEqual([seed, []]);
        for (const runs of [road, other])
          runs.slice(1).forEach((run, i) => expect(sections.next[runs[i] ?? 0]).toContain(run));
      }
      const gist = (one: Network) => ({
        circuits: circuitsOf(one).circuits.length,
        together: circuitsOf(one).together.length,
        turning: turningPlaces(one).length,
        ways: passingWays(one).length,
        longest: Math.round(longestWay(one)?.length ?? 0),
        sections: [...sectionLengths(one)].map(Math.round).sort((a, b) => a - b),
      });
      expect([seed, gist(turned)]).toEqual([seed, gist(network)]);
    }
    expect(ways).toBeGreaterThan(10);
  });
});
