/**
 * Checks the contents of a plan file record by record. Whole records are kept, with the properties this version does
 * not know; broken ones are set aside whole; broken settings give way to the scale's own.
 *
 * Holds: every record and setting of the contents is in the plan or in its `setAside`.
 */
import type * as z from "zod/mini";
import { RECORD_SCHEMAS } from "./collections.js";
import type { Desk } from "./desk.js";
import { check, replaced } from "./explain.js";
import type { Contents } from "./migrate.js";
import { salvageRecords } from "./salvage-records.js";
import { salvageRoom } from "./salvage-room.js";
import { salvageStandards } from "./salvage-standards.js";
import { acceptedSchema, type Collection, FORMAT, idSchema, type Plan, planSchema, VERSION } from "./schema.js";
import { STAND_IN_ROOM, STAND_IN_SCALE, standInStandards } from "./stand-ins.js";

/** A plan by the schema. Undefined only where the stand-ins themselves break the schema; the desk then says how. */
export function salvage(contents: Contents, desk: Desk): Plan | undefined {
  const { shape } = planSchema;
  const scale = part(shape.scale, contents, "scale", desk, `${STAND_IN_SCALE.name} stands in`) ?? STAND_IN_SCALE;
  const own = {
    format: FORMAT,
    version: VERSION,
    title: part(shape.title, contents, "title", desk, "it is left empty") ?? "",
    notes: part(shape.notes, contents, "notes", desk, "they are left out"),
    units: part(shape.units, contents, "units", desk, "metric stands in") ?? "metric",
    scale,
    standards: salvageStandards(contents["standards"], desk, (body) => standInStandards(scale, body)),
    room: salvageRoom(contents["room"], desk, STAND_IN_ROOM),
    option: part(shape.option, contents, "option", desk, "none is chosen"),
  };
  const records = <T extends z.ZodMiniType>(collection: Collection, schema: T) =>
    salvageRecords(schema, idSchema, contents[collection], [collection], desk);
  const collections = {
    decks: records("decks", RECORD_SCHEMAS.decks),
    benches: records("benches", RECORD_SCHEMAS.benches),
    backdrops: records("backdrops", RECORD_SCHEMAS.backdrops),
    gates: records("gates", RECORD_SCHEMAS.gates),
    tracks: records("tracks", RECORD_SCHEMAS.tracks),
    templates: records("templates", RECORD_SCHEMAS.templates),
    turnouts: records("turnouts", RECORD_SCHEMAS.turnouts),
    slips: records("slips", RECORD_SCHEMAS.slips),
    turntables: records("turntables", RECORD_SCHEMAS.turntables),
    pins: records("pins", RECORD_SCHEMAS.pins),
    labels: records("labels", RECORD_SCHEMAS.labels),
    accepted: salvageRecords(acceptedSchema, shape.accepted.def.keyType, contents["accepted"], ["accepted"], desk),
    options: records("options", RECORD_SCHEMAS.options),
  };
  const unknown = Object.entries(contents).filter(([key]) => !Object.hasOwn(shape, key));
  const empty = Object.fromEntries(Object.keys(collections).map((key) => [key, {}]));
  const setAside = desk.setAside.length > 0 ? { setAside: desk.setAside } : {};
  // The records are checked already; the check of the rest also brings the plan's properties into the schema's order.
  const whole = check(planSchema, { ...given(own), ...empty, ...setAside, ...Object.fromEntries(unknown) });
  if (whole.ok) return { ...whole.value, ...collections };
  for (const fault of whole.faults) desk.error(fault.path, fault.message);
  return undefined;
}

const given = (properties: object): object =>
  Object.fromEntries(Object.entries(properties).filter(([, value]) => value !== undefined));

/** A property of the plan: undefined where it is absent and may be, or where it is broken and was set aside. */
function part<T extends z.ZodMiniType>(
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
