/**
 * A plan as the text that is kept of it after every edit: JSON without spaces, of which the parts that did not change
 * are remembered. A plan of a thousand tracks is put together again in a fraction of what writing it afresh takes.
 *
 * Always holds: the text is that of `JSON.stringify`, letter for letter.
 */
import { RECORD_SCHEMAS } from "../../plan/collections.js";
import type { Plan } from "../../plan/schema.js";

/** Parts are never changed in place, so the text of one stays true for as long as it lives. */
const known = new WeakMap<object, string>();
/** Of records, with the name before it. */
const named = new WeakMap<object, { readonly id: string; readonly text: string }>();

export function planText(plan: Plan): string {
  const parts = Object.entries(plan).flatMap(([key, value]) => {
    const text =
      Object.hasOwn(RECORD_SCHEMAS, key) && typeof value === "object" ? collectionText(value) : partText(value);
    return text === undefined ? [] : [`${JSON.stringify(key)}:${text}`];
  });
  return `{${parts.join(",")}}`;
}

function collectionText(records: object): string {
  const before = known.get(records);
  if (before !== undefined) return before;
  return remembered(
    records,
    Object.entries(records)
      .map(([id, record]) => recordText(id, record))
      .join(","),
  );
}

function remembered(records: object, inner: string): string {
  const text = `{${inner}}`;
  known.set(records, text);
  return text;
}

/** With more records than this a plan's text is put together in slices that give way to the hand. */
const AT_ONCE = 2000;

/** The same text, a large plan's a slice at a time. */
export async function textInSlices(plan: Plan, later: (work: () => void) => void): Promise<string> {
  for (const key of Object.keys(RECORD_SCHEMAS)) {
    const records: unknown = Reflect.get(plan, key);
    if (typeof records !== "object" || records === null || known.has(records)) continue;
    const entries = Object.entries(records);
    if (entries.length <= AT_ONCE) continue;
    const parts: string[] = [];
    for (let at = 0; at < entries.length; at += SLICE) {
      await new Promise<void>((resolve) => later(resolve));
      parts.push(
        entries
          .slice(at, at + SLICE)
          .map(([id, record]) => recordText(id, record as object))
          .join(","),
      );
    }
    remembered(records, parts.join(","));
  }
  return planText(plan);
}

function recordText(id: string, record: object): string {
  const before = named.get(record);
  if (before?.id === id) return before.text;
  const text = `${JSON.stringify(id)}:${JSON.stringify(record)}`;
  named.set(record, { id, text });
  return text;
}

/** Undefined for what JSON leaves out. */
function partText(value: unknown): string | undefined {
  if (typeof value !== "object" || value === null) return JSON.stringify(value) as string | undefined;
  const before = known.get(value);
  if (before !== undefined) return before;
  const text = JSON.stringify(value);
  known.set(value, text);
  return text;
}

/** How many records are written between two breaths. */
const SLICE = 1000;

/** Makes the text of a plan's records ready beforehand, a slice at a time, so that the first edit waits for none of it. */
export function makeReady(plan: Plan, later: (work: () => void) => void): void {
  const records = Object.keys(RECORD_SCHEMAS).flatMap((key) => Object.entries(Reflect.get(plan, key) as object));
  const from = (at: number): void => {
    for (const [id, record] of records.slice(at, at + SLICE)) recordText(id, record as object);
    if (at + SLICE < records.length) later(() => from(at + SLICE));
  };
  if (records.length > SLICE) later(() => from(0));
}

/** A short print of a text, to tell whether two are the same: FNV-1a of 32 bits twice over, and the length. */
export function printOf(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x01000193;
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ (text.charCodeAt(i) + i), 0x85ebca6b);
  }
  return `${text.length.toString(36)}-${(a >>> 0).toString(36)}-${(b >>> 0).toString(36)}`;
}
