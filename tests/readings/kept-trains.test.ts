/** What the readings about trains found is kept where nothing of it changed. */
import { expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { type Run, sectionsOf } from "../../src/layout/sections.js";
import { legFouling } from "../../src/readings/fouling-point.js";
import { legShape } from "../../src/readings/leg-shape.js";
import { sectionTracks } from "../../src/readings/runs-of-track.js";
import { usesOf } from "../../src/readings/standing-tracks.js";
import { straight } from "./fixture.js";
import { passingPlan, yardPlan } from "./trains-fixture.js";

const draft = passingPlan({ length: 4000, draft: yardPlan({ lead: 1000, tracks: [900, 1200] }) });
const runsOf = (layout: Layout): Run[] => sectionsOf(layout.network).next.map((_, run) => run);
const shapesOf = (layout: Layout) => runsOf(layout).map((run) => legShape(layout, run, "far"));

test("one yard track made longer leaves the legs of all others as they were", () => {
  const first = draft.layout;
  const y1 = draft.plan.tracks["y1"];
  if (!y1) throw new Error("no such track");
  const before = shapesOf(first);
  const [tracks, uses] = [sectionTracks(first), usesOf(first)];
  const longer = draft.track("y1", y1.start, [straight(1250)], { class: "yard" });
  const second = deriveLayout(longer.plan, first);
  expect(sectionsOf(second.network)).toBe(sectionsOf(first.network));
  const after = shapesOf(second);
  const anew = after.filter((shape, i) => shape !== before[i]);
  // The track both ways: out of its turnout, and back over all that is beyond it.
  const touched = before.filter(({ pieces }) => pieces.some(({ context }) => context.line.id === "y1"));
  expect(anew.length).toBe(touched.length);
  expect(anew.length).toBeLessThan(before.length / 3);
  expect(usesOf(second)).toBe(uses);
  expect(sectionTracks(second)).not.toBe(tracks);
  // Asked about the layout before once more, it answers for that.
  for (const run of runsOf(first)) expect(legFouling(first, run)).toBe(legFouling(draft.layout, run));
});

test("a class that changes is seen, and wider centres", () => {
  const first = draft.layout;
  usesOf(first);
  const y1 = draft.plan.tracks["y1"];
  if (!y1) throw new Error("no such track");
  const spur = deriveLayout(draft.track("y1", y1.start, y1.legs, { class: "spur" }).plan, first);
  expect(usesOf(spur).filter((use) => use === "spur")).toHaveLength(1);
  const wide = draft.limits({ centres: 80 });
  const second = deriveLayout(wide.plan, first);
  const legs = runsOf(first).filter((run) => (legFouling(first, run) ?? 0) > 0);
  expect(legs.length).toBeGreaterThan(6);
  for (const run of legs)
    expect(legFouling(second, run) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(legFouling(first, run) ?? 0);
});
