/**
 * Structural sharing of plain data, so that identity goes on telling what changed after data has been copied or sent.
 *
 * Always holds: what comes back equals `next` and has its properties in its order; whatever in it equals the part of
 * `before` in the same place is that very part.
 */

/** `next`, made of the parts of `before` it has in common with it; `before` itself where nothing differs. */
export function sharing<T>(before: unknown, next: T): T {
  return shared(before, next) as T;
}

function shared(before: unknown, next: unknown): unknown {
  if (Object.is(before, next)) return before;
  if (typeof before !== "object" || typeof next !== "object" || before === null || next === null) return next;
  if (Array.isArray(next)) {
    if (!Array.isArray(before)) return next;
    const items = next.map((item, i) => shared(before[i], item));
    return items.length === before.length && items.every((item, i) => Object.is(item, before[i])) ? before : items;
  }
  if (Array.isArray(before)) return next;
  const was = Object.entries(before);
  const is = Object.entries(next).map(([key, value]): [string, unknown] => [
    key,
    shared(Object.hasOwn(before, key) ? Reflect.get(before, key) : undefined, value),
  ]);
  const same =
    is.length === was.length && is.every(([key, value], i) => was[i]?.[0] === key && Object.is(value, was[i]?.[1]));
  return same ? before : Object.fromEntries(is);
}
