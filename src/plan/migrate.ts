/**
 * Brings the contents of an older plan file to a newer version, one numbered step after another. Steps work on what was
 * read from the file, before it is checked, so they must take anything and leave what they do not understand.
 */
export type Contents = Readonly<Record<string, unknown>>;

export interface Migration {
  /** Brings version `to - 1` to version `to`. */
  readonly to: number;
  /** What changed, for people. */
  readonly what: string;
  readonly step: (contents: Contents) => Contents;
}

/** In order. Version 1 is the first, so nothing leads to it; never change a step that was released. */
export const MIGRATIONS: readonly Migration[] = [];

export type Migrated =
  | { readonly ok: true; readonly contents: Contents; readonly applied: readonly Migration[] }
  | { readonly ok: false; readonly message: string };

/**
 * Contents of version `from` as version `to`, with `version` set. Fails as a value where a step is missing or gives up;
 * the contents handed in are left as they are.
 */
export function migrate(contents: Contents, from: number, to: number, migrations = MIGRATIONS): Migrated {
  const applied: Migration[] = [];
  let current = contents;
  for (let version = from + 1; version <= to; version += 1) {
    const migration = migrations.find((candidate) => candidate.to === version);
    if (migration === undefined)
      return { ok: false, message: `nothing leads from version ${version - 1} to ${version}` };
    try {
      current = { ...migration.step(current), version };
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return { ok: false, message: `could not be brought from version ${version - 1} to ${version}: ${why}` };
    }
    applied.push(migration);
  }
  return { ok: true, contents: current, applied };
}
