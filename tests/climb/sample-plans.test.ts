/** The sample plans without the climb their owners drew: the search finds one as good. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { ClimbRequest, ClimbRoute } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { toDegrees } from "../../src/geometry/units.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Plan } from "../../src/plan/schema.js";
import { readPlan } from "../../src/plan/read.js";
import { takeReadings } from "../../src/readings/take.js";

function sample(name: string): Plan {
  const read = readPlan(readFileSync(`sample-plans/${name}.plan.json`, "utf8"));
  if (!read.ok) throw new Error("a sample can be read");
  return read.plan;
}

/** The plan without a climb, its pins gone with it; the track that began where it ended begins there still. */
function without(plan: Plan, climb: string, upper: string): Plan {
  const start = deriveLayout(plan).lines.get(`track:${upper}`)?.path.start;
  const { [climb]: drawn, [upper]: above, ...tracks } = plan.tracks;
  if (!start || !drawn || !above) throw new Error("both are there");
  const pose = { x: start.x, y: start.y, heading: toDegrees(start.heading) };
  const pins = Object.fromEntries(Object.entries(plan.pins).filter(([, pin]) => pin.track !== climb));
  return { ...plan, tracks: { ...tracks, [upper]: { ...above, start: { pose } } }, pins };
}

function routesOf(plan: Plan, request: ClimbRequest): readonly ClimbRoute[] {
  for (const step of searchClimb(plan, request)) if (step.kind === "answer") return step.routes;
  return [];
}

const LARKMOOR = without(sample("larkmoor-and-summit"), "climb", "upper");
const KETTLE = without(sample("isle-of-kettle"), "helix", "hill");
const SAMPLES: [name: string, plan: Plan, from: ClimbRequest["from"], upper: string][] = [
  ["Larkmoor", LARKMOOR, { turnout: "blackshaw" }, "upper"],
  ["the Isle of Kettle", KETTLE, { track: "shore", end: "end" }, "hill"],
];

describe.each(SAMPLES)("the climb of %s", (name, plan, from, upper) => {
  const routes = routesOf(plan, { from, to: { track: upper, end: "start" }, class: "branch", most: 2 });

  it("is found, and every reading of the plan stays clear", () => {
    expect(routes.length).toBeGreaterThan(0);
    for (const { edit } of routes) {
      const failing = takeReadings(edit.plan, deriveLayout(edit.plan)).filter(({ verdict }) => verdict === "fails");
      expect(failing).toEqual([]);
    }
  });

  it("is as a builder would lay it", () => {
    const best = routes[0]?.figures;
    // Larkmoor's owner turns 754 degrees with two reversals in 14.56 m; Kettle's 2040 in one curve of 16 m.
    if (name === "Larkmoor") expect(best).toMatchObject({ reversals: 2, curves: 4 });
    else expect(best).toMatchObject({ reversals: 0, curves: 1 });
    expect(best?.run).toBeLessThan(name === "Larkmoor" ? 14_560 : 16_100);
  });
});
