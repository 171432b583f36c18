/** Turnouts as laid, against published dimensions and a general solver of differential equations (odex: Hairer's ODEX). */
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { curvatureAt, type Path, poseAt } from "../../src/geometry/path.js";
import { toDegrees } from "../../src/geometry/units.js";
import { at, layoutOf, lineAt, planOf, straight, track, turnout } from "../layout/small-plan.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { angle } from "./fraction.js";
import data from "./data/turnouts.json" with { type: "json" };

interface OdeSolver {
  relativeTolerance: number;
  absoluteTolerance: number;
  solve(f: (s: number, y: number[]) => number[], from: number, y: readonly number[], to: number): { y: number[] };
}
const { Solver } = createRequire(import.meta.url)("odex") as { Solver: new (size: number) => OdeSolver };

describe("T2: NMRA RP-12.7, 9 mm gauge (read): centre lines of a turnout on straight track", () => {
  it.each(Object.entries(data.T2.frog))("No. %s", (name, row) => {
    const number = Number(name);
    const plan = planOf({
      scale: { name: "N", ratio: 160, gauge: data.T2.gauge_mm },
      tracks: { main: track(at(0, 0), [straight(1000)]) },
      turnouts: { t: turnout("main", 200, { number }) },
    });
    const layout = deriveLayout(plan);
    const { end, start } = lineAt(layout, "turnout:t").path;
    // Half a minute of arc is how finely the table prints angles.
    expect(Math.abs(toDegrees(end.heading) - angle(row.frog_angle))).toBeLessThan(0.5 / 60);
    // Both straight routes, drawn on, meet at the intersection: PF to ICL before the frog point, which lies a lead from the points.
    const meet = end.x - end.y / Math.tan(end.heading);
    const frog = 200 + row.lead_to_theoretical_pf_mm;
    expect(frog - meet).toBeCloseTo(row.pf_to_icl_mm, 9);
    expect(row.pf_to_icl_mm).toBe(number * data.T2.gauge_mm);
    // The frog point is where the gauge lines half a gauge from either route cross.
    const half = data.T2.gauge_mm / 2;
    const off = (frog - meet) * Math.sin(end.heading) - half * Math.cos(end.heading);
    expect(off).toBeCloseTo(half, 9);
    // The curve begins before the intersection and has ended before the frog's toe.
    const tangent = meet - start.x;
    expect(tangent).toBeGreaterThan(0);
    expect(tangent).toBeLessThanOrEqual(row.pf_to_icl_mm - row.frog_toe_length_mm + 1e-9);
  });
});

describe("T1: the angle between the routes by frog number", () => {
  const { known: _known, ...computed } = data.T1.by_formula;
  it.each(Object.entries(computed))("No. %s is %s (derived from the catalogue's formula)", (name, printed) => {
    const layout = layoutOf({
      tracks: { main: track(at(0, 0), [straight(3000)]) },
      turnouts: { t: turnout("main", 400, { number: Number(name) }) },
    });
    expect(Math.abs(toDegrees(lineAt(layout, "turnout:t").path.end.heading) - angle(printed))).toBeLessThan(
      0.01 / 3600,
    );
  });
});

/** Where a route leads whose curvature is the host's plus the turnout's own, by the solver. */
function solved(
  host: Path,
  start: number,
  direction: 1 | -1,
  own: (s: number) => number,
  pieces: readonly number[],
): number[] {
  const first = poseAt(host, start);
  let state = [first.x, first.y, first.heading + (direction === 1 ? 0 : Math.PI)];
  pieces.slice(1).forEach((to, i) => {
    const begin = pieces[i] ?? 0;
    const solver = new Solver(3);
    solver.relativeTolerance = 1e-13;
    solver.absoluteTolerance = 1e-13;
    const middle = (begin + to) / 2;
    // Within a piece both curvatures are smooth; at its borders the solver must not look across.
    const bend = (s: number): number => {
      const u = middle + (s - middle) * (1 - 1e-12);
      return direction * curvatureAt(host, start + direction * u) + own(middle);
    };
    state = solver.solve((s, [, , h = 0]) => [Math.cos(h), Math.sin(h), bend(s)], begin, state, to).y;
  });
  return state;
}

describe("superposed on a curved host, the solver's route is ours", () => {
  const hosts = {
    circular: [{ curve: { radius: 1100, angle: 100, hand: "left", easement: 0 } }],
    eased: [straight(700), { curve: { radius: 900, angle: 80, hand: "right", easement: 600 } }, straight(700)],
  } as const;
  const cases = Object.keys(hosts).flatMap((host) =>
    (["left", "right"] as const).flatMap((hand) =>
      (["with", "against"] as const).map((facing) => [host as keyof typeof hosts, hand, facing] as const),
    ),
  );
  it.each(cases)("%s host, %s hand, facing %s", (host, hand, facing) => {
    const layout = layoutOf({
      tracks: { main: track(at(500, 500, 10), hosts[host]) },
      turnouts: { t: turnout("main", 900, { hand, facing }) },
    });
    const placed = layout.turnouts.get("t");
    if (!placed) throw new Error(JSON.stringify(layout.findings));
    const { departs, direction, radius } = placed;
    const main = lineAt(layout, "track:main").path;
    const route = lineAt(layout, "turnout:t").path;
    const curved = radius * placed.angle;
    const reach = route.length;
    const borders = main.stations.map((s) => direction * (s - departs)).filter((s) => s > 0 && s < reach);
    const pieces = [...new Set([0, curved, reach, ...borders])].filter((s) => s <= reach).sort((a, b) => a - b);
    const own = (s: number): number => (s < curved ? (hand === "left" ? 1 : -1) / radius : 0);
    const [x, y, heading] = solved(main, departs, direction, own, pieces);
    const ours = poseAt(route, reach);
    expect(ours.x).toBeCloseTo(x ?? Number.NaN, 7);
    expect(ours.y).toBeCloseTo(y ?? Number.NaN, 7);
    expect(Math.cos(ours.heading - (heading ?? Number.NaN))).toBeCloseTo(1, 12);
  });
});
