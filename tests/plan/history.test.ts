import fc from "fast-check";
import { expect, test } from "vitest";
import {
  abandon,
  commit,
  type History,
  preview,
  redo,
  redoName,
  settle,
  shownPlan,
  startHistory,
  undo,
  undoName,
} from "../../src/plan/history.js";
import type { Plan } from "../../src/plan/schema.js";
import { goldenPlan } from "./golden-plan.js";

const base = goldenPlan();
const named = (title: string): Plan => ({ ...base, title });
const [a, b, c] = [named("a"), named("b"), named("c")];

test("undo and redo give the very plans, and name the edits", () => {
  const two = commit(commit(startHistory(a), "To b", b), "To c", c);
  expect([two.plan, undoName(two), redoName(two)]).toEqual([c, "To c", undefined]);
  const one = undo(two);
  expect(one.plan).toBe(b);
  expect([undoName(one), redoName(one)]).toEqual(["To b", "To c"]);
  const none = undo(one);
  expect(none.plan).toBe(a);
  expect([undoName(none), redoName(none)]).toEqual([undefined, "To b"]);
  expect(undo(none)).toBe(none);
  expect(redo(redo(none)).plan).toBe(c);
  expect(redo(two)).toBe(two);
});

test("a new edit after undo ends the redoing", () => {
  const forked = commit(undo(commit(startHistory(a), "To b", b)), "To c", c);
  expect(redoName(forked)).toBeUndefined();
  expect(undo(forked).plan).toBe(a);
});

test("a drag that is given up keeps what can be redone; one that is settled is one step", () => {
  const undone = undo(commit(startHistory(a), "To b", b));
  const dragging = preview(preview(undone, "Drag", named("d1")), "Drag", c);
  expect(shownPlan(dragging)).toBe(c);
  expect(dragging.plan).toBe(a);
  for (const end of [abandon(dragging), undo(dragging), redo(undo(dragging))]) expect(end.preview).toBeUndefined();
  expect(redo(abandon(dragging)).plan).toBe(b);
  expect(undo(dragging).plan).toBe(a);
  const settled = settle(dragging);
  expect([settled.plan, undoName(settled), redoName(settled)]).toEqual([c, "Drag", undefined]);
  expect(undo(settled).plan).toBe(a);
  // Dragged back to where it was: nothing happened.
  expect(redo(settle(preview(undone, "Drag", a))).plan).toBe(b);
});

test("commits with one key are one step, until another comes between or one is undone", () => {
  const nudged = commit(commit(startHistory(a), "Nudge", b, "radius"), "Nudge", c, "radius");
  expect(undo(nudged).plan).toBe(a);
  const two = commit(commit(startHistory(a), "Nudge", b, "radius"), "Nudge", c, "angle");
  expect(undo(two).plan).toBe(b);
  const after = commit(undo(commit(nudged, "Other", a)), "Nudge", b, "radius");
  expect(undo(after).plan).toBe(c);
});

test("without limit: 100,000 steps back and forth", () => {
  const plans = Array.from({ length: 100_000 }, (_, i) => named(String(i)));
  let history = startHistory(base);
  for (const plan of plans) history = commit(history, "Retitle", plan);
  for (let i = 0; i < plans.length; i += 1) history = undo(history);
  expect(history.plan).toBe(base);
  for (let i = 0; i < plans.length; i += 1) history = redo(history);
  expect(history.plan).toBe(plans.at(-1));
});

test("agrees with two plain stacks on random sequences", () => {
  const action = fc.constantFrom("commit", "undo", "redo", "preview", "settle", "abandon");
  fc.assert(
    fc.property(fc.array(action, { maxLength: 60 }), (actions) => {
      let history: History = startHistory(a);
      const [past, future]: Plan[][] = [[], []];
      let present: Plan = a;
      let dragged: Plan | undefined;
      const make = (plan: Plan): void => {
        past?.push(present);
        future?.splice(0);
        present = plan;
        dragged = undefined;
      };
      for (const [i, what] of actions.entries()) {
        const plan = named(String(i));
        if (what === "commit") {
          history = commit(history, "x", plan);
          make(plan);
        } else if (what === "preview") {
          history = preview(history, "x", plan);
          dragged = plan;
        } else if (what === "settle") {
          history = settle(history);
          if (dragged !== undefined) make(dragged);
        } else if (what === "abandon") {
          history = abandon(history);
          dragged = undefined;
        } else {
          const [from, to] = what === "undo" ? [past, future] : [future, past];
          const moves = what === "redo" || dragged === undefined;
          history = what === "undo" ? undo(history) : redo(history);
          dragged = undefined;
          const next = moves ? from?.pop() : undefined;
          if (next !== undefined) {
            to?.push(present);
            present = next;
          }
        }
        expect(history.plan).toBe(present);
        expect(shownPlan(history)).toBe(dragged ?? present);
      }
    }),
    { seed: 26, numRuns: 200 },
  );
});
