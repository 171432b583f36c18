/** The search for climb routes in a worker and without one: what is sent, given up, and begun again. */
import { expect, test } from "vitest";
import type { ClimbRoute, ClimbStep } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { searchHere } from "../../src/editor/climbs/here.js";
import { inSlices, type Slices } from "../../src/editor/climbs/in-slices.js";
import { type OpenLine, searchInWorker } from "../../src/editor/climbs/in-worker.js";
import type { Asked, Told } from "../../src/editor/climbs/messages.js";
import { answering } from "../../src/editor/climbs/worker.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { REQUEST, shelfOnly } from "../climb/rooms.js";

const { plan } = shelfOnly(122);
const search = { layout: deriveLayout(plan), request: REQUEST };

/** Slices of one step each, run by hand. */
function byHand(): Slices & { readonly run: () => boolean; readonly runAll: () => void } {
  const waiting: (() => void)[] = [];
  let time = 0;
  const run = (): boolean => {
    const work = waiting.shift();
    work?.();
    return work !== undefined;
  };
  return {
    now: () => time++,
    later: (work) => waiting.push(work),
    length: 2,
    run,
    runAll: () => {
      while (run());
    },
  };
}

/** A worker that works when told to, everything copied both ways as between threads. */
function slowWorker() {
  const slices = byHand();
  const lines: { ended: boolean; fail: () => void; tell: (told: Told) => void }[] = [];
  const asked: Asked[] = [];
  const open: OpenLine = (told, broken) => {
    const line = { ended: false, fail: broken, tell: told };
    lines.push(line);
    const answer = answering((said) => told(structuredClone(said)), slices);
    return {
      ask: (question) => {
        asked.push(question);
        answer(structuredClone(question));
      },
      end: () => {
        line.ended = true;
      },
    };
  };
  return { open, lines, asked, slices };
}

const never = async (): Promise<never> => {
  throw new Error("not needed");
};

const routesOf = (steps: readonly ClimbStep[]): ClimbRoute[] =>
  steps.flatMap((step) => (step.kind === "route" ? [step.route] : []));
const told = (steps: readonly ClimbStep[]): ClimbStep[] => steps.filter(({ kind }) => kind !== "progress");

test("a worker tells what a search here tells, and its routes are edits of the page's own plan", () => {
  const worker = slowWorker();
  const steps: ClimbStep[] = [];
  searchInWorker(worker.open, never).search(search, (step) => steps.push(step));
  worker.slices.runAll();
  expect(told(steps)).toEqual(told([...searchClimb(plan, REQUEST)]));
  const [route] = routesOf(steps);
  expect(route?.edit.plan.tracks["low"]).toBe(plan.tracks["low"]);
  expect(route?.edit.plan.room).toBe(plan.room);
  const last = steps.at(-1);
  // A route told before is the same object in the answer: what is looked at stays looked at.
  expect(last?.kind === "answer" && last.routes[0]).toBe(route);
});

test("a search that is stopped tells nothing more, and its worker is ended", () => {
  const worker = slowWorker();
  const steps: ClimbStep[] = [];
  const searcher = searchInWorker(worker.open, never);
  searcher.search(search, (step) => steps.push(step));
  worker.slices.run();
  const before = steps.length;
  expect(before).toBeGreaterThan(0);
  searcher.stop();
  worker.slices.runAll();
  expect(steps).toHaveLength(before);
  expect(worker.lines.map(({ ended }) => ended)).toEqual([true]);
  searcher.search(search, (step) => steps.push(step));
  worker.slices.runAll();
  expect(worker.lines).toHaveLength(2);
  expect(steps.at(-1)?.kind).toBe("answer");
});

test("of two searches only the second is heard", () => {
  const worker = slowWorker();
  const [first, second]: [ClimbStep[], ClimbStep[]] = [[], []];
  const searcher = searchInWorker(worker.open, never);
  searcher.search(search, (step) => first.push(step));
  searcher.search(search, (step) => second.push(step));
  // What the first still had to say comes late.
  worker.lines[0]?.tell({ search: 1, steps: [{ kind: "refused", why: "too late" }] });
  worker.slices.runAll();
  expect(first).toEqual([]);
  expect(second.at(-1)?.kind).toBe("answer");
  expect(worker.lines).toHaveLength(1);
});

test("told of a route, the page may give the rest up", () => {
  const worker = slowWorker();
  const steps: ClimbStep[] = [];
  const searcher = searchInWorker(worker.open, never);
  searcher.search(search, (step) => {
    steps.push(step);
    if (step.kind === "route") searcher.stop();
  });
  worker.slices.runAll();
  expect(steps.at(-1)?.kind).toBe("route");
});

test.each([
  ["breaks down", (worker: ReturnType<typeof slowWorker>) => worker.lines[0]?.fail()],
  ["cannot be begun", undefined],
] as const)("a worker that %s is stood in for by the page", async (_, fails) => {
  const worker = slowWorker();
  const slices = byHand();
  const steps: ClimbStep[] = [];
  const open: OpenLine = fails
    ? worker.open
    : () => {
        throw new Error("refused");
      };
  const searcher = searchInWorker(open, async () => searchHere(slices));
  searcher.search(search, (step) => steps.push(step));
  fails?.(worker);
  await Promise.resolve();
  slices.runAll();
  expect(told(steps)).toEqual(told([...searchClimb(plan, REQUEST)]));
  const before = steps.length;
  searcher.search(search, (step) => steps.push(step));
  await Promise.resolve();
  slices.run();
  searcher.stop();
  await Promise.resolve();
  const given = steps.length;
  expect(given).toBeGreaterThan(before);
  slices.runAll();
  expect(steps).toHaveLength(given);
});

const progress = (looked: number): ClimbStep => ({ kind: "progress", stage: "ways", looked, found: 0 });

test("of progress told together the last is kept, and an error is told", () => {
  const slices = { ...byHand(), length: 100 };
  const heard: (readonly ClimbStep[])[] = [];
  const errors: unknown[] = [];
  const steps = function* (): Generator<ClimbStep, void, void> {
    yield progress(1);
    yield progress(2);
    yield { kind: "refused", why: "for the test" };
    yield progress(3);
    throw new Error("broken");
  };
  inSlices(
    steps(),
    (some) => heard.push(some),
    (error) => errors.push(error),
    slices,
  );
  expect(heard).toEqual([]);
  slices.runAll();
  expect(errors).toEqual([new Error("broken")]);
  // What was taken in the slice that broke is lost with it.
  expect(heard).toEqual([]);
  inSlices(
    [progress(1), progress(2), { kind: "refused", why: "no" } as const].values(),
    (some) => heard.push(some),
    never,
    slices,
  );
  slices.runAll();
  expect(heard).toEqual([[progress(2), { kind: "refused", why: "no" }]]);
});

test("what breaks the search on the page itself is told as a refusal", () => {
  const slices = byHand();
  const steps: ClimbStep[] = [];
  const broken = { ...plan, standards: undefined } as unknown as typeof plan;
  searchHere(slices).search({ layout: { ...search.layout, plan: broken }, request: REQUEST }, (step) =>
    steps.push(step),
  );
  slices.runAll();
  expect(steps.at(-1)).toMatchObject({ kind: "refused", why: expect.stringMatching(/broke down/) });
});
