/**
 * Track under decks: the clear height from a railhead to the underside of each deck whose bench is above it. Where a
 * track goes down from a deck, or comes up to it, the deck is open above it from there until the clearance is reached;
 * a place that is short of it without coming out at the deck is measured.
 */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import { heightAt, type Profile } from "../layout/profile.js";
import type { Deck } from "../plan/schema.js";
import { ON_DECK } from "../layout/on-deck.js";
import type { DeckBenches } from "./deck-benches.js";
import { joinedEnds } from "./joined-ends.js";
import { foundByLine, type LineContext } from "./line-context.js";
import { rememberPair } from "./remember.js";
import type { Measured } from "./rule.js";

/** Part of a line under a deck, sample by sample, short of the clearance throughout or nowhere. */
interface Passage {
  readonly short: boolean;
  readonly first: number;
  readonly last: number;
  /** It comes out at the deck at one of its ends. */
  readonly surfaces: boolean;
  /** The least clear height where the bench is overhead. */
  readonly worst: { readonly value: Millimetres; readonly s: Millimetres } | undefined;
}

/** The worst place of every line under every deck above it; `enough` is the clearance with the plan's margin. */
export function decksOverTrack(layout: Layout, benches: DeckBenches, enough: Millimetres): Measured[] {
  const byLine = passagesByLine(layout, benches, enough);
  return benches.flatMap((deck, n) => {
    /** Of lines that are short of the clearance somewhere: only there does it matter what is open. */
    const short = new Map<LineKey, readonly Passage[]>();
    for (const { line, under } of byLine) {
      const own = under[n];
      if (own?.short === true) short.set(line.key, own.passages);
    }
    const open = openCuts(layout, short);
    const found: Measured[] = [];
    for (const { line, under } of byLine) {
      const own = under[n];
      if (own?.short !== true) {
        if (own?.worst) found.push(own.worst);
        continue;
      }
      const worst = worstOf(own.passages.filter((p) => !(p.short && open.has(p))));
      if (worst) found.push({ ...worst, line, note: noteOf(deck.deck) });
    }
    return found;
  });
}

const noteOf = ({ name }: Deck): string => `under ${name}`;

const worstOf = (passages: readonly Passage[]): Passage["worst"] =>
  passages.reduce<Passage["worst"]>((a, { worst }) => (!worst || (a && a.value <= worst.value) ? a : worst), undefined);

interface Under {
  readonly passages: readonly Passage[];
  /** Whether one of them is short of the clearance. */
  readonly short: boolean;
  readonly worst: Measured | undefined;
}

const NOT_UNDER: Under = { passages: [], short: false, worst: undefined };

/** Passages of a line under each of the decks. */
const passagesByLine = foundByLine(({ line, heights }: LineContext, benches: DeckBenches, enough: Millimetres) => ({
  line,
  under: benches.map(({ deck, bench }): Under => {
    const passages = heights ? findPassages(heights, line, deck, bench, enough) : [];
    if (passages.length === 0) return NOT_UNDER;
    const worst = worstOf(passages);
    const short = passages.some((passage) => passage.short);
    return { passages, short, worst: worst && { ...worst, line, note: noteOf(deck) } };
  }),
}));

function findPassages(
  profile: Profile,
  { samples }: Line,
  deck: Deck,
  bench: PreparedArea,
  enough: Millimetres,
): readonly Passage[] {
  const atDeck = Math.max(deck.thickness, ON_DECK);
  // Vertical curves bring nothing lower than its lowest station by more than millimetres.
  if (deck.height - Math.min(...profile.heights) <= atDeck) return [];
  const passages: Passage[] = [];
  let open: { short: boolean; first: number; last: number; surfaces: boolean; worst: Passage["worst"] } | undefined;
  let surfaced = false;
  const close = (surfaces: boolean): void => {
    if (open) passages.push({ ...open, surfaces: open.surfaces || surfaces });
    open = undefined;
  };
  for (let i = 0; i < samples.count; i++) {
    const s = samples.s[i] ?? 0;
    const depth = deck.height - heightAt(profile, s);
    if (depth <= atDeck) {
      close(true);
      surfaced = true;
      continue;
    }
    const value = depth - deck.thickness;
    const short = value < enough;
    if (open && open.short !== short) close(false);
    open ??= { short, first: i, last: i, surfaces: surfaced, worst: undefined };
    surfaced = false;
    open.last = i;
    if (open.worst && value >= open.worst.value) continue;
    if (bench.contains({ x: samples.x[i] ?? 0, y: samples.y[i] ?? 0 })) open.worst = { value, s };
  }
  close(false);
  return passages;
}

/** Short passages that come out at the deck, themselves or by way of others they are joined to. */
function openCuts(layout: Layout, passages: ReadonlyMap<LineKey, readonly Passage[]>): Set<Passage> {
  const open = new Set<Passage>();
  const owner = new Map<Passage, Line>();
  const queue: Passage[] = [];
  const add = (passage: Passage | undefined, line: Line | undefined): void => {
    if (!passage?.short || !line || open.has(passage)) return;
    open.add(passage);
    owner.set(passage, line);
    queue.push(passage);
  };
  for (const [key, own] of passages) for (const p of own) if (p.surfaces) add(p, layout.lines.get(key));
  if (open.size === 0) return open;
  const routes = routesByHost(layout.turnouts, layout.slips);
  const at = (line: Line, s: Millimetres): Passage | undefined =>
    passages.get(line.key)?.find((p) => sampleS(line, p.first - 1) <= s && s <= sampleS(line, p.last + 1));
  for (let passage = queue.pop(); passage; passage = queue.pop()) {
    const line = owner.get(passage);
    if (!line) continue;
    for (const { end, other, otherEnd } of joinedEnds(layout, line)) {
      const reaches = end === "start" ? passage.first === 0 : passage.last === line.samples.count - 1;
      const own = passages.get(other.key);
      if (reaches)
        add(otherEnd === "start" ? own?.find((p) => p.first === 0) : own?.findLast((p) => endsAtEnd(p, other)), other);
    }
    const slip = line.kind === "slip" ? layout.slips.get(line.id)?.routes.find((r) => r.line === line.key) : undefined;
    for (const end of slip ? (["start", "end"] as const) : []) {
      const track = slip && layout.lines.get(slip[end].line);
      const reaches = end === "start" ? passage.first === 0 : endsAtEnd(passage, line);
      if (slip && track && reaches) add(at(track, slip[end].s), track);
    }
    const turnout = line.kind === "turnout" ? layout.turnouts.get(line.id) : undefined;
    const host = turnout && layout.lines.get(turnout.host);
    if (turnout && host && passage.first === 0) add(at(host, turnout.departs), host);
    for (const { departs, route: key, end } of routes.get(line.key) ?? []) {
      const own = passages.get(key);
      const route = layout.lines.get(key);
      if (route && at(line, departs) === passage)
        add(end === "start" ? own?.find((p) => p.first === 0) : own?.findLast((p) => endsAtEnd(p, route)), route);
    }
  }
  return open;
}

const endsAtEnd = (p: Passage, line: Line): boolean => p.last === line.samples.count - 1;

function sampleS({ samples, path }: Line, i: number): Millimetres {
  return i < 0 ? 0 : (samples.s[i] ?? path.length);
}

/** A route of a turnout or slip, where it leaves the track it lies on, and by which of its ends. */
interface Leaving {
  readonly departs: Millimetres;
  readonly route: LineKey;
  readonly end: "start" | "end";
}

const routesByHost = rememberPair((turnouts: Layout["turnouts"], slips: Layout["slips"]): Map<LineKey, Leaving[]> => {
  const result = new Map<LineKey, Leaving[]>();
  const leaves = (host: LineKey, departs: Millimetres, route: LineKey, end: "start" | "end"): void => {
    const own = result.get(host);
    if (own) own.push({ departs, route, end });
    else result.set(host, [{ departs, route, end }]);
  };
  for (const { host, departs, routes } of turnouts.values()) {
    for (const { line } of routes) leaves(host, departs, line, "start");
  }
  for (const { routes } of slips.values()) {
    for (const { line, start, end } of routes) {
      leaves(start.line, start.s, line, "start");
      leaves(end.line, end.s, line, "end");
    }
  }
  return result;
});
