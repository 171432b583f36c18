/** The golden file of version 1, in which every property of the schema stands at least once. */
import { readFileSync } from "node:fs";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";

export const goldenText = (version: number): string =>
  readFileSync(new URL(`./golden/version-${version}.plan.json`, import.meta.url), "utf8");

/** The golden file's contents, fresh at every call, for a test to spoil. */
export const goldenContents = (): Record<string, unknown> => JSON.parse(TEXT);
const TEXT = goldenText(1);

export function goldenPlan(): Plan {
  const result = readPlan(goldenText(1));
  if (!result.ok) throw new Error("the golden file cannot be read");
  return result.plan;
}

type Key = string | number;

/** Sets the value at a path within `root`; undefined takes it out. */
export function setAt(root: object, path: readonly Key[], value: unknown): void {
  let target: object = root;
  for (const key of path.slice(0, -1)) target = Reflect.get(target, key);
  const last = path.at(-1) ?? "";
  if (value === undefined && Array.isArray(target)) target.splice(Number(last), 1);
  else if (value === undefined) Reflect.deleteProperty(target, last);
  else Reflect.set(target, last, value);
}

/** Every path within a value, nearest first. */
export function pathsIn(value: unknown, path: readonly Key[] = []): (readonly Key[])[] {
  if (typeof value !== "object" || value === null) return [path];
  const entries: (readonly [Key, unknown])[] = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
  return [path, ...entries.flatMap(([key, item]) => pathsIn(item, [...path, key]))];
}
