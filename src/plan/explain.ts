/**
 * Turns what the schema found wrong with a value into sentences that name the real property and what was expected.
 * In a union (anchor, leg, bench shape) the shape meant is the one whose key is there.
 */
import type * as z from "zod/mini";
import type { JsonPath } from "./json-text.js";
import { describeValue } from "./problem.js";
import { ANCHOR_KEYS, BENCH_SHAPE_KEYS, LEG_KEYS } from "./schema.js";

export interface Fault {
  readonly path: JsonPath;
  readonly message: string;
}

type Issue = z.core.$ZodIssue;

/** Faults shown of one record; the rest are counted. */
const MOST_FAULTS = 20;

export type Checked<T extends z.ZodMiniType> =
  | { readonly ok: true; readonly value: z.output<T> }
  /** `count` is that of all faults; `faults` are the first of them, at least one. */
  | { readonly ok: false; readonly faults: readonly Fault[]; readonly count: number };

/** Checks a value against a schema: the value as the schema gives it, or what is wrong with it. */
export function check<T extends z.ZodMiniType>(schema: T, value: unknown): Checked<T> {
  const result = schema.safeParse(value);
  if (result.success) return { ok: true, value: result.data };
  const faults = result.error.issues.slice(0, MOST_FAULTS).map((issue) => explain(issue, value));
  const more = result.error.issues.length - faults.length;
  if (more > 0) faults.push({ path: [], message: `and ${more} more` });
  return { ok: false, faults, count: result.error.issues.length };
}

export const printFault = (fault: Fault): string =>
  fault.path.length > 0 ? `${fault.path.join(".")}: ${fault.message}` : fault.message;

/** The faults, the first of them saying what is used instead. */
export const replaced = (faults: readonly Fault[], instead: string): Fault[] =>
  faults.map((fault, i) => (i === 0 ? { ...fault, message: `${fault.message}; ${instead}` } : fault));

function explain(issue: Issue, root: unknown, base: JsonPath = []): Fault {
  const path = [...base, ...issue.path.map((key) => (typeof key === "symbol" ? String(key) : key))];
  const value = valueAt(root, path);
  const found = value === undefined ? "it is missing" : `found ${describeValue(value)}`;
  const say = (message: string): Fault => ({ path, message });
  switch (issue.code) {
    case "invalid_union":
      return explainUnion(issue, root, path);
    case "invalid_type":
      if (value === Infinity || value === -Infinity) return say("is too large to be a number");
      return say(`expected ${EXPECTED[issue.expected] ?? issue.expected}, ${found}`);
    case "invalid_value":
      return say(
        `expected ${orList(issue.values.map((v) => (typeof v === "string" ? `"${v}"` : String(v))))}, ${found}`,
      );
    case "too_small":
      return say(limit(issue.origin, issue.inclusive === false ? "more than" : "at least", issue.minimum, value));
    case "too_big":
      return say(limit(issue.origin, issue.inclusive === false ? "less than" : "at most", issue.maximum, value));
    case "invalid_format":
      return say(`${ID_FORM}, ${found}`);
    default: {
      const keys = issue.code === "custom" ? keysOfUnion(path) : undefined;
      return say(keys === undefined ? issue.message : tooMany(keys, value));
    }
  }
}

export const ID_FORM = "expected an id of up to 40 letters, digits, hyphens and underscores";

const EXPECTED: Readonly<Record<string, string>> = {
  number: "a number",
  int: "a whole number",
  string: "a text",
  boolean: "true or false",
  object: "an object",
  record: "an object of records by id",
  array: "a list",
  tuple: "a list",
};

function limit(origin: string, bound: string, figure: number | bigint, value: unknown): string {
  if (origin === "array") return `must have ${bound} ${figure} items, ${describeValue(value)} is there`;
  if (origin === "string") return `must have ${bound} ${figure} characters`;
  return `must be ${bound} ${figure}, found ${describeValue(value)}`;
}

function explainUnion(issue: Extract<Issue, { code: "invalid_union" }>, root: unknown, path: JsonPath): Fault {
  const value = valueAt(root, path);
  const keys = keysOfUnion(path);
  const say = (message: string): Fault => ({ path, message });
  const inOption = (index: number): Fault | undefined => {
    const first = issue.errors[index]?.[0];
    return first && explain(first, root, path);
  };
  if (keys === undefined) {
    // The easement of a curve and the hidden stretches of a track: a plain value, or something made of parts.
    if (typeof value === "object" && value !== null) {
      const parts = issue.errors.findIndex((errors) =>
        errors.every((error) => error.path.length > 0 || error.code !== "invalid_type"),
      );
      const fault = parts >= 0 ? inOption(parts) : undefined;
      if (fault !== undefined) return fault;
    }
    const plain = issue.errors.findIndex((errors) => errors.every((error) => error.code !== "invalid_type"));
    if (plain >= 0) return inOption(plain) ?? say(issue.message);
    const options = issue.errors.flatMap((errors) =>
      errors.map((error) =>
        error.code === "invalid_type" ? (EXPECTED[error.expected] ?? error.expected) : error.message,
      ),
    );
    return say(`expected ${orList(options)}, found ${describeValue(value)}`);
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return say(
      `expected an object with ${orList(keys)}, ${value === undefined ? "it is missing" : `found ${describeValue(value)}`}`,
    );
  }
  const present = keysIn(keys, value);
  const [only] = present;
  if (only === undefined) return say(`needs one of ${orList(keys)}`);
  if (present.length > 1) return say(tooMany(keys, value));
  return inOption(keys.indexOf(only)) ?? say(issue.message);
}

const keysIn = (keys: readonly string[], value: unknown): string[] =>
  keys.filter((key) => Object.hasOwn(Object(value), key));

const tooMany = (keys: readonly string[], value: unknown): string =>
  `has ${andList(keysIn(keys, value))} but may have only one of them`;

/** Which union stands at the end of a path. */
function keysOfUnion(path: JsonPath): readonly string[] | undefined {
  const last = path.at(-1);
  if (last === "shape") return BENCH_SHAPE_KEYS;
  if (last === "start" || last === "to") return ANCHOR_KEYS;
  return typeof last === "number" && path.at(-2) === "legs" ? LEG_KEYS : undefined;
}

const list =
  (word: string) =>
  (items: readonly string[]): string =>
    items.length < 2 ? items.join("") : `${items.slice(0, -1).join(", ")} ${word} ${items.at(-1)}`;
const orList = list("or");
const andList = list("and");

function valueAt(root: unknown, path: JsonPath): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, key)) return undefined;
    value = Reflect.get(value, key);
  }
  return value;
}
