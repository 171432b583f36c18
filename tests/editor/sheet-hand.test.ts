/** Hands on the sheet: working, moving the paper, magnifying it, and palms and lost pointers that leave no trace. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toScreen, type Viewport } from "../../src/drafting/viewport.js";
import { type Hand, makeHand, type Touch, type Wheel } from "../../src/editor/sheet/hand.js";
import type { ToolEvent } from "../../src/editor/tool.js";

const START: Viewport = { centre: { x: 1000, y: 500 }, scale: 0.5, width: 800, height: 600 };

function play() {
  let viewport = START;
  const told: ToolEvent[] = [];
  const taps: unknown[] = [];
  const hand: Hand = makeHand({
    viewport: () => viewport,
    setViewport: (next) => void (viewport = next),
    tool: (event) => void told.push(event),
    doubleTap: (at) => void taps.push(at),
  });
  let time = 0;
  const touch = (type: Touch["type"], x: number, y: number, more: Partial<Touch> = {}) => {
    time += 20;
    hand.touch({ type, id: 1, kind: "mouse", at: { x, y }, button: 0, shift: false, alt: false, time, ...more });
  };
  const wheel = (dy: number, more: Partial<Wheel> = {}) => {
    time += 300;
    hand.wheel({ at: { x: 200, y: 100 }, dx: 0, dy, lines: false, pinch: false, shift: false, time, ...more });
  };
  return {
    hand,
    touch,
    wheel,
    told,
    taps,
    types: () => told.map(({ type }) => type),
    wait: (ms: number) => void (time += ms),
    view: () => viewport,
  };
}

const finger = (id: number) => ({ id, kind: "touch" as const });
const pen = { id: 9, kind: "pen" as const };

describe("the hand", () => {
  it("works with the tool, in millimetres of the sheet", () => {
    const { touch, told, types } = play();
    touch("move", 10, 10);
    touch("down", 400, 300, { shift: true });
    touch("move", 420, 280);
    touch("up", 420, 280);
    expect(types()).toEqual(["move", "down", "move", "up"]);
    expect(told[1]).toMatchObject({ at: { x: 1000, y: 500 }, screen: { x: 400, y: 300 }, shift: true, clicks: 1 });
    expect(told[3]).toMatchObject({ at: { x: 1040, y: 540 } });
  });

  it("counts a double click where it is quick and near", () => {
    const clicks = (gap: number, dx: number): number[] => {
      const { touch, told, wait } = play();
      for (const x of [100, 100 + dx]) {
        touch("down", x, 100);
        touch("up", x, 100);
        wait(gap);
      }
      return told.filter(({ type }) => type === "down").map((event) => ("clicks" in event ? event.clicks : 0));
    };
    expect(clicks(50, 2)).toEqual([1, 2]);
    expect(clicks(900, 2)).toEqual([1, 1]);
    expect(clicks(50, 40)).toEqual([1, 1]);
  });

  it.each([
    ["the middle button", (hand: ReturnType<typeof play>) => hand.touch("down", 100, 100, { button: 1 })],
    [
      "space held",
      (hand: ReturnType<typeof play>) => {
        hand.hand.holdSpace(true);
        hand.touch("down", 100, 100);
      },
    ],
  ])("moves the paper with %s, and tells the tool nothing", (_, begin) => {
    const hand = play();
    begin(hand);
    hand.touch("move", 150, 80);
    hand.touch("up", 150, 80);
    expect(hand.told).toEqual([]);
    expect(hand.view().centre).toEqual({ x: 1000 - 100, y: 500 - 40 });
  });

  it("magnifies and moves with two fingers, giving up what one had begun", () => {
    const { touch, types, view } = play();
    touch("down", 300, 300, finger(1));
    touch("down", 500, 300, finger(2));
    const held = { x: 1000, y: 500 };
    touch("move", 250, 300, finger(1));
    touch("move", 550, 300, finger(2));
    touch("up", 550, 300, finger(2));
    // The finger left over draws nothing.
    touch("move", 100, 100, finger(1));
    touch("up", 100, 100, finger(1));
    expect(types()).toEqual(["down", "cancel"]);
    expect(view().scale).toBeCloseTo(0.75, 9);
    expect(toScreen(view(), held).x).toBeCloseTo(400, 6);
    // Both gone, a finger works again.
    touch("down", 10, 10, finger(3));
    expect(types()).toEqual(["down", "cancel", "down"]);
  });

  it("takes no notice of a palm while the pen is down, nor of one that came first", () => {
    const { touch, types, view } = play();
    touch("down", 500, 500, finger(1));
    touch("down", 100, 100, pen);
    touch("down", 520, 520, finger(2));
    touch("move", 560, 560, finger(2));
    touch("move", 120, 100, pen);
    touch("up", 120, 100, pen);
    expect(types()).toEqual(["down", "cancel", "down", "move", "up"]);
    expect(view()).toBe(START);
  });

  it.each(["cancel", "drop"] as const)("leaves no trace of a drag that is lost (%s)", (how) => {
    const { touch, hand, types } = play();
    touch("down", 100, 100);
    touch("move", 140, 100);
    if (how === "drop") hand.drop();
    else touch("cancel", 140, 100);
    touch("up", 150, 100);
    expect(types()).toEqual(["down", "move", "cancel"]);
  });

  it("ignores the second button, and hovers only with what hovers", () => {
    const { touch, types } = play();
    touch("down", 100, 100, { button: 2 });
    touch("up", 100, 100, { button: 2 });
    touch("move", 100, 100, finger(4));
    expect(types()).toEqual([]);
  });

  it("tells of two taps of a finger", () => {
    const { touch, taps, told } = play();
    for (let i = 0; i < 2; i++) {
      touch("down", 60, 60, finger(1));
      touch("up", 60, 60, finger(1));
    }
    expect(taps).toEqual([{ x: 60, y: 60 }]);
    expect(told.every((event) => "touch" in event && event.touch)).toBe(true);
  });

  it.each([
    ["a wheel's notch magnifies", -100, {}, "zoom"],
    ["a wheel that tells lines magnifies", -3, { lines: true }, "zoom"],
    ["Ctrl with the wheel magnifies", -100, { pinch: true }, "zoom"],
    ["a touchpad's pinch magnifies", -5, { pinch: true }, "zoom"],
    ["two fingers on a touchpad move the paper", -12, {}, "pan"],
    ["sideways moves the paper", -100, { dx: 30 }, "pan"],
    ["Shift moves it sideways", -100, { shift: true }, "pan"],
  ] as const)("%s", (_, dy, more, what) => {
    const { wheel, view } = play();
    wheel(dy, more);
    if (what === "pan") {
      expect(view().scale).toBe(START.scale);
      expect(view().centre).not.toEqual(START.centre);
      return;
    }
    expect(view().scale).toBeGreaterThan(START.scale);
    const under = { x: 1000 + (200 - 400) / 0.5, y: 500 - (100 - 300) / 0.5 };
    expect(toScreen(view(), under).x).toBeCloseTo(200, 6);
    expect(toScreen(view(), under).y).toBeCloseTo(100, 6);
  });

  it("ends every down with one up or one cancel, whatever comes", () => {
    const step = fc.record({
      type: fc.constantFrom("down" as const, "move" as const, "up" as const, "cancel" as const),
      id: fc.integer({ min: 1, max: 3 }),
      kind: fc.constantFrom("mouse" as const, "pen" as const, "touch" as const),
      button: fc.integer({ min: 0, max: 2 }),
      x: fc.integer({ min: 0, max: 800 }),
      y: fc.integer({ min: 0, max: 600 }),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
        const { touch, hand, told } = play();
        for (const { type, x, y, ...more } of steps) touch(type, x, y, more);
        hand.drop();
        let open = 0;
        for (const { type } of told) {
          if (type === "down") open++;
          if (type === "up" || type === "cancel") open--;
          expect(open === 0 || open === 1).toBe(true);
        }
        expect(open).toBe(0);
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});
