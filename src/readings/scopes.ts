/** Scopes of readings of one rule that are named after tracks: the id, and from the second of a name on with a number. */
export function numbered(ids: readonly string[]): string[] {
  const met = new Map<string, number>();
  return ids.map((id) => {
    const count = (met.get(id) ?? 0) + 1;
    met.set(id, count);
    return count === 1 ? id : `${id}/${count}`;
  });
}
