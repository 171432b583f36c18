/** Lines and level profiles made from paths, for tests that need no plan. */
import { makePath, type Path } from "../../src/geometry/path.js";
import type { Segment } from "../../src/geometry/segment.js";
import type { Line, LineKey } from "../../src/layout/line.js";
import type { Profile } from "../../src/layout/profile.js";
import { sampleLine } from "../../src/layout/samples.js";

export const lineOf = (name: string, path: Path): Line => ({
  key: `track:${name}`,
  kind: "track",
  id: name,
  class: "main",
  deck: "lower",
  path,
  samples: sampleLine(path),
});

export const lineMap = (...lines: readonly Line[]): Map<LineKey, Line> =>
  new Map(lines.map((line) => [line.key, line]));

/** From one height at the start of a line to another at its end. */
export const climbing = (line: Line, from: number, to: number): Profile => ({
  stations: [0, line.path.length],
  heights: [from, to],
  curves: [],
});

export const levelProfiles = (lines: ReadonlyMap<LineKey, Line>, height = 900): Map<LineKey, Profile> =>
  new Map([...lines].map(([key, line]) => [key, climbing(line, height, height)]));

/** A track of chance: straights, curves of model radii and easements, within a room of `size`. */
export function randomPath(random: () => number, size: number, segments: number): Path {
  const start = { x: size * random(), y: size * random(), heading: 2 * Math.PI * random() };
  let k = 0;
  const chain: Segment[] = [];
  for (let i = 0; i < segments; i++) {
    const next = random() < 0.35 ? 0 : (random() < 0.5 ? -1 : 1) / (250 + 900 * random());
    if (random() < 0.6 && next !== k) chain.push({ length: 100 + 200 * random(), k0: k, k1: next });
    chain.push({ length: 150 + 900 * random(), k0: next, k1: next });
    k = next;
  }
  return makePath(start, chain);
}
