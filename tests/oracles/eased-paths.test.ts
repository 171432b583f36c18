/**
 * Joins against 250 shortest eased paths of an independent C++ implementation of Fraichard & Scheuer, IEEE T-RO 20(6),
 * 2004 (data/eased-shortest-paths.csv: goal seen from (0, 0) heading 0, radius, easement, plain Dubins length, eased length).
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { joinPoses } from "../../src/geometry/join.js";
import { pathFaults } from "../geometry/path-faults.js";

const ORIGIN = { x: 0, y: 0, heading: 0 };
const table = readFileSync(new URL("./data/eased-shortest-paths.csv", import.meta.url), "utf8");
const rows = table
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => {
    const [x = 0, y = 0, heading = 0, radius = 0, easement = 0, dubins = 0, eased = 0] = line.split(",").map(Number);
    return { goal: { x, y, heading }, radius, easement, dubins, eased };
  });

describe("shortest eased paths", () => {
  it("are all there", () => expect(rows).toHaveLength(250));

  it.each(rows)("to $goal at $radius mm eased by $easement mm", ({ goal, radius, easement, eased, dubins }) => {
    const path = joinPoses(ORIGIN, goal, { radius, easement });
    if (!path) throw new Error("no path");
    expect(pathFaults(path, goal, { radius, easement })).toEqual([]);
    expect(path.length).toBeLessThanOrEqual(eased * (1 + 1e-6));
    const plain = joinPoses(ORIGIN, goal, { radius, easement: 0 });
    if (!plain) throw new Error("no plain path");
    expect(pathFaults(plain, goal, { radius, easement: 0 })).toEqual([]);
    // The table is printed to a millionth of a millimetre, goals too.
    expect(Math.abs(plain.length - dubins)).toBeLessThan(5e-6);
    expect(path.length).toBeGreaterThan(plain.length - 1e-6);
  });
});
