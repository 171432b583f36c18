/** Labels: the right words, none over another or over track, whatever the scale. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Label, TextMark } from "../../src/drafting/label.js";
import { labelsOf, type LabelWishes } from "../../src/drafting/labels.js";
import { cornersOf, type PaperBox } from "../../src/drafting/occupancy.js";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import type { Point } from "../../src/geometry/pose.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { heightAt } from "../../src/layout/profile.js";
import { takeReadings } from "../../src/readings/take.js";
import { hillPlan } from "../exchange/hill-plan.js";

const layout = deriveLayout(hillPlan);
const readings = takeReadings(hillPlan, layout);
const wishes: LabelWishes = { scale: 0.3, inHand: ["foot"], pale: ["top"], readings, units: "metric" };
const textsOf = (labels: readonly Label[]): string[] =>
  labels.flatMap(({ marks }) => marks.filter((mark): mark is TextMark => mark.kind === "text").map(({ text }) => text));

/** Whether two turned boxes overlap: no line along an edge of either parts them (separating axes). */
function overlap(a: PaperBox, b: PaperBox): boolean {
  const axes = [a.turn, a.turn + 90, b.turn, b.turn + 90].map((turn) => (turn * Math.PI) / 180);
  return axes.every((angle) => {
    const along = (p: Point) => p.x * Math.cos(angle) + p.y * Math.sin(angle);
    const [p, q] = [cornersOf(a).map(along), cornersOf(b).map(along)];
    return Math.min(...p) < Math.max(...q) && Math.min(...q) < Math.max(...p);
  });
}

describe("labels", () => {
  it("says radii, grades, frog numbers, names, dimensions, and what the room's parts are called", () => {
    const texts = textsOf(labelsOf(layout, wishes));
    for (const text of [
      "R 900 mm",
      "No. 6 left",
      "Hillfoot Town",
      "Hilltop",
      "4000 mm",
      "3000 mm",
      "door",
      "workbench",
    ]) {
      expect(texts).toContain(text);
    }
    expect(texts.some((text) => /^\d\.\d %$/.test(text))).toBe(true);
  });

  it("speaks the units of the display", () => {
    expect(textsOf(labelsOf(layout, { ...wishes, units: "imperial" }))).toContain("R 35 7/16″");
  });

  it("flags what fails and is silent about what is clear", () => {
    const flags = labelsOf(layout, wishes).filter(({ kind }) => kind === "flag");
    const failing = readings.filter(({ verdict }) => verdict === "fails" || verdict === "tight");
    expect(flags.length > 0).toBe(failing.some(({ places }) => places.some(({ deck }) => deck === "foot")));
    for (const text of textsOf(flags)) expect(text).toMatch(/^(Tight|Fails): /);
  });

  it("points grade arrows uphill", () => {
    const grade = labelsOf(layout, wishes).find(({ kind, line }) => kind === "grade" && line === "track:climb");
    const shaft = grade?.marks[0];
    const [tail, head] = shaft?.kind === "stroke" ? shaft.points : [];
    const climb = layout.lines.get("track:climb");
    if (!tail || !head || !climb) throw new Error("the climb has no arrow");
    // The climb rises along its whole length, to the left and up the sheet: an arrow beside it runs the same way.
    const near = (p: Point): number => {
      const { count, s, x, y } = climb.samples;
      let best = 0;
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < count; i++) {
        const apart = Math.hypot((x[i] ?? 0) * wishes.scale - p.x, (y[i] ?? 0) * wishes.scale + p.y);
        if (apart < least) [least, best] = [apart, s[i] ?? 0];
      }
      return best;
    };
    expect(near(head)).toBeGreaterThan(near(tail));
  });

  it("tells heights of the railhead where it is asked to: what holds them, and as they rise", () => {
    const told = (heights: boolean) =>
      labelsOf(layout, { ...wishes, heights }).filter(({ kind, line }) => kind === "height" && line === "track:climb");
    expect(told(false)).toEqual([]);
    const labels = told(true);
    const climb = layout.profiles.get("track:climb");
    if (!climb) throw new Error("no profile");
    for (const { anchor, marks } of labels) {
      const path = layout.lines.get("track:climb")?.path;
      const { s = 0 } = path ? nearestOnPath(path, anchor) : {};
      const text = marks.find((mark) => mark.kind === "text")?.text ?? "";
      expect(Math.abs(Number(/^\+([\d.]+) mm$/.exec(text)?.[1]) - heightAt(climb, s))).toBeLessThan(0.06);
    }
    expect(labels.length).toBeGreaterThan(2);
  });

  it("never lets two labels overlap", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 1.5, noNaN: true }), fc.boolean(), (scale, through) => {
        const labels = labelsOf(layout, { ...wishes, scale, pale: through ? ["top"] : [], heights: through });
        // The room's own stand where they are; all others give way.
        const given = labels.filter(({ kind }) => kind !== "room");
        const boxes = labels.flatMap(({ box }) => box ?? []);
        const clashes = given.flatMap(({ box }) =>
          box ? boxes.filter((other) => other !== box && overlap(box, other)) : [],
        );
        expect(clashes).toEqual([]);
      }),
      { seed: 9, numRuns: 40 },
    );
  });

  it("keeps figures off track, by more where rails and ties are drawn", () => {
    for (const halfTrack of [0, 15]) {
      const scale = 0.5;
      const labels = labelsOf(layout, { ...wishes, scale, halfTrack }).filter(
        ({ kind }) => kind === "radius" || kind === "turnout",
      );
      expect(labels.length).toBeGreaterThan(0);
      for (const { box } of labels) {
        for (const line of layout.lines.values()) {
          const { count, x, y } = line.samples;
          for (let i = 0; i < count; i++) {
            const [px, py] = [(x[i] ?? 0) * scale, -(y[i] ?? 0) * scale];
            const dx = Math.abs(px - (box?.x ?? 0)) - (box?.width ?? 0) / 2;
            const dy = Math.abs(py - (box?.y ?? 0)) - (box?.height ?? 0) / 2;
            // The ground is counted in cells of 3 px.
            expect(Math.max(dx, dy)).toBeGreaterThan(halfTrack * scale + 5 - 3);
          }
        }
      }
    }
  });
});
