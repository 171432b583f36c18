/**
 * Trackwork: from tracks as legs and turnouts as places on tracks to lines in the plane.
 *
 * Always holds: a line laid from the same figures as before keeps its object; deriving with a previous trackwork gives
 * what deriving from nothing gives, to the last digit; every record in hand has its line or a finding,
 * but for tracks that come to no length.
 */
import { poseAt } from "../geometry/path.js";
import type { Id, Plan } from "../plan/schema.js";
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
  const laying = new Laying(plan, previous);
  laying.layAll();
  const lines = new Map<LineKey, Line>();
  const traces = new Map<Id, TrackTrace>();
  const findings: Finding[] = [];
  let laid = 0;
  const keep = (line: Line): void => {
    if (line !== previous?.lines.get(line.key)) laid++;
    lines.set(line.key, line);
  };
  for (const [id, growing] of laying.tracks) {
    const trace = traceOf(growing, previous);
    traces.set(id, trace);
    findings.push(...trace.findings);
    if (trace.line) keep(trace.line);
  }
  const onHosts = new Map<Id, TurnoutOnHost>();
  const turnouts = new Map<Id, PlacedTurnout>();
  for (const [id, turnout] of Object.entries(plan.turnouts)) {
    if (!inOption(plan, turnout)) continue;
    const host = laying.tracks.get(turnout.on);
    const outcome = laying.turnoutOnHost(id);
    if (!outcome.ok) {
      findings.push(findingOf(outcome, `turnouts.${id}`, host?.track.deck, host?.end));
      continue;
    }
    onHosts.set(id, outcome.value);
    turnouts.set(id, outcome.value.placed);
    for (const { key, path } of outcome.value.routes) {
      const before = previous?.lines.get(key);
      if (!host) continue;
      const same = before?.path === path && before.class === host.track.class && before.deck === host.track.deck;
      keep(same ? before : makeLine({ key, kind: "turnout", id, ...placeOf(host) }, path, before));
    }
  }
  const onTracks = laySlips(plan, lines, previous, keep, findings);
  const slips = new Map([...onTracks].map(([id, { placed }]) => [id, placed]));
  const { turntables, findings: unfit } = deriveTurntables(plan, lines, previous?.turntables);
  findings.push(...unfit);
  return {
    lines: previous && sameValues(previous.lines, lines) ? previous.lines : lines,
    turnouts: previous && sameValues(previous.turnouts, turnouts) ? previous.turnouts : turnouts,
    slips: previous && sameValues(previous.slips, slips) ? previous.slips : slips,
    turntables: previous && sameValues(previous.turntables, turntables) ? previous.turntables : turntables,
    traces,
    onHosts,
    onTracks,
    findings,
    laid,
  };
}

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
