/**
 * The least correction that meets a few linear conditions.
 * Always holds: a correction returned meets the conditions it was given, as far as they are independent in double precision.
 */

/** A pivot below this is rounding, not a condition. */
const NO_PIVOT = 1e-300;

/**
 * The smallest x (Euclidean) with A x = b, for fewer conditions (rows of A) than unknowns: x = A' (A A')^-1 b.
 * Undefined when the rows depend on one another.
 */
export function leastCorrection(rows: readonly (readonly number[])[], b: readonly number[]): number[] | undefined {
  const m = rows.length;
  const work = rows.map((r, i) => [...rows.map((q) => r.reduce((sum, v, j) => sum + v * (q[j] ?? 0), 0)), b[i] ?? 0]);
  const at = (i: number, j: number) => work[i]?.[j] ?? 0;
  for (let col = 0; col < m; col++) {
    let pivot = col;
    for (let i = col + 1; i < m; i++) if (Math.abs(at(i, col)) > Math.abs(at(pivot, col))) pivot = i;
    const top = work[pivot];
    if (!top || !(Math.abs(top[col] ?? 0) > NO_PIVOT)) return undefined;
    [work[pivot], work[col]] = [work[col] ?? [], top];
    for (let i = 0; i < m; i++) {
      if (i === col) continue;
      const factor = at(i, col) / at(col, col);
      work[i] = (work[i] ?? []).map((v, j) => v - factor * at(col, j));
    }
  }
  const y = rows.map((_, i) => at(i, m) / at(i, i));
  const x = (rows[0] ?? []).map((_, j) => rows.reduce((sum, r, i) => sum + (r[j] ?? 0) * (y[i] ?? 0), 0));
  return x.every(Number.isFinite) ? x : undefined;
}
