import { expect, test } from "vitest";
import { readAtOnce, readInSlices } from "../../src/editor/reader/here.js";
import { type OpenLine, readInWorker } from "../../src/editor/reader/in-worker.js";
import type { Answered, Asked } from "../../src/editor/reader/messages.js";
import { answering } from "../../src/editor/reader/worker.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Plan } from "../../src/plan/schema.js";
import type { Reading } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { Chance, randomEdit, randomPlan } from "../layout/random-plan.js";

type Told = { readonly readings: readonly Reading[]; readonly of: Plan };

/** A worker that answers when told to, everything copied both ways as between threads. */
function slowWorker() {
  const answer = answering();
  const asked: Asked[] = [];
  let tell: (answer: Answered) => void = () => {};
  let fail = (): void => {};
  let ended = false;
  const open: OpenLine = (answered, broken) => {
    [tell, fail] = [answered, broken];
    return { ask: (question) => asked.push(structuredClone(question)), end: () => (ended = true) };
  };
  const answerNext = (): Answered => {
    const question = asked.shift();
    if (!question) throw new Error("nothing was asked");
    const said = structuredClone(answer(question));
    tell(said);
    return said;
  };
  return { open, asked, answerNext, break: () => fail(), isEnded: () => ended };
}

const never = async (): Promise<never> => {
  throw new Error("not needed");
};

test.each([1, 2, 3, 4, 5])("a worker's readings are those taken here, edit after edit, seed %i", (seed) => {
  const chance = new Chance(seed);
  let plan = randomPlan(seed);
  const worker = slowWorker();
  const told: Told[] = [];
  const reader = readInWorker(worker.open, never)((readings, of) => told.push({ readings, of }));
  for (let step = 0; step < 12; step++) {
    const layout = deriveLayout(plan);
    reader.read(plan, layout);
    worker.answerNext();
    expect(told.at(-1)?.of).toBe(plan);
    expect(told.at(-1)?.readings).toEqual(takeReadings(plan, layout));
    plan = randomEdit(plan, chance);
  }
});

test("readings that say the same stay the same objects, and are not sent again", () => {
  const plan = randomPlan(7);
  const worker = slowWorker();
  const told: Told[] = [];
  const reader = readInWorker(worker.open, never)((readings, of) => told.push({ readings, of }));
  reader.read(plan, deriveLayout(plan));
  expect(worker.answerNext().filter((item) => typeof item === "number")).toEqual([]);
  const renamed = { ...plan, title: "Another" };
  reader.read(renamed, deriveLayout(renamed));
  expect(worker.answerNext().every((item) => typeof item === "number")).toBe(true);
  told[0]?.readings.forEach((reading, i) => expect(told[1]?.readings[i]).toBe(reading));
});

test("one is asked at a time, and of those that wait only the last", () => {
  const plans = ["A", "B", "C", "D"].map((title) => ({ ...randomPlan(8), title }));
  const layouts = plans.map((plan) => deriveLayout(plan));
  const worker = slowWorker();
  const told: string[] = [];
  const reader = readInWorker(worker.open, never)((_, of) => told.push(of.title));
  plans.forEach((plan, i) => reader.read(plan, layouts[i] as Layout));
  expect(worker.asked).toHaveLength(1);
  worker.answerNext();
  expect(told).toEqual(["A"]);
  expect(worker.asked).toHaveLength(1);
  worker.answerNext();
  expect(told).toEqual(["A", "D"]);
  expect(worker.asked).toEqual([]);
});

test("a worker that breaks down is stood in for, and what it owed is taken", async () => {
  const plan = randomPlan(9);
  const layout = deriveLayout(plan);
  const worker = slowWorker();
  const told: Told[] = [];
  const reader = readInWorker(worker.open, async () => readAtOnce)((readings, of) => told.push({ readings, of }));
  reader.read(plan, layout);
  worker.break();
  await Promise.resolve();
  await Promise.resolve();
  expect(worker.isEnded()).toBe(true);
  expect(told).toEqual([{ readings: takeReadings(plan, layout), of: plan }]);
  const next = { ...plan, title: "Another" };
  reader.read(next, deriveLayout(next));
  await Promise.resolve();
  expect(told).toHaveLength(2);
});

test("where no worker can be begun, another reader is there from the first", async () => {
  const plan = randomPlan(10);
  const layout = deriveLayout(plan);
  const told: Told[] = [];
  const open: OpenLine = () => {
    throw new Error("refused");
  };
  const reader = readInWorker(open, async () => readAtOnce)((readings, of) => told.push({ readings, of }));
  reader.read(plan, layout);
  await new Promise((resolve) => setTimeout(resolve));
  expect(told).toEqual([{ readings: takeReadings(plan, layout), of: plan }]);
});

test("readings taken in slices are those taken at once", () => {
  const plan = randomPlan(11);
  const layout = deriveLayout(plan);
  const queue: (() => void)[] = [];
  const told: Told[] = [];
  const reader = readInSlices((work) => queue.push(work))((readings, of) => told.push({ readings, of }));
  reader.read(plan, layout);
  expect(told).toEqual([]);
  for (let work = queue.shift(); work; work = queue.shift()) work();
  expect(told).toEqual([{ readings: takeReadings(plan, layout), of: plan }]);
});
