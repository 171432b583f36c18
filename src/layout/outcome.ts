/** Deriving something may fail; the failure is a value that a finding is made of. */
import type { Point } from "../geometry/pose.js";
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
