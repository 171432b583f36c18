import { describe, expect, it } from "vitest";
import { deriveHidden } from "../../src/layout/hidden.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { at, planOf, straight, track, turnout } from "./small-plan.js";

const decks = {
  lower: { name: "Lower", kind: "scenic", height: 1000, thickness: 60 },
  below: { name: "Below", kind: "staging", height: 800, thickness: 40 },
} as const;

describe("hidden stretches", () => {
  it.each([
    ["not marked", {}, []],
    ["marked as not hidden", { hidden: false }, []],
    ["the whole track and its turnout's route", { hidden: true }, ["track:t whole marked", "turnout:x whole marked"]],
    ["a stretch", { hidden: [{ from: 200, to: 450 }] }, ["track:t 200 450 marked"]],
    [
      "stretches, backwards and beyond the end",
      {
        hidden: [
          { from: 450, to: 200 },
          { from: 900, to: 5000 },
        ],
      },
      ["track:t 200 450 marked", "track:t 900 1000 marked"],
    ],
    [
      "nothing beyond the end or of no length",
      {
        hidden: [
          { from: 2000, to: 3000 },
          { from: 5, to: 5 },
        ],
      },
      [],
    ],
    [
      "staging, whatever is marked",
      { deck: "below", hidden: [{ from: 1, to: 2 }] },
      ["track:t whole staging", "turnout:x whole staging"],
    ],
  ])("%s", (_, more, expected) => {
    const plan = planOf({
      decks,
      tracks: { t: track(at(1000, 1000), [straight(1000)], more) },
      turnouts: { x: turnout("t", 600) },
    });
    const { lines } = deriveLayout(plan);
    const hidden = deriveHidden(plan, lines);
    const stretch = (from: number, to: number, whole: number | undefined) =>
      from === 0 && to === whole ? "whole" : `${from} ${to}`;
    expect(hidden.map((h) => `${h.line} ${stretch(h.from, h.to, lines.get(h.line)?.path.length)} ${h.why}`)).toEqual(
      expected,
    );
  });
});
