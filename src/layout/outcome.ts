/** Deriving something may fail; the failure is a value that a finding is made of. */
import type { Point } from "../geometry/pose.js";
import type { Id } from "../plan/schema.js";
import type { Finding } from "./layout.js";

export interface Failure {
  readonly ok: false;
  readonly kind: Finding["kind"];
  readonly note: string;
  /** Where it should have led. */
  readonly target?: Point;
}
export type Outcome<T> = { readonly ok: true; readonly value: T } | Failure;

export const found = <T>(value: T): Outcome<T> => ({ ok: true, value });
export const fail = (kind: Finding["kind"], note: string, target?: Point): Failure =>
  target ? { ok: false, kind, note, target } : { ok: false, kind, note };

/** A failure of a thing of the plan; `at` is where it shows, the origin where it has no place on the sheet. */
export function findingOf(
  { kind, note, target }: Failure,
  thing: string,
  deck: Id | undefined,
  at: Point | undefined,
): Finding {
  const point = { x: at?.x ?? 0, y: at?.y ?? 0 };
  return { kind, thing, deck: deck ?? "", point, note, ...(target && { target: { x: target.x, y: target.y } }) };
}
