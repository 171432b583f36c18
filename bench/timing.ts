/** Time as a program's user feels it: milliseconds of this thread, by the wall clock. */
export interface Spread {
  readonly median: number;
  readonly p95: number;
}

export function timed(work: () => void): number {
  const begin = performance.now();
  work();
  return performance.now() - begin;
}

/** Share of the values, in order, that lies below: 0.5 for the median. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

export const spread = (values: readonly number[]): Spread => ({
  median: quantile(values, 0.5),
  p95: quantile(values, 0.95),
});

/** The median of several runs; the program's own warming up is left out. */
export function medianOf(runs: number, work: () => void, warmUp = 1): number {
  for (let i = 0; i < warmUp; i++) work();
  return quantile(
    Array.from({ length: runs }, () => timed(work)),
    0.5,
  );
}
