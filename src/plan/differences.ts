/**
 * How one plan differs from another, told record by record by what is in them: for two files of one railway, whose
 * records are matched by id.
 *
 * Always holds: a plan does not differ from itself, nor from a copy of it; what is added seen from one side is removed
 * seen from the other.
 */
import { planChanges } from "./changes.js";
import { RECORD_NAMES, spokenName } from "./collections.js";
import type { Collection, Id, Plan, Setting, Standards } from "./schema.js";
import type { SettingPath } from "./setting-edits.js";
import { sharing } from "./sharing.js";

export interface RecordDifference {
  /** `tracks.larkmoor-main`, `room.openings.door`. */
  readonly record: string;
  /** `track Larkmoor main`. */
  readonly name: string;
  /** Properties that differ, as `legs`; none for a record that came or went. */
  readonly properties: readonly string[];
  /** Nothing differs but where it lies. */
  readonly moved: boolean;
}

export interface SettingDifference {
  readonly path: SettingPath;
  readonly before: Setting<unknown> | undefined;
  readonly after: Setting<unknown> | undefined;
}

export interface PlanDifferences {
  readonly added: readonly RecordDifference[];
  readonly removed: readonly RecordDifference[];
  readonly changed: readonly RecordDifference[];
  readonly settings: readonly SettingDifference[];
  /** Other properties of the plan that differ: `title`, `room.outline`. */
  readonly properties: readonly string[];
}

/** Properties that say where a record lies and nothing else of it. */
const PLACE: Readonly<Record<string, readonly string[]>> = {
  tracks: ["start"],
  turnouts: ["on", "at"],
  slips: ["on", "at", "across"],
  turntables: ["on", "end"],
  pins: ["track", "at"],
  benches: ["shape"],
  backdrops: ["line"],
  gates: ["outline"],
  labels: ["at", "heading"],
  "room.openings": ["wall", "at"],
  "room.obstacles": ["outline"],
};

export function planDifferences(before: Plan, after: Plan): PlanDifferences {
  const shared = sharing(before, after);
  const { added, removed, updated, properties } = planChanges(before, shared);
  const of = (plan: Plan, collection: Collection, id: Id, changes: readonly string[] = []): RecordDifference =>
    difference(collection, id, `${RECORD_NAMES[collection]} ${spokenName(plan, { collection, id })}`, changes);
  const parts = { added: [], removed: [], changed: [] } as Parts;
  for (const collection of ["openings", "obstacles"] as const) roomParts(parts, collection, before, shared);
  const room = (["outline", "ceiling"] as const).filter((key) => before.room[key] !== shared.room[key]);
  return {
    added: [...added.map(({ collection, id }) => of(shared, collection, id)), ...parts.added],
    removed: [...removed.map(({ collection, id }) => of(before, collection, id)), ...parts.removed],
    changed: [
      ...updated.map(({ collection, id }) =>
        of(shared, collection, id, keysThatDiffer(before[collection][id], shared[collection][id])),
      ),
      ...parts.changed,
    ],
    settings: settingDifferences(before.standards, shared.standards),
    properties: [
      ...properties.filter((key) => key !== "room" && key !== "standards"),
      ...room.map((key) => `room.${key}`),
      ...(before.standards.body === shared.standards.body ? [] : ["standards.body"]),
    ],
  };
}

interface Parts {
  readonly added: RecordDifference[];
  readonly removed: RecordDifference[];
  readonly changed: RecordDifference[];
}

function roomParts(parts: Parts, collection: "openings" | "obstacles", before: Plan, after: Plan): void {
  const was = before.room[collection];
  const is = after.room[collection];
  for (const id of new Set([...Object.keys(is), ...Object.keys(was)])) {
    const [old, now] = [was[id], is[id]];
    if (old === now) continue;
    const shown = now ?? old;
    const kind = shown && "kind" in shown ? shown.kind : "obstacle";
    const changes = old && now ? keysThatDiffer(old, now) : [];
    const told = difference(`room.${collection}`, id, `${kind} ${shown?.name ?? id}`, changes);
    parts[old ? (now ? "changed" : "removed") : "added"].push(told);
  }
}

const difference = (collection: string, id: Id, name: string, properties: readonly string[]): RecordDifference => ({
  record: `${collection}.${id}`,
  name,
  properties,
  moved: properties.length > 0 && properties.every((key) => PLACE[collection]?.includes(key)),
});

function keysThatDiffer(before: object | undefined, after: object | undefined): string[] {
  if (!before || !after) return [];
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (key) => Reflect.get(before, key) !== Reflect.get(after, key),
  );
}

function settingDifferences(before: Standards, after: Standards): SettingDifference[] {
  const was = settingsIn(before);
  const is = settingsIn(after);
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((path) => {
    const [old, now] = [was.get(path), is.get(path)];
    return old === now ? [] : [{ path, before: old, after: now }];
  });
}

function settingsIn({ classes, body: _body, ...plain }: Standards): Map<SettingPath, Setting<unknown>> {
  const all = new Map<SettingPath, Setting<unknown>>();
  const add = (path: string, value: unknown): void => {
    if (typeof value === "object" && value !== null && "value" in value && "source" in value)
      all.set(path as SettingPath, value as Setting<unknown>);
  };
  for (const [trackClass, limits] of Object.entries(classes))
    for (const [key, value] of Object.entries(limits ?? {})) add(`classes.${trackClass}.${key}`, value);
  for (const [key, value] of Object.entries(plain)) add(key, value);
  return all;
}
