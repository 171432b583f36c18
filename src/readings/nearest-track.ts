/**
 * The track one comes to first behind a fascia: track that lies on the deck and is meant to be seen. What was found is
 * kept from layout to layout; after an edit only lines of view that cross what changed are looked along again.
 *
 * Always holds: an answer kept is the one looking again would give; while none was dropped, `answers` is the same object.
 */
import { offsetPoint } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { LineOfView } from "../layout/fascia-views.js";
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import { linesNear } from "../layout/line-boxes.js";
import { RUN, runsOf } from "../layout/meetings-runs.js";
import { ON_DECK } from "../layout/on-deck.js";
import { heightAt, type Profile } from "../layout/profile.js";
import { type Carried, carry } from "./carry.js";
import type { DeckBench } from "./deck-benches.js";
import { hiddenAt } from "./hidden-places.js";
import { type LineContexts, lineContexts } from "./line-context.js";

export interface NearestTrack {
  /** Another object where an answer given before may not hold any more. */
  readonly answers: object;
  /** How far behind the fascia of a view its first track is; undefined where there is none. */
  readonly behind: (own: DeckBench, view: LineOfView) => Millimetres | undefined;
}

interface Box {
  readonly minX: Millimetres;
  readonly minY: Millimetres;
  readonly maxX: Millimetres;
  readonly maxY: Millimetres;
}

interface Answer extends Box {
  readonly nearest: Millimetres | undefined;
}

type Answers = Map<LineOfView, Answer>;

interface Found extends NearestTrack {
  readonly contexts: LineContexts;
  readonly answers: Answers;
}

/** More changed lines than this are not held against every view. */
const FEW_LINES = 60;
/** Answers about views that are gone are let go with all others once there are so many; more than any layout has views. */
const MOST_ANSWERS = 200_000;
/** After so many questions lines are looked for in a tree. */
const FEW_QUESTIONS = 40;

export const nearestTracks: (layout: Layout) => NearestTrack = carry(
  (layout: Layout, last: Carried<Found> | undefined): Found => {
    const contexts = lineContexts(layout);
    // A view of benches that changed is another view.
    const before = last?.layout.plan.decks === layout.plan.decks ? last : undefined;
    const changed = before && changedLines(before, layout, contexts);
    const answers: Answers = before && changed ? keptAnswers(before.value.answers, changed) : new Map();
    let questions = 0;
    const near = (box: Box): Iterable<Line> =>
      ++questions > FEW_QUESTIONS ? linesNear(layout, box) : linesIn(layout, box);
    const behind = (own: DeckBench, view: LineOfView): Millimetres | undefined => {
      const known = answers.get(view);
      if (known) return known.nearest;
      const box = boxOf(view);
      let nearest: Millimetres | undefined;
      for (const line of near(box)) {
        const profile = layout.profiles.get(line.key);
        if (profile) nearest = nearestOn(layout, line, profile, own.deck.height, view, box, nearest);
      }
      answers.set(view, { ...box, nearest });
      return nearest;
    };
    return { contexts, answers, behind };
  },
);

/** Boxes of lines before and after of those that lie otherwise, at other heights, or are hidden elsewhere. */
function changedLines(last: Carried<Found>, layout: Layout, contexts: LineContexts): readonly Box[] | undefined {
  const changed = changedKeys(last.value.contexts, contexts);
  const hidden = hiddenOtherwise(last.layout, layout);
  if (!changed || changed.size + hidden.size > FEW_LINES) return undefined;
  const boxes: Box[] = [];
  for (const key of new Set([...changed, ...hidden])) {
    const [was, is] = [last.value.contexts.get(key), contexts.get(key)];
    if (was?.line === is?.line && was?.heights === is?.heights && !hidden.has(key)) continue;
    for (const context of [was, is]) {
      if (!context) continue;
      const [minX, minY, maxX, maxY] = runsOf(context.line).bounds;
      boxes.push({ minX, minY, maxX, maxY });
    }
  }
  return boxes;
}

/** Lines of stretches that came into hiding or out of it. */
function hiddenOtherwise({ hidden: before }: Layout, { hidden: after }: Layout): ReadonlySet<LineKey> {
  if (before === after) return new Set();
  const [was, is] = [new Set(before), new Set(after)];
  return new Set([...before.filter((h) => !is.has(h)), ...after.filter((h) => !was.has(h))].map(({ line }) => line));
}

function keptAnswers(answers: Answers, changed: readonly Box[]): Answers {
  if (answers.size > MOST_ANSWERS) return new Map();
  if (changed.length === 0) return answers;
  const dropped: LineOfView[] = [];
  for (const [view, answer] of answers) if (changed.some((box) => overlap(box, answer))) dropped.push(view);
  if (dropped.length === 0) return answers;
  const kept = new Map(answers);
  for (const view of dropped) kept.delete(view);
  return kept;
}

const overlap = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && a.maxX >= b.minX && a.minY <= b.maxY && a.maxY >= b.minY;

function* linesIn({ lines }: Layout, { minX, minY, maxX, maxY }: Box): Generator<Line> {
  for (const line of lines.values()) {
    const { bounds } = runsOf(line);
    if (bounds[0] <= maxX && bounds[2] >= minX && bounds[1] <= maxY && bounds[3] >= minY) yield line;
  }
}

function boxOf({ pose, depth }: LineOfView): Box {
  const end = offsetPoint(pose, depth, 0);
  return {
    minX: Math.min(pose.x, end.x),
    minY: Math.min(pose.y, end.y),
    maxX: Math.max(pose.x, end.x),
    maxY: Math.max(pose.y, end.y),
  };
}

/** The nearest place at which a line crosses a view, on the deck and not hidden, if nearer than one that is known. */
function nearestOn(
  layout: Layout,
  line: Line,
  profile: Profile,
  deckHeight: Millimetres,
  { pose, depth }: LineOfView,
  box: Box,
  known: Millimetres | undefined,
): Millimetres | undefined {
  const { count, s, x, y } = line.samples;
  const { boxes, count: runs } = runsOf(line);
  const [cos, sin] = [Math.cos(pose.heading), Math.sin(pose.heading)];
  let nearest = known;
  for (let r = 0; r < runs; r++) {
    if ((boxes[4 * r] ?? 0) > box.maxX || (boxes[4 * r + 2] ?? 0) < box.minX) continue;
    if ((boxes[4 * r + 1] ?? 0) > box.maxY || (boxes[4 * r + 3] ?? 0) < box.minY) continue;
    const last = Math.min(count - 1, (r + 1) * RUN);
    let [dx, dy] = [(x[r * RUN] ?? 0) - pose.x, (y[r * RUN] ?? 0) - pose.y];
    let left = -dx * sin + dy * cos;
    for (let i = r * RUN + 1; i <= last; i++) {
      const [fromX, fromY, fromLeft] = [dx, dy, left];
      dx = (x[i] ?? 0) - pose.x;
      dy = (y[i] ?? 0) - pose.y;
      left = -dx * sin + dy * cos;
      if (fromLeft <= 0 === left <= 0) continue;
      const share = fromLeft / (fromLeft - left);
      const ahead = fromX * cos + fromY * sin;
      const at = ahead + share * (dx * cos + dy * sin - ahead);
      if (at < 0 || at > depth || (nearest !== undefined && at >= nearest)) continue;
      const [from, to] = [s[i - 1] ?? 0, s[i] ?? 0];
      const here = from + share * (to - from);
      if (Math.abs(heightAt(profile, here) - deckHeight) > ON_DECK || hiddenAt(layout, line, here)) continue;
      nearest = at;
    }
  }
  return nearest;
}
