/** What people call places on a layout: a track, `track@mm`, a label on the sheet, or a deck. */
import type { Point } from "../geometry/pose.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Layout } from "./layout.js";
import type { Line, LineKey, LinePlace } from "./line.js";
import { recordsInHand } from "./options.js";
import { heightAt, straightHeightAt } from "./profile.js";

/** Track this near a deck's height belongs to the deck's level; well below the thickness of a shim. */
const AT_DECK_HEIGHT = 0.5;

const spoken = (text: string): string => text.trim().toLowerCase();

/** Id of the record called `name`: by id first, then by name in any case. */
function named(records: Readonly<Record<Id, { readonly name?: string | undefined }>>, name: string): Id | undefined {
  if (Object.hasOwn(records, name)) return name;
  return Object.keys(records).find((id) => spoken(records[id]?.name ?? "") === spoken(name));
}

/** The deck called `name`, by id first, then by its name in any case. */
export const deckNamed = (plan: Plan, name: string): Id | undefined => named(plan.decks, name);

/**
 * The places a name stands for; empty where it names nothing that has track.
 * - a track, by id or name: its middle
 * - `track@mm`: that distance along it, taken into the track
 * - a label, by its text: the places nearest to it of all track about it, on the label's deck where it names one
 * - a deck, by id or name: every station of its track that lies at the deck's height, else every station of its track
 * - a label, by id
 */
export function placesNamed(layout: Layout, name: string): readonly LinePlace[] {
  const { plan } = layout;
  const tracks = Object.fromEntries(recordsInHand(plan, plan.tracks));
  const labels = Object.fromEntries(recordsInHand(plan, plan.labels));
  const at = /^(.*)@\s*(\d+(?:\.\d+)?)\s*$/.exec(name);
  const track = named(tracks, at?.[1]?.trim() ?? name);
  if (track !== undefined) {
    const line = layout.lines.get(`track:${track}`);
    if (!line) return [];
    return [{ line: line.key, s: at ? Math.min(Number(at[2]), line.path.length) : line.path.length / 2 }];
  }
  const written = Object.values(labels).find((label) => spoken(label.text) === spoken(name));
  const deck = written ? undefined : deckNamed(layout.plan, name);
  if (deck !== undefined) return placesOfDeck(layout, deck);
  const label = written ?? (Object.hasOwn(labels, name) ? labels[name] : undefined);
  return label ? placesNear(layout, label.at, label.deck) : [];
}

/** A name on the sheet means the track within this of it, mm: a station's roads lie no further apart. */
const ABOUT = 600;

interface Near extends LinePlace {
  readonly apart: number;
}

/** Of every line (of one deck where it is given) the sampled place nearest to a point of the sheet, nearest line first. */
function nearestOfEach(layout: Layout, point: Point, deck: Id | undefined): Near[] {
  const found: Near[] = [];
  for (const line of layout.lines.values()) {
    if (deck !== undefined && line.deck !== deck) continue;
    const { count, s, x, y } = line.samples;
    let near: Near | undefined;
    for (let i = 0; i < count; i++) {
      const apart = Math.hypot((x[i] ?? 0) - point.x, (y[i] ?? 0) - point.y);
      if (near === undefined || apart < near.apart) near = { line: line.key, s: s[i] ?? 0, apart };
    }
    if (near) found.push(near);
  }
  return found.sort((a, b) => a.apart - b.apart);
}

/** Places of all track about a point; the one nearest place where no track is about it. */
export function placesNear(layout: Layout, point: Point, deck: Id | undefined): readonly LinePlace[] {
  const near = nearestOfEach(layout, point, deck);
  const about = near.filter((place, i) => i === 0 || place.apart <= ABOUT);
  return about.map(({ line, s }) => ({ line, s }));
}

/** Stations of a deck's track: those at the deck's height, or all where none is. */
export function placesOfDeck(layout: Layout, deck: Id): readonly LinePlace[] {
  const all: (LinePlace & { readonly height: number })[] = [];
  for (const line of layout.lines.values()) {
    if (line.deck !== deck) continue;
    for (const s of stationsOf(layout, line)) all.push({ line: line.key, s, height: levelOn(layout, line.key, s) });
  }
  const height = layout.plan.decks[deck]?.height ?? 0;
  const level = all.filter((place) => Math.abs(place.height - height) <= AT_DECK_HEIGHT);
  return (level.length > 0 ? level : all).map(({ line, s }) => ({ line, s }));
}

/** A climb begins at its break of grade, which its vertical curve rounds off: levels are told by the straight grades. */
function levelOn(layout: Layout, line: LineKey, s: number): number {
  const profile = layout.profiles.get(line);
  return profile ? straightHeightAt(profile, s) : 0;
}

function stationsOf(layout: Layout, line: Line): readonly number[] {
  const edges = layout.network.byLine.get(line.key) ?? [];
  const stations = layout.profiles.get(line.key)?.stations ?? [];
  return [...new Set([...edges.flatMap((edge) => [edge.from, edge.to]), ...stations])];
}

/** Railhead above the floor at a place, mm; 0 where the line has no profile. */
export function heightOn(layout: Layout, line: LineKey, s: number): number {
  const profile = layout.profiles.get(line);
  return profile ? heightAt(profile, s) : 0;
}
