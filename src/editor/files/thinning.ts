/**
 * Which versions of a plan stay as time goes by: every one in the last minutes, then fewer and fewer.
 *
 * Always holds: what somebody named, saved or what was set aside stays; so do the first and the last of all, and the
 * oldest and the newest of every span; of automatic ones never more than `MOST_AUTOMATIC` stay; what stays once would
 * stay if asked again. The order is that of the numbers, whatever the clock said: a clock that was wrong ages a version
 * wrongly and does no other harm.
 */
import type { VersionEntry } from "./shelf.js";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** Up to an age, versions are told apart by spans of a length. The last holds without end. */
export const SPANS: readonly { readonly upTo: number; readonly span: number }[] = [
  { upTo: HOUR, span: 5 * MINUTE },
  { upTo: DAY, span: HOUR },
  { upTo: 31 * DAY, span: DAY },
  { upTo: 3660 * DAY, span: 91 * DAY },
  { upTo: Number.POSITIVE_INFINITY, span: Number.POSITIVE_INFINITY },
];

/** Two a span, and spans are cut at both ends; `versions` hold no more, so the bound follows from the rule. */
export const MOST_AUTOMATIC =
  2 * SPANS.reduce((sum, { upTo, span }, i) => sum + spansIn(SPANS[i - 1]?.upTo ?? 0, upTo, span), 0);

function spansIn(from: number, to: number, span: number): number {
  return Number.isFinite(to) ? Math.ceil((to - from) / span) + 1 : 1;
}

type Aged = Pick<VersionEntry, "number" | "at" | "kind">;

export const isKeptForGood = ({ kind }: Pick<VersionEntry, "kind">): boolean =>
  kind !== "automatic" && kind !== "opened";

/** The numbers of those that may go; the order given does not matter. */
export function thinned(versions: readonly Aged[]): number[] {
  const inOrder = [...versions].sort((a, b) => a.number - b.number);
  const newest = inOrder.at(-1);
  if (!newest) return [];
  // Nothing is younger than what came after it: times from a clock that ran ahead are pulled back.
  const times: number[] = [];
  let latest = Number.POSITIVE_INFINITY;
  for (const { at } of inOrder.toReversed()) times.push((latest = Math.min(latest, Number.isFinite(at) ? at : 0)));
  times.reverse();
  const now = times.at(-1) ?? 0;
  const spans = new Map<string, Aged[]>();
  inOrder.forEach((version, i) => {
    if (isKeptForGood(version)) return;
    const key = spanOf(times[i] ?? 0, now);
    const there = spans.get(key);
    if (there) there.push(version);
    else spans.set(key, [version]);
  });
  return [...spans.values()].flatMap((span) => span.slice(1, -1).map(({ number }) => number)).sort((a, b) => a - b);
}

function spanOf(at: number, now: number): string {
  const level = SPANS.findIndex(({ upTo }) => now - at < upTo);
  const span = SPANS[level]?.span ?? Number.POSITIVE_INFINITY;
  return `${level} ${Number.isFinite(span) ? Math.floor(at / span) : 0}`;
}
