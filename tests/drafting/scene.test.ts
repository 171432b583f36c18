/** What is drawn of a layout: everything once, as much of it as the scale asks, and anew only what an edit changed. */
import { describe, expect, it } from "vitest";
import type { Batch, Look } from "../../src/drafting/batch.js";
import { boxesOverlap } from "../../src/drafting/boxes.js";
import { makeScenes, type Scene } from "../../src/drafting/scene.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { setTrack } from "../../src/plan/track-edits.js";
import { hillPlan } from "../exchange/hill-plan.js";

const WHOLE = { minX: -1e5, minY: -1e5, maxX: 1e5, maxY: 1e5 };
const layout = deriveLayout(hillPlan);
const look: Look = { deck: "foot", others: "through", scale: 0.1, visible: WHOLE, units: "metric" };
const sceneAt = (more: Partial<Look> = {}, of = layout): Scene => makeScenes().sceneOf(of, { ...look, ...more });
/** Parts of a scene are put together when they are asked for. */
const draw = ({ ground, ghosts, track, marks }: Scene): number =>
  ground.length + ghosts.length + track.length + marks.length;
const batch = (batches: readonly Batch[], key: string): Batch | undefined => batches.find((one) => one.key === key);
const lengthOf = (one: Batch | undefined): number =>
  (one?.shapes ?? [])
    .flatMap(({ chains }) => chains)
    .reduce((sum, chain) => {
      let length = 0;
      for (let i = 2; i < chain.length; i += 2) {
        length += Math.hypot((chain[i] ?? 0) - (chain[i - 2] ?? 0), (chain[i + 1] ?? 0) - (chain[i - 1] ?? 0));
      }
      return sum + length;
    }, 0);

describe("scenes", () => {
  it("draws every line of the deck in hand by class, hidden stretches dashed", () => {
    const { track } = sceneAt();
    const climb = layout.lines.get("track:climb")?.path.length ?? 0;
    const route = layout.lines.get("turnout:points")?.path.length ?? 0;
    expect(lengthOf(batch(track, "foot track main"))).toBeCloseTo(1800 + route, 0);
    // Chords are shorter than the curve by a thousandth at most.
    expect(lengthOf(batch(track, "foot track branch")) / climb).toBeCloseTo(1, 3);
    expect(lengthOf(batch(track, "foot track spur"))).toBeCloseTo(500, 6);
    expect(batch(track, "foot hidden")?.dash).toEqual([6, 3.5]);
    expect(lengthOf(batch(track, "foot hidden"))).toBeCloseTo(600, 6);
  });

  it("draws one line, two rails, or rails on ties as the scale asks", () => {
    const keys = (scale: number) => sceneAt({ scale }).track.map(({ key }) => key);
    const chains = (scale: number) => batch(sceneAt({ scale }).track, "foot track spur")?.shapes[0]?.chains.length;
    expect([2, 5, 12].map((perInch) => chains(perInch / 25.4))).toEqual([1, 2, 2]);
    expect(keys(5 / 25.4).some((key) => key.includes("ties"))).toBe(false);
    expect(keys(12 / 25.4)).toContain("foot ties main");
    expect(keys(12 / 25.4)).toContain("foot hidden");
  });

  it("draws rails the gauge apart", () => {
    const rails = batch(sceneAt({ scale: 0.3 }).track, "foot track main")?.shapes[0]?.chains;
    expect((rails?.[0]?.[1] ?? 0) - (rails?.[1]?.[1] ?? 0)).toBeCloseTo(hillPlan.scale.gauge, 9);
  });

  it("shows the other decks as they are asked for", () => {
    expect(sceneAt({ others: "alone" }).ghosts).toEqual([]);
    const bare = sceneAt({ others: "outline" }).ghosts;
    expect(bare.map(({ key }) => key)).toEqual(["top fascia"]);
    expect(bare[0]?.dash).toBeUndefined();
    const through = sceneAt().ghosts;
    expect(through.map(({ key }) => key)).toEqual(["top fascia", "top pale", "clearing"]);
    expect(batch(through, "top fascia")?.dash).toEqual([9, 3, 1.5, 3]);
    expect(batch(through, "clearing")?.erases).toBe(true);
  });

  it("leaves out what is outside the window", () => {
    const visible = { minX: 200, minY: 200, maxX: 900, maxY: 400 };
    const scene = sceneAt({ visible, scale: 0.5 });
    for (const one of scene.track) {
      for (const shape of one.shapes) {
        const grown = {
          minX: visible.minX - 50,
          minY: visible.minY - 50,
          maxX: visible.maxX + 50,
          maxY: visible.maxY + 50,
        };
        expect(boxesOverlap(shape.box, grown)).toBe(true);
      }
    }
    expect(batch(scene.track, "foot track branch")).toBeUndefined();
    expect(scene.marks.map(({ kind }) => kind)).toEqual(["points", "end"]);
  });

  it("marks points, ends, pins, and where track goes into hiding", () => {
    const kinds = sceneAt().marks.map(({ kind }) => kind);
    const count = (kind: string) => kinds.filter((one) => one === kind).length;
    expect({ points: count("points"), end: count("end"), pin: count("pin") }).toEqual({ points: 1, end: 2, pin: 1 });
    const portals = sceneAt().marks.filter(({ kind }) => kind === "portal");
    expect(portals.map(({ pose }) => [Math.round(pose.x), Math.round(pose.y)])).toEqual([
      [2100, 300],
      [2700, 300],
    ]);
    // Each looks into the hidden stretch between them.
    expect(portals.map(({ pose }) => Math.round(Math.cos(pose.heading)))).toEqual([1, -1]);
  });

  it("makes nothing anew for the same look, nor for a window moved", () => {
    const scenes = makeScenes();
    draw(scenes.sceneOf(layout, look));
    const { made } = scenes;
    draw(scenes.sceneOf(layout, look));
    draw(scenes.sceneOf(layout, { ...look, visible: { ...WHOLE, minX: 0 } }));
    expect(scenes.made).toEqual(made);
  });

  it.each([0.1, 0.3, 0.6])("makes one line anew for one edit, at %d px to the mm", (scale) => {
    const scenes = makeScenes();
    draw(scenes.sceneOf(layout, { ...look, scale }));
    const before = scenes.made;
    const edit = setTrack(hillPlan, "loop", { legs: [{ straight: 520 }] });
    if (!edit.ok) throw new Error(edit.message);
    draw(scenes.sceneOf(deriveLayout(edit.plan, layout), { ...look, scale }));
    const anew = scenes.made.lines - before.lines;
    // Far away one line; near by the line of afar, its rails, and its ties.
    expect(anew).toBe(scale < 0.118 ? 1 : scale < 0.394 ? 2 : 3);
    expect(scenes.made).toMatchObject({ benches: before.benches, rooms: before.rooms });
  });

  it("draws a plan of nothing but walls", () => {
    const plan = { ...hillPlan, decks: {}, tracks: {}, turnouts: {}, pins: {}, benches: {}, labels: {} };
    const scene = sceneAt({ deck: "" }, deriveLayout(plan));
    expect(scene.track).toEqual([]);
    expect(scene.ground.map(({ key }) => key)).toContain("wall hatch");
  });
});
