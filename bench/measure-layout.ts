/** How long a layout with its readings takes: from scratch, ten times as large, and after one edit. */
import { deriveLayout } from "../src/layout/derive.js";
import type { Layout } from "../src/layout/layout.js";
import type { Plan } from "../src/plan/schema.js";
import { takeReadings } from "../src/readings/take.js";
import { EDIT_KINDS } from "./edits.js";
import type { Result } from "./report.js";
import { hallPlan, TRACKS_IN_DISTRICT } from "./plans.js";
import { quantile, spread, timed } from "./timing.js";

/** A plan like another with no record in common, so that nothing remembered of the other helps. */
const copyOf = (plan: Plan): Plan => structuredClone(plan);

function afresh(plan: Plan): { readonly layout: number; readonly readings: number } {
  let made: Layout | undefined;
  const own = copyOf(plan);
  const layout = timed(() => {
    made = deriveLayout(own);
  });
  const readings = timed(() => {
    if (made) takeReadings(own, made);
  });
  return { layout, readings };
}

export interface Scratch {
  readonly all: number;
  readonly layout: number;
}

export function measureScratch(tracks: number, runs: number, warmUp: number): Scratch {
  const plan = hallPlan(tracks);
  for (let i = 0; i < warmUp; i++) afresh(plan);
  const times = Array.from({ length: runs }, () => afresh(plan));
  return {
    all: quantile(
      times.map((t) => t.layout + t.readings),
      0.5,
    ),
    layout: quantile(
      times.map((t) => t.layout),
      0.5,
    ),
  };
}

/** Rounds that only warm the program up, and rounds made however slow the machine is. */
const WARM_UP = 2;
const LEAST_ROUNDS = 5;

interface EditTimes {
  readonly all: number[];
  readonly layout: number[];
  readonly byKind: Map<string, number[]>;
}

/** Edits of every kind in turn, on districts all over the plan, each on the plan the last one left. */
function timeEdits(tracks: number, rounds: number, longest: number): EditTimes {
  let plan = hallPlan(tracks);
  let layout = deriveLayout(plan);
  takeReadings(plan, layout);
  const districts = Math.ceil(tracks / TRACKS_IN_DISTRICT);
  const times: EditTimes = { all: [], layout: [], byKind: new Map() };
  const begin = performance.now();
  for (let round = 0; round < rounds && (round < LEAST_ROUNDS || performance.now() - begin < longest); round++) {
    const district = `d${((round >> 1) * 37) % districts}`;
    for (const { name, make } of EDIT_KINDS) {
      let derived = 0;
      const all = timed(() => {
        const edit = make(plan, district, round);
        if (!edit.ok) throw new Error(`${name}: ${edit.message}`);
        plan = edit.plan;
        derived = timed(() => {
          layout = deriveLayout(plan, layout);
        });
        takeReadings(plan, layout);
      });
      if (round < WARM_UP) continue;
      times.all.push(all);
      times.layout.push(derived);
      const own = times.byKind.get(name);
      if (own) own.push(all);
      else times.byKind.set(name, [all]);
    }
  }
  return times;
}

export function measureLayouts(): Result[] {
  const small = measureScratch(1000, 3, 1);
  const edits = timeEdits(1000, 24, 10_000);
  const all = spread(edits.all);
  const layout = spread(edits.layout);
  const large = measureScratch(10_000, 1, 0);
  const kinds = [...edits.byKind].map(([name, times]) => `${name} ${quantile(times, 0.5).toFixed(1)}`).join(", ");
  return [
    {
      name: "one edit on 1,000 tracks, layout and readings fresh, p95",
      value: all.p95,
      unit: "ms",
      goal: { most: 16 },
      note: `median ${all.median.toFixed(1)} ms; layout alone p95 ${layout.p95.toFixed(1)} ms; by kind, median: ${kinds}`,
    },
    {
      name: "one edit against from scratch",
      value: small.all / all.median,
      unit: "times as fast",
      goal: { least: 20 },
      note: `layout alone ${(small.layout / layout.median).toFixed(1)}`,
    },
    {
      name: "from scratch, 1,000 tracks, all readings",
      value: small.all,
      unit: "ms",
      goal: { most: 400 },
      note: `layout ${small.layout.toFixed(0)} ms, readings ${(small.all - small.layout).toFixed(0)} ms`,
    },
    {
      name: "10,000 tracks against 1,000",
      value: large.all / small.all,
      unit: "times as long",
      goal: { most: 13 },
      note: `${large.all.toFixed(0)} ms; layout alone ${(large.layout / small.layout).toFixed(1)} times`,
    },
  ];
}

/** Bytes a layout of 10,000 tracks holds; needs the collector at hand (--expose-gc). */
export function measureMemory(): Result[] {
  const { gc } = globalThis;
  if (!gc) return [];
  const plan = hallPlan(10_000);
  const held = (): number => {
    gc();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const before = held();
  const layout = deriveLayout(plan);
  const bytes = held() - before;
  const samples = [...layout.lines.values()].reduce((sum, line) => sum + line.samples.count, 0);
  const places = layout.meetings.reduce((sum, { places: own }) => sum + own.length, 0);
  return [
    {
      name: "memory of the layout of 10,000 tracks",
      value: bytes / 1e6,
      unit: "MB",
      note: `${layout.lines.size} lines, ${samples} samples, ${layout.meetings.length} meetings of ${places} places`,
    },
  ];
}
