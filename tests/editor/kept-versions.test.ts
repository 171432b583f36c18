/** The rules of what is kept: which versions stay as time goes by, and the text that is put together from remembered parts. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { planText, printOf, textInSlices } from "../../src/editor/files/plan-text.js";
import { isKeptForGood, MOST_AUTOMATIC, SPANS, thinned } from "../../src/editor/files/thinning.js";
import type { VersionKind } from "../../src/editor/files/shelf.js";
import { pack, unpack } from "../../src/editor/files/pack.js";
import { setTitle } from "../../src/plan/setting-edits.js";
import { putRecord } from "../../src/plan/edit.js";
import { readPlan } from "../../src/plan/read.js";
import { hallPlan } from "../../bench/plans.js";
import { plan } from "./kept-support.js";

const SEED = { seed: 20_261_125, numRuns: 200 } as const;
const MINUTE = 60_000;

interface Aged {
  readonly number: number;
  readonly at: number;
  readonly kind: VersionKind;
}

const kinds = fc.constantFrom<VersionKind>("automatic", "automatic", "automatic", "opened", "saved", "named", "aside");
/** Steps between versions, from seconds to years, and now and then a clock set back or far ahead. */
const steps = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: 0, max: 40 * MINUTE }) },
  { weight: 3, arbitrary: fc.integer({ min: 0, max: 40 * 24 * 60 * MINUTE }) },
  { weight: 1, arbitrary: fc.integer({ min: -900 * 24 * 60 * MINUTE, max: 900 * 24 * 60 * MINUTE }) },
);
const histories = fc.array(fc.tuple(steps, kinds), { maxLength: 400 }).map((all) => {
  let at = Date.UTC(2026, 0, 1);
  return all.map(([step, kind], i): Aged => ({ number: i + 1, at: (at += step), kind }));
});
const without = (all: readonly Aged[], gone: readonly number[]): Aged[] =>
  all.filter(({ number }) => !gone.includes(number));

describe("thinning", () => {
  test("what is kept for good stays, and so do the first and the last; automatic ones have a bound", () => {
    fc.assert(
      fc.property(histories, (all) => {
        const left = without(all, thinned(all));
        expect(left.filter(isKeptForGood)).toEqual(all.filter(isKeptForGood));
        expect(left.at(-1)).toEqual(all.at(-1));
        expect(left[0]).toEqual(all[0]);
        expect(left.filter((one) => !isKeptForGood(one)).length).toBeLessThanOrEqual(MOST_AUTOMATIC);
      }),
      SEED,
    );
  });

  test("asked again, nothing more goes; the order they are given in does not matter", () => {
    fc.assert(
      fc.property(histories, (all) => {
        const gone = thinned(all);
        expect(thinned(without(all, gone))).toEqual([]);
        expect(thinned(all.toReversed())).toEqual(gone);
      }),
      SEED,
    );
  });

  test("every span keeps its oldest and its newest", () => {
    // With a clock that runs on: spans are those of the ages told.
    const running = fc.array(fc.integer({ min: 0, max: 90 * MINUTE }), { minLength: 1, maxLength: 400 });
    fc.assert(
      fc.property(running, (gaps) => {
        let at = Date.UTC(2026, 0, 1);
        const all = gaps.map((gap, i): Aged => ({ number: i + 1, at: (at += gap), kind: "automatic" }));
        const gone = new Set(thinned(all));
        const spanOf = (one: Aged): string => {
          const level = SPANS.findIndex(({ upTo }) => at - one.at < upTo);
          return `${level}/${Math.floor(one.at / (SPANS[level]?.span ?? 1))}`;
        };
        for (const span of new Set(all.map(spanOf))) {
          const inSpan = all.filter((one) => spanOf(one) === span);
          expect([inSpan[0], inSpan.at(-1)].every((one) => one && !gone.has(one.number))).toBe(true);
          expect(inSpan.filter(({ number }) => !gone.has(number)).length).toBeLessThanOrEqual(2);
        }
      }),
      SEED,
    );
  });

  test("ten years of evenings: a version every five minutes, thinned as they come", () => {
    let all: Aged[] = [];
    let number = 0;
    for (let evening = 0; evening < 1000; evening++) {
      for (let i = 0; i < 6; i++) {
        const at = Date.UTC(2016, 0, 1) + evening * 3.65 * 24 * 60 * MINUTE + i * 5 * MINUTE;
        all.push({ number: ++number, at, kind: "automatic" });
        all = without(all, thinned(all));
      }
    }
    // Six of the last half hour, two of each of the nine evenings in the last 31 days, two a quarter before.
    expect(all.length).toBeGreaterThan(6 + 8 * 2 + 39 * 2);
    expect(all.length).toBeLessThanOrEqual(MOST_AUTOMATIC);
    expect(all[0]?.number).toBe(1);
  });

  test("a clock set back a year does no harm to what came before or after", () => {
    const year = 365 * 24 * 60 * MINUTE;
    const at = Date.UTC(2027, 5, 1);
    const before = [0, 1, 2, 3].map((i): Aged => ({ number: i + 1, at: at + i * 5 * MINUTE, kind: "automatic" }));
    const after = [0, 1, 2, 3].map((i): Aged => ({ number: i + 5, at: at - year + i * 5 * MINUTE, kind: "automatic" }));
    // Those before are as old as the first after: of that span its oldest and its newest stay.
    expect(thinned([...before, ...after])).toEqual([2, 3, 4]);
  });
});

describe("the text that is kept", () => {
  test("is that of JSON.stringify after any edits", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 19 }), fc.string({ unit: "binary", maxLength: 8 })), {
          maxLength: 12,
        }),
        (edits) => {
          let now = hallPlan(20);
          for (const [at, name] of edits) {
            const ids = Object.keys(now.tracks);
            const id = ids[at % ids.length] ?? "";
            const track = now.tracks[id];
            const edit = track && putRecord(now, "tracks", id, { ...track, name });
            const titled = setTitle(now, name);
            now = edit?.ok ? edit.plan : titled.ok ? titled.plan : now;
            expect(planText(now)).toBe(JSON.stringify(now));
          }
        },
      ),
      { ...SEED, numRuns: 30 },
    );
  });

  test("reads as the plan it was made of", () => {
    const read = readPlan(planText(plan));
    expect(read.ok && read.plan).toEqual(plan);
  });

  test("of one record changed in a thousand, only that record is written afresh", () => {
    const hall = hallPlan(1000);
    planText(hall);
    const id = Object.keys(hall.tracks)[500] ?? "";
    const track = hall.tracks[id];
    if (!track) throw new Error("the hall has a track there");
    const written: unknown[] = [];
    const stringify = JSON.stringify;
    JSON.stringify = (value: unknown): string => {
      if (typeof value === "object") written.push(value);
      return stringify(value);
    };
    try {
      const renamed = { ...track, name: "Renamed" };
      planText({ ...hall, tracks: { ...hall.tracks, [id]: renamed } });
      expect(written).toEqual([renamed]);
    } finally {
      JSON.stringify = stringify;
    }
  });

  test("put together in slices it is the same, and gives way to the hand", async () => {
    const hall = hallPlan(2500);
    let breaths = 0;
    const text = await textInSlices(hall, (work) => {
      breaths++;
      work();
    });
    expect(text === JSON.stringify(hall)).toBe(true);
    expect(breaths).toBe(3);
  });

  test("packed and unpacked it is the same, and smaller", async () => {
    const text = planText(hallPlan(100));
    const packed = await pack(text);
    expect(packed.length).toBeLessThan(text.length / 4);
    expect(await unpack(packed)).toBe(text);
    expect(await unpack(text)).toBe(text);
  });

  test("prints of texts that differ in one letter differ", () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1 }), fc.nat(), (text, at) => {
        const i = at % text.length;
        const other = `${text.slice(0, i)}${text[i] === "x" ? "y" : "x"}${text.slice(i + 1)}`;
        expect(printOf(text) === printOf(other)).toBe(text === other);
      }),
      SEED,
    );
  });
});
