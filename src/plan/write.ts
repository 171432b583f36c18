/**
 * Writes a plan as text that people and version control can compare: properties in the schema's order, records in
 * their own, two spaces, and whatever fits on a line on one line.
 *
 * Holds: reading what was written gives an equal plan; writing that gives the same text.
 */
import type { JsonPath } from "./json-text.js";
import { type Plan, planSchema } from "./schema.js";

const WIDTH = 100;

export function writePlan(plan: Plan): string {
  // The schema puts properties in its order; a plan it does not take is written as it is, so that saving never fails.
  const ordered = planSchema.safeParse(plan);
  return `${print(ordered.success ? ordered.data : plan, [], 0)}\n`;
}

/** Collections stay open even when they are short: adding a record then adds a line and changes none. */
const staysOpen = (path: JsonPath, value: object): boolean =>
  path.length === 0 ||
  (path.length === 1 && Object.values(value).some((item) => typeof item === "object" && item !== null));

function print(value: unknown, path: JsonPath, taken: number): string {
  if (typeof value !== "object" || value === null) return JSON.stringify(value) ?? "null";
  const entries: (readonly [string | number, unknown])[] = Array.isArray(value)
    ? value.map((item, i) => [i, item] as const)
    : Object.entries(value).filter(([, item]) => item !== undefined);
  const [open, close] = Array.isArray(value) ? ["[", "]"] : ["{", "}"];
  if (entries.length === 0) return open + close;
  const indent = "  ".repeat(path.length);
  if (!staysOpen(path, value)) {
    const line = onOneLine(value, WIDTH - indent.length - taken);
    if (line !== undefined) return line;
  }
  const items = entries.map(([key, item]) => {
    const label = typeof key === "number" ? "" : `${JSON.stringify(key)}: `;
    return `${indent}  ${label}${print(item, [...path, key], label.length)}`;
  });
  return `${open}\n${items.join(",\n")}\n${indent}${close}`;
}

/** The value on one line, or undefined where it needs more than `room` characters. */
function onOneLine(value: unknown, room: number): string | undefined {
  if (room < 2) return undefined;
  if (typeof value !== "object" || value === null) {
    const text = JSON.stringify(value) ?? "null";
    return text.length <= room ? text : undefined;
  }
  const isList = Array.isArray(value);
  let line = "";
  for (const [key, item] of Object.entries(value)) {
    if (item === undefined && !isList) continue;
    const label = isList ? "" : `${JSON.stringify(key)}: `;
    const text = onOneLine(item, room - line.length - label.length - 2);
    if (text === undefined) return undefined;
    line += `${line === "" ? "" : ", "}${label}${text}`;
  }
  if (line === "") return isList ? "[]" : "{}";
  const whole = isList ? `[${line}]` : `{ ${line} }`;
  return whole.length <= room ? whole : undefined;
}
