/** The first few of many in an order, without putting all of them in order. */

/**
 * What sorting all of them and taking the first `most` would give: of items that are equal those that come earlier come
 * first.
 */
export function firstFew<T>(items: Iterable<T>, most: number, order: (a: T, b: T) => number): T[] {
  const few: T[] = [];
  for (const item of items) {
    const last = few[few.length - 1];
    if (few.length === most && (last === undefined || order(item, last) >= 0)) continue;
    let low = 0;
    let high = few.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (order(item, few[middle] as T) < 0) high = middle;
      else low = middle + 1;
    }
    few.splice(low, 0, item);
    if (few.length > most) few.pop();
  }
  return few;
}
