/**
 * Checks the contents of a plan file record by record. Whole records are kept, with the properties this version does
 * not know; broken ones are set aside whole; broken settings give way to the scale's own.
 *
 * Holds: every record and setting of the contents is in the plan or in its `setAside`.
 */
import type { z } from "zod";
import { RECORD_SCHEMAS } from "./collections.js";
import { own } from "./contents.js";
import type { Desk } from "./desk.js";
import { check, replaced } from "./explain.js";
import type { Contents } from "./migrate.js";
import { salvageRecords } from "./salvage-records.js";
import { salvageRoom } from "./salvage-room.js";
import { salvageStandards } from "./salvage-standards.js";
import { acceptedSchema, COLLECTIONS, FORMAT, idSchema, type Plan, planSchema, VERSION } from "./schema.js";
import { STAND_IN_ROOM, STAND_IN_SCALE, standInStandards } from "./stand-ins.js";

/** A plan by the schema. Undefined only where the stand-ins themselves break the schema; the desk then says how. */
export function salvage(contents: Contents, desk: Desk): Plan | undefined {
  const { shape } = planSchema;
  const scale = part(shape.scale, contents, "scale", desk, `${STAND_IN_SCALE.name} stands in`) ?? STAND_IN_SCALE;
  const fields: Record<string, unknown> = {
    format: FORMAT,
    version: VERSION,
    title: part(shape.title, contents, "title", desk, "it is left empty") ?? "",
    notes: part(shape.notes, contents, "notes", desk, "they are left out"),
    units: part(shape.units, contents, "units", desk, "metric stands in") ?? "metric",
    scale,
    standards: salvageStandards(
      contents["standards"],
      desk,
      standInStandards(scale, own(contents["standards"], "body")),
    ),
    room: salvageRoom(contents["room"], desk, STAND_IN_ROOM),
  };
  for (const collection of COLLECTIONS) {
    fields[collection] = salvageRecords(RECORD_SCHEMAS[collection], idSchema, contents[collection], [collection], desk);
  }
  fields["accepted"] = salvageRecords(acceptedSchema, shape.accepted.keyType, contents["accepted"], ["accepted"], desk);
  fields["option"] = part(shape.option, contents, "option", desk, "none is chosen");
  fields["setAside"] = desk.setAside.length > 0 ? desk.setAside : undefined;
  for (const [key, value] of Object.entries(contents)) {
    if (!Object.hasOwn(shape, key)) fields[key] = value;
  }
  const whole = check(
    planSchema,
    Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)),
  );
  if (whole.ok) return whole.value;
  for (const fault of whole.faults) desk.error(fault.path, fault.message);
  return undefined;
}

/** A property of the plan: undefined where it is absent and may be, or where it is broken and was set aside. */
function part<T extends z.ZodType>(
  schema: T,
  contents: Contents,
  key: string,
  desk: Desk,
  instead: string,
): z.output<T> | undefined {
  const result = check(schema, contents[key]);
  if (result.ok) return result.value;
  desk.setAsideValue([key], contents[key], replaced(result.faults, instead));
  return undefined;
}
