/** The civil certificate's points: a plan that meets all that readings tell, and one that misses each. */
import { describe, expect, test } from "vitest";
import { CIVIL_POINTS, type CivilPoint, civilCertificate } from "../../src/readings/certificate.js";
import { at, type Draft, endOf, from, join, left, plan, straight } from "./fixture.js";
import { passingPlan } from "./trains-fixture.js";

interface Parts {
  readonly siding: boolean;
  readonly spurs: number;
  readonly turn: boolean;
  readonly yard: number;
  readonly pin: boolean;
}
const WHOLE: Parts = { siding: true, spurs: 4, turn: true, yard: 2, pin: true };

/** A main with a siding; spurs off a branch, a loop and a yard beside it, each on a shelf of its own. */
function railway({ siding, spurs, turn, yard, pin }: Parts): Draft {
  let draft = (
    siding ? passingPlan({ length: 4000 }) : plan().track("main", at(500, 1000), [straight(4000)])
  ).standards({
    train: 1200,
    averageCar: 150,
    engine: 200,
  });
  draft = draft.track("branch", at(500, 2000), [straight(3000)], { class: "branch" });
  for (let i = 0; i < spurs; i++) {
    draft = draft
      .turnout(`s${i}`, { on: "branch", at: 300 + 600 * i, hand: "left" })
      .track(`spur${i}`, from(`s${i}`), [straight(500)], { class: "spur" });
  }
  if (turn) {
    draft = draft
      .track("back", at(4500, 4000), [straight(1500)])
      .turnout("t", { on: "back", at: 700, hand: "left" })
      .track("round", endOf("back"), [left(600, 200), join(from("t"), 500)]);
  }
  if (yard > 0) draft = draft.track("ladder", at(500, 4000), [straight(2500)], { class: "lead" });
  for (let i = 0; i < yard; i++) {
    draft = draft
      .turnout(`y${i}`, { on: "ladder", at: 1000 + 400 * i, hand: "left" })
      .track(`yard${i}`, from(`y${i}`), [straight(900)], { class: "yard" });
  }
  return pin ? draft.pin("p", "main", 0, 1000) : draft;
}

function met(draft: Draft): Partial<Record<CivilPoint, boolean | undefined>> {
  const points = civilCertificate(draft.plan, draft.readings);
  expect(points.map(({ id }) => id)).toEqual(CIVIL_POINTS);
  return Object.fromEntries(points.map((point) => [point.id, point.met]));
}
const missed = (draft: Draft): string[] => Object.entries(met(draft)).flatMap(([id, is]) => (is === false ? [id] : []));

describe("the civil certificate", () => {
  test("a plan that has everything misses nothing; what no reading tells is left open", () => {
    expect(missed(railway(WHOLE))).toEqual([]);
    expect(met(railway(WHOLE))["engine-facilities"]).toBeUndefined();
  });

  test.each([
    [
      "no siding: nothing passes and two trains have nowhere to meet",
      { siding: false },
      ["passing-siding", "two-trains"],
    ],
    ["three spurs", { spurs: 3 }, ["switching-locations"]],
    ["nothing that turns", { turn: false }, ["turning"]],
    ["no yard", { yard: 0 }, ["terminal"]],
    ["a yard of one track", { yard: 1 }, ["terminal"]],
    ["no pinned height", { pin: false }, ["elevations"]],
  ] as const)("%s", (_, without, ids) => expect(missed(railway({ ...WHOLE, ...without }))).toEqual(ids));

  test("a siding too short for the train passes nobody", () =>
    expect(missed(railway(WHOLE).standards({ train: 5000 }))).toEqual(["passing-siding", "two-trains"]));

  test("two circuits run two trains without a siding", () => {
    const ring = (id: string, y: number, draft: Draft): Draft =>
      draft
        .track(id, at(3000, y), [straight(500), left(400, 180), straight(500), left(400, 180)])
        .track(`${id}-shut`, endOf(id), [join({ track: id, end: "start" }, 400)]);
    const rings = ring("b", 4000, ring("a", 1000, plan()));
    const together = rings.readings.find(({ id }) => id === "runs")?.figures?.["at once, no turnout thrown"]?.value;
    expect(together).toBe(2);
    expect(met(rings)).toMatchObject({
      "two-trains": true,
      "passing-siding": false,
      "turnout-sizes": false,
      radii: true,
    });
  });

  test("an empty plan meets nothing", () => {
    const points = met(plan());
    expect(Object.values(points).filter((is) => is === true)).toEqual([]);
  });
});
