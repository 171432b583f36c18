/** What changed between two maps of the same keys, told by identity. */

const NONE: ReadonlySet<never> = new Set<never>();

const known = new WeakMap<object, { readonly before: object; readonly changed: ReadonlySet<unknown> | undefined }>();

/**
 * Keys whose values are not the objects they were; undefined where keys came, went or changed places. The last answer
 * about a map is kept, since many ask it one after another.
 */
export function changedKeys<K, V>(before: ReadonlyMap<K, V>, after: ReadonlyMap<K, V>): ReadonlySet<K> | undefined {
  if (before === after) return NONE;
  const last = known.get(after);
  if (last?.before === before) return last.changed as ReadonlySet<K> | undefined;
  const changed = compared(before, after);
  known.set(after, { before, changed });
  return changed;
}

function compared<K, V>(before: ReadonlyMap<K, V>, after: ReadonlyMap<K, V>): ReadonlySet<K> | undefined {
  if (before.size !== after.size) return undefined;
  const changed = new Set<K>();
  const others = before.entries();
  for (const [key, value] of after) {
    const other = others.next().value;
    if (!other || other[0] !== key) return undefined;
    if (other[1] !== value) changed.add(key);
  }
  return changed;
}
