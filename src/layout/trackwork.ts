/**
 * Trackwork: from tracks as legs and turnouts as places on tracks to lines in the plane.
 *
 * Always holds: a line laid from the same figures as before keeps its object; deriving with a previous trackwork gives
 * what deriving from nothing gives, to the last digit; every record in hand has its line or a finding,
 * but for tracks that come to no length.
 */
import { poseAt } from "../geometry/path.js";
import type { Id, Plan } from "../plan/schema.js";
import { affectedBy } from "./affected.js";
import type { GrowingTrack, TrackTrace } from "./growing-track.js";
import type { Finding } from "./layout.js";
import { Laying } from "./laying.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import { makeLine } from "./make-line.js";
import { inOption, recordsInHand } from "./options.js";
import { fail, findingOf, found } from "./outcome.js";
import { type PlacedSlip, placeSlip, sameSlip, type SlipOnTracks } from "./slip.js";
import type { TurnoutOnHost } from "./turnout-on-host.js";
import { deriveTurntables, type PlacedTurntable } from "./turntable.js";

export interface Trackwork {
  readonly plan: Plan;
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly turnouts: ReadonlyMap<Id, PlacedTurnout>;
  readonly slips: ReadonlyMap<Id, PlacedSlip>;
  readonly turntables: ReadonlyMap<Id, PlacedTurntable>;
  readonly traces: ReadonlyMap<Id, TrackTrace>;
  readonly onHosts: ReadonlyMap<Id, TurnoutOnHost>;
  readonly onTracks: ReadonlyMap<Id, SlipOnTracks>;
  readonly findings: readonly Finding[];
  /** Lines laid anew. */
  readonly laid: number;
}

export function deriveTrackwork(plan: Plan, previous?: Trackwork): Trackwork {
  return (previous && trackworkAgain(plan, previous)) ?? trackworkAfresh(plan, previous);
}

/** What is being put together; what comes out as it was is the object it was. */
class Draft {
  readonly findings: Finding[] = [];
  laid = 0;

  constructor(
    readonly plan: Plan,
    readonly laying: Laying,
    readonly previous: Trackwork | undefined,
    readonly lines: Map<LineKey, Line>,
    readonly traces: Map<Id, TrackTrace>,
    readonly onHosts: Map<Id, TurnoutOnHost>,
    readonly turnouts: Map<Id, PlacedTurnout>,
  ) {}

  keep(line: Line): void {
    if (line !== this.previous?.lines.get(line.key)) this.laid++;
    this.lines.set(line.key, line);
  }

  track(id: Id): void {
    const growing = this.laying.track(id);
    if (!growing) return;
    const trace = traceOf(growing, this.previous);
    this.traces.set(id, trace);
    this.findings.push(...trace.findings);
    if (trace.line) this.keep(trace.line);
  }

  turnout(id: Id): void {
    const turnout = this.plan.turnouts[id];
    if (!turnout || !inOption(this.plan, turnout)) return;
    const host = this.laying.track(turnout.on);
    const outcome = this.laying.turnoutOnHost(id);
    if (!outcome.ok) {
      this.findings.push(findingOf(outcome, `turnouts.${id}`, host?.track.deck, host?.end));
      return;
    }
    this.onHosts.set(id, outcome.value);
    this.turnouts.set(id, outcome.value.placed);
    for (const { key, path } of outcome.value.routes) {
      const before = this.previous?.lines.get(key);
      if (!host) continue;
      const same = before?.path === path && before.class === host.track.class && before.deck === host.track.deck;
      this.keep(same ? before : makeLine({ key, kind: "turnout", id, ...placeOf(host) }, path, before));
    }
  }

  /** With slips and turntables, which lie on what is there now. */
  finished(): Trackwork {
    const { plan, previous, lines, traces, onHosts, turnouts, findings } = this;
    const onTracks = laySlips(plan, lines, previous, (line) => this.keep(line), findings);
    const slips = new Map([...onTracks].map(([id, { placed }]) => [id, placed]));
    const { turntables, findings: unfit } = deriveTurntables(plan, lines, previous?.turntables);
    findings.push(...unfit);
    return {
      plan,
      lines: previous && sameValues(previous.lines, lines) ? previous.lines : lines,
      turnouts: previous && sameValues(previous.turnouts, turnouts) ? previous.turnouts : turnouts,
      slips: previous && sameValues(previous.slips, slips) ? previous.slips : slips,
      turntables: previous && sameValues(previous.turntables, turntables) ? previous.turntables : turntables,
      traces,
      onHosts,
      onTracks,
      findings,
      laid: this.laid,
    };
  }
}

function trackworkAfresh(plan: Plan, previous: Trackwork | undefined): Trackwork {
  const laying = new Laying(plan, previous);
  laying.lay(Object.keys(plan.tracks));
  const draft = new Draft(plan, laying, previous, new Map(), new Map(), new Map(), new Map());
  for (const id of Object.keys(plan.tracks)) draft.track(id);
  for (const id of Object.keys(plan.turnouts)) draft.turnout(id);
  return draft.finished();
}

/**
 * The trackwork of before with what an edit affects laid again; undefined where more than that may have changed. Where
 * there is something amiss all is laid afresh, since what a circle of anchors says depends on who asks first.
 */
function trackworkAgain(plan: Plan, previous: Trackwork): Trackwork | undefined {
  const affected = previous.findings.length === 0 ? affectedBy(previous.plan, plan) : undefined;
  if (!affected) return undefined;
  const { lines, traces, onHosts, turnouts } = previous;
  const laying = new Laying(plan, previous);
  laying.lay(affected.tracks);
  const again = [new Map(lines), new Map(traces), new Map(onHosts), new Map(turnouts)] as const;
  const draft = new Draft(plan, laying, previous, ...again);
  for (const id of affected.tracks) draft.track(id);
  for (const id of affected.turnouts) draft.turnout(id);
  const next = draft.finished();
  const sameLines = next.lines.size === lines.size && [...affected.tracks].every((id) => sameLine(id, next, previous));
  return next.findings.length === 0 && sameLines ? next : undefined;
}

/** Whether a track has a line now if and only if it had one. */
const sameLine = (id: Id, now: Trackwork, before: Trackwork): boolean =>
  (now.traces.get(id)?.line === undefined) === (before.traces.get(id)?.line === undefined);

/** Slips lie on tracks that are laid already; nothing is laid from a slip. */
function laySlips(
  plan: Plan,
  lines: ReadonlyMap<LineKey, Line>,
  previous: Trackwork | undefined,
  keep: (line: Line) => void,
  findings: Finding[],
): Map<Id, SlipOnTracks> {
  const onTracks = new Map<Id, SlipOnTracks>();
  const { gauge } = plan.scale;
  for (const [id, slip] of recordsInHand(plan, plan.slips)) {
    const on = lines.get(`track:${slip.on}`);
    const across = lines.get(`track:${slip.across}`);
    const lacking = on ? slip.across : slip.on;
    const before = previous?.onTracks.get(id);
    const outcome =
      !on || !across
        ? fail("anchor-missing", `there is no track ${lacking} for the slip`)
        : before && sameSlip(before, slip, on, across, gauge)
          ? found(before)
          : placeSlip(id, slip, on, across, gauge);
    if (!outcome.ok) {
      const at = on && poseAt(on.path, Math.min(slip.at, on.path.length));
      findings.push(findingOf(outcome, `slips.${id}`, on?.deck ?? across?.deck, at));
      continue;
    }
    onTracks.set(id, outcome.value);
    if (!on) continue;
    for (const { key, path } of outcome.value.paths)
      keep(makeLine({ key, kind: "slip", id, class: on.class, deck: on.deck }, path, previous?.lines.get(key)));
  }
  return onTracks;
}

function sameValues<K, V>(a: ReadonlyMap<K, V>, b: ReadonlyMap<K, V>): boolean {
  if (a.size !== b.size) return false;
  const others = b.entries();
  for (const [key, value] of a) {
    const other = others.next().value;
    if (!other || other[0] !== key || other[1] !== value) return false;
  }
  return true;
}

const placeOf = ({ track }: GrowingTrack): Pick<Line, "class" | "deck"> => ({ class: track.class, deck: track.deck });

function traceOf(growing: GrowingTrack, previous: Trackwork | undefined): TrackTrace {
  const { id, track, start, legs, findings, legStations, trace } = growing;
  if (trace && sameTrace(trace, growing)) return trace;
  const key: LineKey = `track:${id}`;
  const path = growing.path();
  const line =
    path && path.length > 0
      ? makeLine({ key, kind: "track", id, ...placeOf(growing) }, path, previous?.lines.get(key))
      : undefined;
  return { track, start, legs, findings, line, legStations };
}

/** Whether a track came out just as it did before, leg for leg, without a finding either time. */
const sameTrace = (trace: TrackTrace, { track, start, legs, findings }: GrowingTrack): boolean =>
  trace.track === track &&
  trace.start === start &&
  findings.length + trace.findings.length === 0 &&
  trace.legs.length === legs.length &&
  legs.every((leg, i) => leg === trace.legs[i]);
