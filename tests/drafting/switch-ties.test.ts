/** Switch ties on the turnouts of a sample plan. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { switchTiesOf } from "../../src/drafting/switch-ties.js";
import { poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { readPlan } from "../../src/plan/read.js";

const LENGTH = 30;
const STEP = 6;

const read = readPlan(readFileSync("sample-plans/larkmoor-and-summit.plan.json", "utf8"), "sample");
if (!read.ok) throw new Error("the sample cannot be read");
const layout = deriveLayout(read.plan);
const turnouts = [...layout.turnouts.values()].filter(({ hand }) => hand !== "wye");

test("the sample has turnouts to look at", () => expect(turnouts.length).toBeGreaterThan(5));

test.each(turnouts.map((turnout) => [turnout.id, turnout] as const))("long ties of %s", (_, turnout) => {
  const host = layout.lines.get(turnout.host);
  const route = layout.lines.get(turnout.routes[0]?.line ?? "track:");
  if (!host || !route) throw new Error("a turnout without its lines");
  const whole = { from: 0, to: route.path.length, sagitta: 0.1 };
  const { chains } = switchTiesOf(route, host, turnout, whole, LENGTH, STEP);
  const onHost = new Map<number, number>();
  for (let n = 0; (n + 0.5) * STEP < host.path.length; n++) {
    const p = poseAt(host.path, (n + 0.5) * STEP);
    for (const [i, [x0 = 0, y0 = 0, x1 = 0, y1 = 0]] of chains.entries()) {
      const along = Math.abs((x0 - p.x) * Math.cos(p.heading) + (y0 - p.y) * Math.sin(p.heading));
      const off = Math.hypot(x0 - p.x, y0 - p.y);
      if (along < 1e-6 && Math.abs(off - LENGTH / 2) < 1e-6) onHost.set(i, Math.hypot(x1 - x0, y1 - y0));
    }
  }
  // In order from the points they grow, until the routes are a tie's length apart and each has its own.
  const lengths = [...onHost.entries()].sort(([a], [b]) => a - b).map(([, length]) => length);
  expect(lengths.length).toBeGreaterThan(10);
  expect(Math.max(...lengths)).toBeLessThan(1.2 * LENGTH);
  lengths.slice(1).forEach((length, i) => expect(length).toBeGreaterThan((lengths[i] ?? 0) - 1e-6));
  for (const [i, [x0 = 0, y0 = 0, x1 = 0, y1 = 0]] of chains.entries()) {
    if (!onHost.has(i)) expect(Math.hypot(x1 - x0, y1 - y0)).toBeCloseTo(LENGTH, 6);
  }
});
