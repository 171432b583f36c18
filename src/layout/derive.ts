/**
 * From a plan to its layout. Pure, and incremental: given the layout of an earlier plan, whatever has not changed is
 * taken over, object for object, so that readings can tell by identity what is new.
 *
 * Always holds: deriving with a previous layout gives the same layout as deriving from nothing.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan } from "../plan/schema.js";
import { deriveCrossings } from "./crossings.js";
import { type DerivedNetwork, deriveNetwork } from "./derive-network.js";
import { deriveProfiles, type Heights } from "./heights.js";
import { deriveHidden } from "./hidden.js";
import type { Crossing, Layout } from "./layout.js";
import type { Line, LineKey } from "./line.js";
import { deriveMeetings, type Meeting, type Meetings } from "./meetings.js";
import { withStrays } from "./stray-findings.js";
import { deriveSpace, type DerivedSpace } from "./space.js";
import { deriveTrackwork, type Trackwork } from "./trackwork.js";

/** What a layout was made of, kept beside it for the next derivation. */
interface Stages {
  readonly trackwork: Trackwork;
  readonly network: DerivedNetwork;
  readonly heights: Heights;
  readonly near: Near;
  /** This layout's own meetings, once somebody has asked. */
  readonly met: { all?: Meetings };
  readonly space: DerivedSpace;
}

/**
 * Meetings last derived, of all lines and of those asked for, whichever layout asked: the next derivation begins there.
 * Handed on from layout to layout.
 */
interface Near {
  all?: Meetings;
  some?: Meetings;
  crossings?: { readonly of: readonly unknown[]; readonly crossings: readonly Crossing[] };
}

const stagesOf = new WeakMap<Layout, Stages>();

export function deriveLayout(plan: Plan, previous?: Layout): Layout {
  const stages = previous && stagesOf.get(previous);
  const before = stages && { ...stages, layout: previous };
  const trackwork = deriveTrackwork(plan, before?.trackwork);
  const network = deriveNetwork(plan, trackwork, before?.network);
  const { lines, turnouts, slips, turntables } = trackwork;
  const heights = heightsOf(plan, lines, network, before);
  const { profiles } = heights;
  const space = deriveSpace(plan, before && { plan: before.layout.plan, space: before.space.space });
  const sameLines = before?.trackwork.lines === lines;
  const sameRecords = before && before.layout.plan.tracks === plan.tracks && before.layout.plan.decks === plan.decks;
  const near = before?.near ?? {};
  const met: Stages["met"] = {};
  // Only what the layout before had found is held here, never that layout, which would hold the one before it.
  const metBefore = before?.met;
  const meetings = () => {
    met.all ??= deriveMeetings(lines, profiles, meetingReach(plan), metBefore?.all ?? near.all);
    near.all = met.all;
    return met.all;
  };
  const crossings = () => {
    const of = [lines, meetings().meetings, profiles, turnouts] as const;
    if (!near.crossings || near.crossings.of.some((part, i) => part !== of[i]))
      near.crossings = { of, crossings: deriveCrossings(...of) };
    return near.crossings.crossings;
  };
  const layout: Layout = {
    plan,
    lines,
    turnouts,
    slips,
    turntables,
    network: network.network,
    profiles,
    space: space.space,
    get meetings() {
      return meetings().meetings;
    },
    get crossings() {
      return crossings();
    },
    hidden: sameRecords && sameLines ? before.layout.hidden : deriveHidden(plan, lines),
    findings: withStrays(plan, lines, [
      ...trackwork.findings,
      ...network.findings,
      ...heights.findings,
      ...space.findings,
    ]),
    derived: {
      lines: trackwork.laid,
      profiles: heights.solved,
      get meetings() {
        return meetings().computed;
      },
      decks: space.decks,
    },
  };
  stagesOf.set(layout, { trackwork, network, heights, near, met, space });
  return layout;
}

/** Meetings of some lines with all others: found without those of the rest, where nobody has asked for these. */
export function meetingsOf(layout: Layout, keys: Iterable<LineKey>): readonly Meeting[] {
  const { lines, profiles, plan } = layout;
  const only = new Set(keys);
  const near = stagesOf.get(layout)?.near ?? {};
  if (near.all?.lines === lines && near.all.profiles === profiles)
    return layout.meetings.filter(({ a, b }) => only.has(a) || only.has(b));
  near.some = deriveMeetings(lines, profiles, meetingReach(plan), near.some, only);
  return near.some.meetings;
}

function heightsOf(
  plan: Plan,
  lines: ReadonlyMap<LineKey, Line>,
  { network }: DerivedNetwork,
  before: (Stages & { readonly layout: Layout }) | undefined,
): Heights {
  const { decks } = plan;
  const verticalCurve = plan.standards.verticalCurve.value;
  const same =
    before &&
    before.network.network === network &&
    before.trackwork.lines === lines &&
    before.layout.plan.decks === decks &&
    before.heights.verticalCurve === verticalCurve;
  return same
    ? { ...before.heights, solved: 0 }
    : deriveProfiles({ network, lines, decks, verticalCurve }, before?.heights);
}

/** Where each leg of a track begins along it, and last where the track ends; nothing for a track that was not laid, or a layout that came another way (copied, sent). */
export const legStationsOf = (layout: Layout, track: Id): readonly Millimetres[] =>
  stagesOf.get(layout)?.trackwork.traces.get(track)?.legStations ?? [];

/**
 * How near two lines must come for anything to be asked of the pair: the widest track centres with the throw of the
 * longest car on the least radius to either side, or the roadbed of one over the car of the other.
 */
export function meetingReach(plan: Plan): number {
  const { classes, longestCar, roadbedWidth } = plan.standards;
  const limits = Object.values(classes).filter((c) => c !== undefined);
  const centres = Math.max(...limits.map((c) => c.centres.value));
  const radius = Math.min(...limits.map((c) => c.radius.value));
  const throws = longestCar.value.length ** 2 / (8 * radius);
  return Math.max(centres + throws, (roadbedWidth.value + longestCar.value.width) / 2 + throws);
}
