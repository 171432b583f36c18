/** Edits of the kind an owner makes while drawing, on tracks all over a plan: each makes the next plan from the last. */
import { amendRecord, type Edit } from "../src/plan/edit.js";
import { setLeg, setTrack } from "../src/plan/track-edits.js";
import type { Plan } from "../src/plan/schema.js";

export interface EditKind {
  readonly name: string;
  readonly make: (plan: Plan, district: string, step: number) => Edit;
}

/** Figures go up and down by turns, so that a plan stays as it was made however many edits there are. */
const swing = (value: number, step: number, by: number): number => value + (step % 2 === 0 ? by : -by);

function legFigure(plan: Plan, id: string, index: number): number {
  const leg = plan.tracks[id]?.legs[index];
  if (leg && "straight" in leg) return leg.straight;
  return leg && "curve" in leg ? leg.curve.radius : 0;
}

export const EDIT_KINDS: readonly EditKind[] = [
  {
    name: "spur's end moved",
    make: (plan, d, step) => {
      const id = `${d}-spur1`;
      return setLeg(plan, id, 2, { straight: swing(legFigure(plan, id, 2), step, 7) });
    },
  },
  {
    name: "spur's curve changed",
    make: (plan, d, step) => {
      const id = `${d}-spur0`;
      const radius = swing(legFigure(plan, id, 1), step, 5);
      return setLeg(plan, id, 1, { curve: { radius, angle: 24, hand: "left" } });
    },
  },
  {
    name: "turnout moved",
    make: (plan, d, step) => {
      const id = `${d}-yard3`;
      return amendRecord(plan, "turnouts", id, { at: swing(plan.turnouts[id]?.at ?? 0, step, 4) });
    },
  },
  {
    name: "siding's turnout moved",
    make: (plan, d, step) => {
      const id = `${d}-close`;
      return amendRecord(plan, "turnouts", id, { at: swing(plan.turnouts[id]?.at ?? 0, step, 4) });
    },
  },
  {
    name: "helix widened",
    make: (plan, d, step) => {
      const id = `${d}-branch`;
      const radius = swing(legFigure(plan, id, 1), step, 3);
      return setLeg(plan, id, 1, { curve: { radius, angle: 800.5, hand: "left" } });
    },
  },
  {
    name: "main moved",
    make: (plan, d, step) => {
      const start = plan.tracks[`${d}-main`]?.start;
      if (!start || !("pose" in start)) return setTrack(plan, `${d}-main`, {});
      const pose = { ...start.pose, y: swing(start.pose.y, step, 2) };
      return setTrack(plan, `${d}-main`, { start: { pose } });
    },
  },
  {
    name: "pin raised",
    make: (plan, d, step) => {
      const height = swing(1400, step, 5);
      return amendRecord(plan, "pins", `${d}-top`, { height, deck: undefined });
    },
  },
  {
    name: "bench moved",
    make: (plan, d, step) => {
      const bench = plan.benches[`${d}-bench`];
      if (!bench || !("outline" in bench.shape)) return amendRecord(plan, "benches", `${d}-bench`, {});
      const outline = bench.shape.outline.map((p, i) => (i < 2 ? { ...p, y: swing(p.y, step, 10) } : p));
      return amendRecord(plan, "benches", `${d}-bench`, { shape: { outline } });
    },
  },
  {
    name: "track renamed",
    make: (plan, d, step) => setTrack(plan, `${d}-spur2`, { name: `Spur ${step}` }),
  },
];
