/** What is the matter with a file: which record, which property, and what was expected there; one line when printed. */
import { COLLECTIONS } from "./schema.js";
import type { JsonPath } from "./json-text.js";

export interface Problem {
  readonly file: string;
  /** `tracks.larkmoor-main`, `standards`, `room.openings.door`, or `plan` for the plan's own properties. */
  readonly record: string;
  /** `legs.2.curve.radius`; empty where the whole record is meant. */
  readonly property: string;
  /** error: something was left out or replaced. warning: all of it is in the plan, but look at it. */
  readonly severity: "error" | "warning";
  readonly message: string;
}

/** `file: record: property: message`, without line breaks. */
export const printProblem = (problem: Problem): string =>
  [problem.file, problem.record, problem.property, problem.message]
    .filter((part) => part !== "")
    .join(": ")
    .replace(/[\p{Cc}\u2028\u2029]+/gu, " ");

const KEYED = new Set<string | number>([...COLLECTIONS, "accepted"]);
const SECTIONS = new Set<string | number>(["room", "standards", "scale"]);

/** Splits a path through the file into the record it leads to and the property within. */
export function locate(path: JsonPath): { readonly record: string; readonly property: string } {
  const [first, second] = path;
  let depth = 0;
  if (first !== undefined && path.length > 1) {
    if (KEYED.has(first)) depth = 2;
    else if (first === "room" && (second === "openings" || second === "obstacles") && path.length > 2) depth = 3;
    else if (SECTIONS.has(first)) depth = 1;
  }
  return { record: depth === 0 ? "plan" : path.slice(0, depth).join("."), property: path.slice(depth).join(".") };
}

const MOST_QUOTED = 40;

/** A value in a few words, for messages. */
export function describeValue(value: unknown): string {
  if (value === undefined) return "nothing";
  if (value === null) return "null";
  if (typeof value === "string") {
    return value.length > MOST_QUOTED ? `the text "${value.slice(0, MOST_QUOTED)}…"` : `the text "${value}"`;
  }
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  return "an object";
}
