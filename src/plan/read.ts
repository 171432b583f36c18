/**
 * Reads a plan file: parse, too new?, migrate, check record by record, salvage what is whole with a report of what is
 * not, keep what this version does not know.
 *
 * Holds: never throws, and ends in time that grows with the text; nothing of a file that can be read is lost, being in
 * the plan or in its `setAside`; reading what writePlan wrote gives an equal plan.
 */
import { hasRecord } from "./collections.js";
import { clean, isObject, own, type TakenOut } from "./contents.js";
import { Desk } from "./desk.js";
import { check } from "./explain.js";
import { type JsonPath, type RepeatedName, scanJson } from "./json-text.js";
import { type Contents, MIGRATIONS, migrate, type Migration } from "./migrate.js";
import { describeValue, type Problem } from "./problem.js";
import { danglingReferences } from "./references.js";
import { salvage } from "./salvage.js";
import { COLLECTIONS, FORMAT, type Plan, type SetAside, setAsideSchema, VERSION } from "./schema.js";

export interface Report {
  readonly problems: readonly Problem[];
  /** Everything that is kept but not in use, also of earlier readings; the same as the plan's `setAside`. */
  readonly setAside: readonly SetAside[];
  /** Version the file was written in, where it says one. */
  readonly version: number | undefined;
  /** Steps that brought an older file to this version. */
  readonly migrated: readonly Migration[];
  /** A newer version wrote the file: show it, but do not save over it, for what is not understood may be lost. */
  readonly readOnly: boolean;
}

export type ReadResult =
  | { readonly ok: true; readonly plan: Plan; readonly report: Report }
  | { readonly ok: false; readonly report: Report };

export interface ReadOptions {
  readonly migrations?: readonly Migration[];
  /** Version to read as; for trying migrations. */
  readonly version?: number;
}

/** Longest text read, in characters; a plan of 5,000 tracks has about 2 million. */
export const MOST_TEXT = 20_000_000;

/** Reads the text of a plan file; `file` is its name, for the problems. */
export function readPlan(text: string, file = "plan", options: ReadOptions = {}): ReadResult {
  const desk = new Desk(file);
  const opened = openText(text, desk);
  const newest = options.version ?? VERSION;
  const older = opened && opened.version < newest;
  const migrated = older
    ? migrate(opened.contents, opened.version, newest, options.migrations ?? MIGRATIONS)
    : undefined;
  const report: Report = {
    problems: desk.problems,
    setAside: desk.setAside,
    version: opened?.version,
    migrated: migrated?.ok ? migrated.applied : [],
    readOnly: opened !== undefined && opened.version > newest,
  };
  if (opened === undefined) return { ok: false, report };
  if (migrated?.ok === false) {
    desk.error(["version"], migrated.message);
    return { ok: false, report };
  }
  if (report.readOnly) {
    const newer = `version ${opened.version} is newer than ${newest}, the newest known here`;
    desk.warn(["version"], `${newer}; what is understood is shown, read only`);
  }
  const contents = migrated?.contents ?? opened.contents;
  takeOverSetAside(contents["setAside"], desk);
  const plan = salvage(contents, desk);
  if (plan === undefined) return { ok: false, report };
  remarks(plan, desk);
  return { ok: true, plan, report };
}

interface Opened {
  readonly contents: Contents;
  readonly version: number;
}

/** The contents of a text that is a plan file of some version, made safe; undefined where it is none, and why on the desk. */
function openText(text: string, desk: Desk): Opened | undefined {
  const refuse = (path: JsonPath, message: string): undefined => {
    desk.error(path, message);
  };
  if (text.length > MOST_TEXT) {
    return refuse([], `${text.length} characters is too much for a plan; at most ${MOST_TEXT} are read`);
  }
  const bare = text.startsWith("\uFEFF") ? text.slice(1) : text;
  const scan = scanJson(bare);
  if (!scan.ok) return refuse(scan.path, `line ${scan.line}, column ${scan.column}: ${scan.message}`);
  const parsed: unknown = JSON.parse(bare);
  if (!isObject(parsed)) return refuse([], `expected a plan, found ${describeValue(parsed)}`);
  const format = own(parsed, "format");
  if (format !== FORMAT) {
    return refuse(["format"], `expected "${FORMAT}", found ${describeValue(format)}: this is no plan file`);
  }
  const version = own(parsed, "version");
  if (typeof version !== "number" || !Number.isSafeInteger(version) || version < 1) {
    return refuse(["version"], `expected a whole number from 1, found ${describeValue(version)}`);
  }
  const takenOut: TakenOut[] = [];
  const cleaned = clean(takeOver(parsed, bare, scan.repeated, desk), takenOut);
  for (const { path, value } of takenOut) {
    const message = "this name has a meaning of its own in programs and cannot be used";
    desk.setAsideValue(path, value, [{ path: [], message }]);
  }
  return { contents: isObject(cleaned) ? cleaned : {}, version };
}

/**
 * Puts back what JSON.parse dropped because its name came again. Of a collection given twice the records are joined;
 * anything else is set aside, the later one being in use.
 */
function takeOver(parsed: Contents, text: string, repeated: readonly RepeatedName[], desk: Desk): Contents {
  const joined = new Map<string, Map<string, unknown>>();
  const setAside = (path: JsonPath, value: unknown): void =>
    desk.setAsideValue(path, value, [{ path: [], message: "is given twice; the later one is used" }], "warning");
  for (const { path, from, to } of repeated) {
    const value: unknown = JSON.parse(text.slice(from, to));
    const key = COLLECTIONS.find((name) => name === path[0]);
    const later = own(parsed, key ?? "");
    if (path.length > 1 || key === undefined || !isObject(value) || !isObject(later)) {
      setAside(path, value);
      continue;
    }
    desk.warn(path, "is given twice; the records of both are used");
    const records = joined.get(key) ?? new Map(Object.entries(later));
    joined.set(key, records);
    for (const [id, record] of Object.entries(value)) {
      if (records.has(id)) setAside([...path, id], record);
      else records.set(id, record);
    }
  }
  const changed = [...joined].map(([key, records]) => [key, Object.fromEntries(records)] as const);
  return { ...parsed, ...Object.fromEntries(changed) };
}

function takeOverSetAside(found: unknown, desk: Desk): void {
  if (found === undefined) return;
  if (!Array.isArray(found)) {
    desk.setAsideValue(["setAside"], found, [{ path: [], message: "expected a list" }]);
    return;
  }
  for (const [i, entry] of found.entries()) {
    const result = check(setAsideSchema, entry);
    if (result.ok) desk.setAsideBefore(result.value);
    else desk.setAsideValue(["setAside", i], entry, result.faults);
  }
}

/** What can stand but leads nowhere or says too little. */
function remarks(plan: Plan, desk: Desk): void {
  for (const { from, property, to } of danglingReferences(plan)) {
    desk.warn([from.collection, from.id, ...property.split(".")], `there is no ${to.collection}.${to.id}`);
  }
  if (plan.option !== undefined && !hasRecord(plan, { collection: "options", id: plan.option })) {
    desk.warn(["option"], `there is no options.${plan.option}`);
  }
  for (const [id, { number, template }] of Object.entries(plan.turnouts)) {
    if (number === undefined && template === undefined)
      desk.warn(["turnouts", id, "number"], "has neither frog number nor template");
    if (number !== undefined && template !== undefined)
      desk.warn(["turnouts", id, "number"], "has a frog number and a template; the template is used");
  }
  const walls = plan.room.outline.length;
  const wall = (path: readonly string[], n: number): void => {
    if (n >= walls) desk.warn(path, `there is no wall ${n}; the room has walls 0 to ${walls - 1}`);
  };
  for (const [id, opening] of Object.entries(plan.room.openings)) wall(["room", "openings", id, "wall"], opening.wall);
  for (const [id, { shape }] of Object.entries(plan.benches)) {
    if (!("shelf" in shape)) continue;
    wall(["benches", id, "shape", "shelf", "from", "wall"], shape.shelf.from.wall);
    wall(["benches", id, "shape", "shelf", "to", "wall"], shape.shelf.to.wall);
  }
}
