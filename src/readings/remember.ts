/**
 * Remembering what was computed for objects that never change. Layouts keep lines, profiles and meetings that did not
 * change as the objects they were, so a reading after a small edit computes only what is new.
 *
 * Always holds: a remembered answer is the one computing would give; what nobody holds any more is forgotten.
 */

/** Remembers what was computed for an object. */
export function remember<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, { readonly value: V }>();
  return (key) => {
    const before = known.get(key);
    if (before) return before.value;
    const value = compute(key);
    known.set(key, { value });
    return value;
  };
}

/** Remembers what was computed for two objects together; of the partners of the first only the last. */
export function rememberPair<A extends object, B extends object, V>(compute: (a: A, b: B) => V): (a: A, b: B) => V {
  const known = new WeakMap<A, { readonly partner: B; readonly value: V }>();
  return (a, b) => {
    const last = known.get(a);
    if (last?.partner === b) return last.value;
    const value = compute(a, b);
    known.set(a, { partner: b, value });
    return value;
  };
}

/** Remembers for an object the last answer, as long as what is given beside it stays the same (objects by identity). */
export function rememberBeside<K extends object, D extends readonly unknown[], V>(
  compute: (key: K, ...beside: D) => V,
): (key: K, ...beside: D) => V {
  const known = new WeakMap<K, { readonly beside: D; readonly value: V }>();
  return (key, ...beside) => {
    const last = known.get(key);
    if (last && sameItems(last.beside, beside)) return last.value;
    const value = compute(key, ...beside);
    known.set(key, { beside, value });
    return value;
  };
}

/** Whether two lists hold the same items in the same order. */
export const sameItems = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((item, i) => Object.is(item, b[i]));
