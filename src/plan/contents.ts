/**
 * The bare contents of a plan file before they are checked: names that reach into every object are taken out, and minus
 * zero becomes zero, so that nothing read can disturb the program and what is written is what was read.
 */
import type { JsonPath } from "./json-text.js";

export interface TakenOut {
  readonly path: JsonPath;
  readonly value: unknown;
}

const UNSAFE = new Set(["__proto__", "constructor", "prototype"]);

export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Own property of a value that may be anything. */
export const own = (value: unknown, key: string): unknown =>
  isObject(value) && Object.hasOwn(value, key) ? value[key] : undefined;

/**
 * The value without unsafe names, which are added to `takenOut`; the value itself where there are none. What an earlier
 * reading set aside is left whole. Recursion is bounded by the depth the text was allowed.
 */
export function clean(value: unknown, takenOut: TakenOut[]): unknown {
  return cleanAt(value, takenOut, []);
}

/** `path` is one list for the whole walk, pushed and popped. */
function cleanAt(value: unknown, takenOut: TakenOut[], path: (string | number)[]): unknown {
  if (Object.is(value, -0)) return 0;
  if (typeof value !== "object" || value === null || (path[0] === "setAside" && path[2] === "value")) return value;
  const inside = (key: string | number, item: unknown): unknown => {
    path.push(key);
    const cleaned = cleanAt(item, takenOut, path);
    path.pop();
    return cleaned;
  };
  if (Array.isArray(value)) {
    const items: unknown[] = value.map((item, i) => inside(i, item));
    return items.some((item, i) => !Object.is(item, value[i])) ? items : value;
  }
  let changed = false;
  const kept: [string, unknown][] = [];
  for (const [key, item] of Object.entries(value)) {
    if (UNSAFE.has(key)) {
      takenOut.push({ path: [...path, key], value: item });
      changed = true;
      continue;
    }
    const cleaned = inside(key, item);
    changed ||= !Object.is(cleaned, item);
    kept.push([key, cleaned]);
  }
  return changed ? Object.fromEntries(kept) : value;
}

/** Numbers too large for a double are read as infinite, which JSON cannot write: kept as text. */
export function writable(value: unknown): unknown {
  if (typeof value === "number" && !Number.isFinite(value)) return String(value);
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) return value.map(writable);
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, writable(item)]));
}
