/** The page under a hand: script per frame, tasks of the main thread, fresh readings, opening; sizes against one another. */
import { handlesOf } from "../src/layout/relay/handles.js";
import { deriveLayout } from "../src/layout/derive.js";
import type { Plan } from "../src/plan/schema.js";
import type { MainThread } from "./main-thread.js";
import type { Desk, Opening } from "./page-desk.js";
import { hallPlan } from "./plans.js";
import type { Result } from "./report.js";
import { quantile, spread } from "./timing.js";

const MOVES = 120;
const TURNS = 60;
/** Between two turns of the wheel, ms: a hand is no quicker. */
const BETWEEN = 50;
const DRAGGED = 60;
const EDITS = 12;
const OPENINGS = 5;

const ms = (value: number): string => `${value.toFixed(1)} ms`;
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);
const spreadText = (values: readonly number[]): string =>
  `median ${ms(quantile(values, 0.5))}, p95 ${ms(quantile(values, 0.95))}, most ${ms(most(values))}`;

export async function* measurePage(desk: Desk): AsyncGenerator<Result> {
  const [small, middle, large] = [hallPlan(500), hallPlan(1000), hallPlan(5000)];
  const openings = new Map<Plan, Opening[]>([small, middle, large].map((plan) => [plan, []]));
  const open = async (plan: Plan): Promise<void> => {
    const opening = await desk.open(plan);
    openings.get(plan)?.push(opening);
  };
  const drawn = (plan: Plan): number =>
    quantile(
      (openings.get(plan) ?? []).map((opening) => opening.drawn),
      0.5,
    );
  const read = (plan: Plan): number =>
    quantile(
      (openings.get(plan) ?? []).map((opening) => opening.read),
      0.5,
    );

  await open(small);
  const smallMoves = await moving(desk);
  await open(large);
  const largeMoves = await moving(desk);
  for (const what of ["panning", "zooming"] as const) {
    yield perFrame(what, largeMoves[what], smallMoves[what]);
  }

  for (let i = 1; i < OPENINGS; i++) for (const plan of [small, large]) await open(plan);
  yield {
    name: "opening a file of 5,000 tracks, to the first drawing",
    value: drawn(large),
    unit: "ms",
    goal: { most: 500 },
    note:
      `${(drawn(large) / drawn(small)).toFixed(1)} times as long as 500 tracks (${ms(drawn(small))}); ` +
      `to all readings ${ms(read(large))} and ${ms(read(small))}`,
  };

  const few = hallPlan(100);
  await desk.open(few);
  const fewDrags = await dragging(desk, few);
  await open(middle);
  const drags = await dragging(desk, middle);
  yield longestTask(drags, fewDrags);

  await open(small);
  await open(middle);
  const edits = await editing(desk, middle);
  const { median, p95 } = spread(edits);
  yield {
    name: "readings fresh after an edit on 1,000 tracks, p95, from the key to the table",
    value: p95,
    unit: "ms",
    note:
      `median ${ms(median)}, most ${ms(most(edits))}, ${edits.length} edits; opening the same plan to all its readings ` +
      `takes ${(read(middle) / median).toFixed(1)} times as long (${ms(read(middle))})`,
  };
}

interface Moves {
  readonly panning: MainThread;
  readonly zooming: MainThread;
}

/** The whole room in the window, carried round in a ring by the middle button, then made smaller and larger by the wheel. */
async function moving({ page, look, traced, fresh }: Desk): Promise<Moves> {
  await look();
  await fresh();
  const box = await page.getByRole("application").first().boundingBox();
  if (!box) throw new Error("there is no sheet");
  const centre = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(centre.x, centre.y);
  const panning = await traced(async () => {
    await page.mouse.down({ button: "middle" });
    for (let i = 1; i <= MOVES; i++) {
      const turned = (2 * Math.PI * i) / MOVES;
      await page.mouse.move(centre.x + 60 * Math.sin(turned), centre.y + 60 * (1 - Math.cos(turned)));
    }
    await page.mouse.up({ button: "middle" });
  });
  await page.mouse.move(centre.x, centre.y);
  const zooming = await traced(async () => {
    for (let i = 0; i < TURNS; i++) {
      await page.mouse.wheel(0, i % 6 < 3 ? 100 : -100);
      // The wheel is not waited for by itself. The page must not be asked: that would be script, too.
      await page.waitForTimeout(BETWEEN);
    }
  });
  return { panning, zooming };
}

function perFrame(what: keyof Moves, large: MainThread, small: MainThread): Result {
  return {
    name: `script per frame while ${what} with 5,000 tracks in view, processor time, p95`,
    value: quantile(large.scriptBusy, 0.95),
    unit: "ms",
    goal: { most: 8 },
    note:
      `${spreadText(large.scriptBusy)}, ${large.scriptBusy.length} frames; ` +
      `${(quantile(large.scriptBusy, 0.95) / quantile(small.scriptBusy, 0.95)).toFixed(1)} times 500 tracks; ` +
      `by the wall clock ${spreadText(large.script)}; whole tasks, drawing included, ${spreadText(large.tasksBusy)}`,
  };
}

interface Grip {
  readonly name: string;
  readonly track: string;
  readonly kind: string;
  readonly leg: number;
}
/** In the middle of the hall: a track nothing hangs on, one that carries an upper deck, and one that carries all else. */
const grips = (district: string): readonly Grip[] => [
  { name: "spur's end", track: `${district}-spur1`, kind: "length", leg: 2 },
  { name: "helix's radius", track: `${district}-branch`, kind: "radius", leg: 1 },
  { name: "main's end", track: `${district}-main`, kind: "length", leg: 0 },
];
const middleDistrict = (plan: Plan): string => `d${Math.floor(Object.keys(plan.tracks).length / 40)}`;

type Drags = ReadonlyMap<string, MainThread>;

/** So close that handles lie apart, in turns of the wheel from the whole room: about 0.2 px to a mm. */
function turnsFor(plan: Plan): number {
  const { outline } = plan.room;
  const deep = Math.max(...outline.map(({ y }) => y), 1);
  return Math.max(0, Math.round(Math.log((0.2 * deep) / 450) / Math.log(1.25)));
}

async function dragging(desk: Desk, plan: Plan): Promise<Drags> {
  const layout = deriveLayout(plan);
  const drags = new Map<string, MainThread>();
  for (const { name, track, kind, leg } of grips(middleDistrict(plan))) {
    const handle = handlesOf(layout, track, { arm: 0 }).find((one) => one.kind === kind && one.leg === leg);
    if (!handle) throw new Error(`${track} has no such handle`);
    await desk.look();
    await take(desk, plan, track);
    const shown = await desk.look(handle.at, turnsFor(plan));
    const { x, y } = shown(handle.at);
    const { mouse } = desk.page;
    await mouse.move(x, y);
    await desk.fresh();
    const thread = await desk.traced(async () => {
      await mouse.down();
      for (let i = 1; i <= DRAGGED; i++) {
        const turned = (4 * Math.PI * i) / DRAGGED;
        // Ends away from where it began: otherwise nothing would have been done.
        await mouse.move(x + 30 * Math.sin(turned / 8), y + 20 * Math.sin(turned));
      }
      await mouse.up();
    });
    await desk.fresh();
    if (!(await desk.undo())) throw new Error(`the ${name} was not dragged`);
    drags.set(name, thread);
  }
  return drags;
}

/** Chosen in the list of objects, which begins at what was chosen before: the list holds some rows at a time. */
async function take({ page }: Desk, plan: Plan, track: string): Promise<void> {
  const list = page.getByRole("listbox", { name: "Objects of the plan" });
  if (!(await list.isVisible())) await page.getByText(/^Objects/).click();
  await list.focus();
  const option = list.getByRole("option", { name: new RegExp(`^${plan.tracks[track]?.class} ${track}\\b`) });
  await list.press("Home");
  for (let row = 0; !(await option.first().isVisible()); row++) {
    if (row > 200) throw new Error(`there is no ${track} in the list of objects`);
    // The list writes out two hundred rows about the one in hand; ten at a time go by.
    for (let i = 0; i < 8; i++) await list.press("PageDown");
  }
  await option.first().click();
}

function longestTask(drags: Drags, few: Drags): Result {
  const all = [...drags.values()].flatMap(({ tasksBusy }) => tasksBusy);
  const each = [...drags].map(([name, { tasks, tasksBusy, scriptBusy }]) => {
    const before = quantile(few.get(name)?.tasksBusy ?? [], 0.95);
    return (
      `${name}: tasks ${spreadText(tasksBusy)} (by the wall clock most ${ms(most(tasks))}), p95 ` +
      `${(quantile(tasksBusy, 0.95) / before).toFixed(1)} times that of 100 tracks; script per frame ${spreadText(scriptBusy)}`
    );
  });
  return {
    name: "longest task of the main thread while a handle is dragged, 1,000 tracks, processor time",
    value: most(all),
    unit: "ms",
    goal: { most: 16 },
    note: each.join("\n  "),
  };
}

/** A spur's radius, a helix's and a main's length typed in Details, by turns up and down. */
async function editing(desk: Desk, plan: Plan): Promise<number[]> {
  const district = middleDistrict(plan);
  const times: number[] = [];
  for (const [track, label, figure] of [
    [`${district}-spur1`, "Radius", 600],
    [`${district}-branch`, "Radius", 730],
    [`${district}-main`, "Length", 5400],
  ] as const) {
    await take(desk, plan, track);
    const field = desk.page.getByRole("textbox", { name: label, exact: true }).first();
    for (let i = 0; i < EDITS; i++) {
      await field.fill(`${figure + (i % 2 === 0 ? 3 : -3)} mm`);
      await desk.fresh();
      const fresh = await desk.timeEnter();
      await field.press("Enter");
      times.push(await fresh());
    }
  }
  return times;
}
