/**
 * Undo and redo without limit over plans that are never changed in place. A drag is shown as a preview: given up, it
 * leaves no trace, and what was undone before can still be redone.
 *
 * Holds: undo after commit gives the very plan before it; redo after undo gives the very plan again; preview, abandon
 * and a commit that changes nothing leave past and future as they are.
 */
import type { Plan } from "./schema.js";

interface Step {
  /** Of the edit that led away from `plan` (in the past) or leads to it (in the future). */
  readonly name: string;
  readonly plan: Plan;
  /** Commits that follow one another with the same key are one step. */
  readonly key: string | undefined;
  readonly next: Step | undefined;
}

export interface History {
  readonly plan: Plan;
  readonly past: Step | undefined;
  readonly future: Step | undefined;
  readonly preview: { readonly name: string; readonly plan: Plan } | undefined;
}

export const startHistory = (plan: Plan): History => ({ plan, past: undefined, future: undefined, preview: undefined });

/** Whether nothing has been done or undone, as when a plan was just opened. */
export const isStart = ({ past, future, preview }: History): boolean =>
  past === undefined && future === undefined && preview === undefined;

/** The plan to show: that of the preview while there is one. */
export const shownPlan = (history: History): Plan => history.preview?.plan ?? history.plan;

/**
 * Makes `plan` the present. With a `key`, it becomes one step with the commit before it if that had the same key, as
 * when a number is nudged again and again. A preview is dropped.
 */
export function commit(history: History, name: string, plan: Plan, key?: string): History {
  if (plan === history.plan) return abandon(history);
  const last = history.past;
  const past =
    key !== undefined && last?.key === key && history.future === undefined
      ? last
      : { name, plan: history.plan, key, next: last };
  return { plan, past, future: undefined, preview: undefined };
}

/** Shows a plan without making it the present; of previews only the last counts. */
export const preview = (history: History, name: string, plan: Plan): History => ({
  ...history,
  preview: { name, plan },
});

/** Makes the preview the present, as one step. */
export const settle = (history: History): History =>
  history.preview === undefined ? history : commit(history, history.preview.name, history.preview.plan);

/** Gives the preview up. */
export const abandon = (history: History): History =>
  history.preview === undefined ? history : { ...history, preview: undefined };

/** One step back; while there is a preview, only that is given up. The same history where there is nothing to undo. */
export function undo(history: History): History {
  if (history.preview !== undefined) return abandon(history);
  const { plan, past, future } = history;
  if (past === undefined) return history;
  return { plan: past.plan, past: past.next, future: { ...past, plan, next: future }, preview: undefined };
}

/** One step forward; a preview is given up. The same history where there is nothing to redo. */
export function redo(history: History): History {
  const { plan, past, future } = history;
  if (future === undefined) return abandon(history);
  return { plan: future.plan, past: { ...future, plan, next: past }, future: future.next, preview: undefined };
}

/** Name of the edit that undo would take back. */
export const undoName = (history: History): string | undefined => history.past?.name;
export const redoName = (history: History): string | undefined => history.future?.name;
