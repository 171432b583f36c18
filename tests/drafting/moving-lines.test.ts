/** What moves and what lies still while something is in the hand: both together are what is drawn. */
import { describe, expect, it } from "vitest";
import type { Batch, Look } from "../../src/drafting/batch.js";
import { makeParting, movedLines } from "../../src/drafting/moving-lines.js";
import { makeScenes, type Scene } from "../../src/drafting/scene.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Edit } from "../../src/plan/edit.js";
import type { Plan } from "../../src/plan/schema.js";
import { setTrack } from "../../src/plan/track-edits.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { Chance, randomEdit, randomPlan } from "../layout/random-plan.js";
import { hallPlan } from "../../bench/plans.js";

const WHOLE = { minX: -1e6, minY: -1e6, maxX: 1e6, maxY: 1e6 };

const done = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};

const settled = deriveLayout(hillPlan);
const after = (...edits: readonly ((plan: Plan) => Edit)[]): Layout =>
  edits.reduce((layout, edit) => deriveLayout(done(edit(layout.plan)), layout), settled);
const loopOf = (straight: number) => (plan: Plan) => setTrack(plan, "loop", { legs: [{ straight }] });

/** Every shape drawn of track, by batch, whatever order it is painted in. */
function drawn(batches: readonly Batch[]): string[] {
  return batches
    .filter(({ erases }) => !erases)
    .flatMap(({ key, shapes }) =>
      shapes.flatMap(({ chains }) => chains.map((chain) => `${key} ${[...chain].map((v) => v.toFixed(3)).join(" ")}`)),
    )
    .sort();
}

describe("parts of a layout in the hand", () => {
  it("tells nothing apart where nothing is in the hand, or where all may look otherwise", () => {
    const parting = makeParting();
    expect(parting.of(settled, settled)).toBeUndefined();
    const decks = { ...hillPlan.decks };
    expect(parting.of(settled, deriveLayout({ ...hillPlan, decks }, settled))).toBeUndefined();
  });

  it("keeps the still part as the object it is while no more moves", () => {
    const parting = makeParting();
    const first = parting.of(settled, after(loopOf(520)));
    const second = parting.of(settled, after(loopOf(530)));
    expect(second?.still).toBe(first?.still);
    expect(first?.moving.has("track:loop")).toBe(true);
    expect(second?.moving.get("track:loop")).not.toBe(first?.moving.get("track:loop"));
    const more = parting.of(
      settled,
      after(loopOf(530), (plan) => setTrack(plan, "climb", { hidden: true })),
    );
    expect(more?.still).not.toBe(first?.still);
    // What has moved moves until another layout is at rest.
    expect([...(parting.of(settled, after(loopOf(530)))?.moving.keys() ?? [])]).toContain("track:climb");
  });

  it("moves what hangs on a track that is hidden now", () => {
    const hidden = after((plan) => setTrack(plan, "climb", { hidden: true }));
    expect(movedLines(settled, hidden).has("track:climb")).toBe(true);
  });

  it("draws both parts as it draws the whole, through edits of chance", () => {
    let compared = 0;
    for (let seed = 900; seed < 960; seed++) {
      const chance = new Chance(seed);
      const plan = seed % 3 === 0 ? hallPlan(20) : randomPlan(seed);
      const rest = deriveLayout(plan);
      const parting = makeParting();
      let shown = rest;
      for (let step = 0; step < 4; step++) {
        shown = deriveLayout(randomEdit(shown.plan, chance), shown);
        const parts = parting.of(rest, shown);
        if (!parts) continue;
        compared++;
        for (const deck of Object.keys(plan.decks).slice(0, 2)) {
          const look: Look = { deck, others: "through", scale: step % 2 ? 0.05 : 0.5, visible: WHOLE, units: "metric" };
          const scenes = makeScenes();
          const whole = scenes.sceneOf(shown, look);
          const still = scenes.sceneOf(rest, { ...look, lines: parts.still });
          const moving = scenes.sceneOf(shown, { ...look, lines: parts.moving });
          const marksOf = (scene: Scene): string[] => scene.marks.map((mark) => JSON.stringify(mark));
          const place = `seed ${seed} step ${step} ${deck}`;
          expect({
            place,
            track: drawn([...still.track, ...moving.track]),
            ghosts: drawn([...still.ghostTrack, ...moving.ghostTrack]),
            marks: [...marksOf(still), ...marksOf(moving)].sort(),
          }).toEqual({
            place,
            track: drawn(whole.track),
            ghosts: drawn(whole.ghostTrack),
            marks: marksOf(whole).sort(),
          });
        }
      }
    }
    expect(compared).toBeGreaterThan(50);
  });
});
