/** Salvage of a collection: whole records are kept, broken ones set aside whole with what is wrong with them. */
import type * as z from "zod/mini";
import { isObject, own } from "./contents.js";
import type { Desk } from "./desk.js";
import { type Checked, check, type Fault } from "./explain.js";
import { BOUNDS } from "./schema.js";

/** A collection of records by id, each checked by itself. */
export function salvageRecords<T extends z.ZodMiniType>(
  schema: T,
  keys: z.ZodMiniType<string>,
  found: unknown,
  path: readonly string[],
  desk: Desk,
): Record<string, z.output<T>> {
  if (!isObject(found)) {
    if (found !== undefined) {
      desk.setAsideValue(path, found, [{ path: [], message: "expected an object of records by id" }]);
    }
    return {};
  }
  const kept: [string, z.output<T>][] = [];
  for (const [id, value] of Object.entries(found)) {
    const result = checkRecord(schema, keys, id, value, kept.length, desk);
    if (result.ok) kept.push([id, result.value]);
    else {
      desk.setAsideValue([...path, id], value, result.faults);
      desk.faults += result.count;
    }
  }
  return Object.fromEntries(kept);
}

function checkRecord<T extends z.ZodMiniType>(
  schema: T,
  keys: z.ZodMiniType<string>,
  id: string,
  value: unknown,
  count: number,
  desk: Desk,
): Checked<T> {
  const no = (faults: readonly Fault[]) => ({ ok: false, faults, count: faults.length }) as const;
  if (desk.full) return no([{ path: [], message: "not looked at: too much is wrong with the file" }]);
  if (count >= BOUNDS.records) return no([{ path: [], message: `more than ${BOUNDS.records} records` }]);
  const key = check(keys, id);
  if (!key.ok) return no(key.faults.map((fault) => ({ ...fault, message: `is no usable id: ${fault.message}` })));
  const long = overlong(value);
  return long ? no([long]) : check(schema, value);
}

/** The lists of a record, by the path to them. */
const LISTS = [["outline"], ["line"], ["legs"], ["hidden"], ["shape", "outline"]] as const;
const MOST_ITEMS = Math.max(BOUNDS.corners, BOUNDS.legs);

/** Lists beyond their bound are refused before their items are looked at, which might take for ever. */
export function overlong(record: unknown): Fault | undefined {
  for (const path of LISTS) {
    let list = record;
    for (const key of path) list = own(list, key);
    if (Array.isArray(list) && list.length > MOST_ITEMS) {
      return { path, message: `must have at most ${MOST_ITEMS} items, a list of ${list.length} is there` };
    }
  }
  return undefined;
}
