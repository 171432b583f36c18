/**
 * From a plan to its layout. Pure, and incremental: given the layout of an earlier plan, whatever has not changed is
 * taken over, object for object, so that readings can tell by identity what is new.
 *
 * Always holds: deriving with a previous layout gives the same layout as deriving from nothing.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan } from "../plan/schema.js";
import { deriveCrossings } from "./crossings.js";
import { deriveNetwork } from "./derive-network.js";
import { deriveProfiles, type Heights } from "./heights.js";
import { deriveHidden } from "./hidden.js";
import type { Layout } from "./layout.js";
import { deriveMeetings, type Meetings } from "./meetings.js";
import { deriveSpace, type DerivedSpace } from "./space.js";
import { deriveTrackwork, type Trackwork } from "./trackwork.js";

/** What a layout was made of, kept beside it for the next derivation. */
interface Stages {
  readonly trackwork: Trackwork;
  readonly heights: Heights;
  readonly meetings: Meetings;
  readonly space: DerivedSpace;
}

const stagesOf = new WeakMap<Layout, Stages>();

export function deriveLayout(plan: Plan, previous?: Layout): Layout {
  const before = previous && stagesOf.get(previous);
  const trackwork = deriveTrackwork(plan, before?.trackwork);
  const { network, findings } = deriveNetwork(plan, trackwork);
  const { lines, turnouts } = trackwork;
  const verticalCurve = plan.standards.verticalCurve.value;
  const heights = deriveProfiles({ network, lines, decks: plan.decks, verticalCurve }, before?.heights);
  const space = deriveSpace(plan, before && previous && { plan: previous.plan, space: before.space.space });
  const meetings = deriveMeetings(lines, heights.profiles, meetingReach(plan), before?.meetings);
  const layout: Layout = {
    plan,
    lines,
    turnouts,
    network,
    profiles: heights.profiles,
    space: space.space,
    meetings: meetings.meetings,
    crossings: deriveCrossings(lines, meetings.meetings, heights.profiles, turnouts),
    hidden: deriveHidden(plan, lines),
    findings: [...trackwork.findings, ...findings, ...heights.findings, ...space.findings],
    derived: {
      lines: trackwork.laid,
      profiles: heights.solved,
      meetings: meetings.computed,
      decks: space.decks,
    },
  };
  stagesOf.set(layout, { trackwork, heights, meetings, space });
  return layout;
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
