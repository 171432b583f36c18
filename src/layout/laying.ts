/**
 * Laying tracks: each is laid leg by leg, and only as far as somebody asks, so that a main may end at a turnout of a
 * branch that leaves the main further back. What has to wait for another track says so, and a stack of such requests
 * is worked off without recursion, so that no chain of tracks is too long.
 *
 * Always holds: a track asked, while it is being laid, for more of itself than there is yet, is a circle and a failure,
 * never an endless wait; a failed leg ends its track there and is a finding; whatever is laid from the same figures as
 * before is the same object as before.
 */
import { limitsOf } from "../plan/class-limits.js";
import { besidePose } from "../geometry/beside.js";
import type { Path } from "../geometry/path.js";
import { type Pose, reversePose } from "../geometry/pose.js";
import { type Millimetres, toRadians } from "../geometry/units.js";
import type { Anchor, Id, Leg, Plan, Side, Template } from "../plan/schema.js";
import { GrowingTrack, type LegInput, type TrackTrace } from "./growing-track.js";
import { layLeg, sameInput, samePlain } from "./legs.js";
import { inOption } from "./options.js";
import { fail, findingOf, found, type Outcome } from "./outcome.js";
import {
  END_SLACK,
  placeTurnout,
  sameTurnout,
  stretchNeeded,
  type TurnoutOnHost,
  turnoutShapeOf,
} from "./turnout-on-host.js";
import { stallPose } from "./turntable.js";
import type { TurnoutShape } from "./turnout-shape.js";

/** Something that cannot be said before a track is laid at least `until` mm long. */
interface Waiting {
  readonly ok: false;
  readonly kind: "waiting";
  readonly track: GrowingTrack;
  readonly until: Millimetres;
}
type Answer<T> = Outcome<T> | Waiting;

const isWaiting = <T>(answer: Answer<T>): answer is Waiting => !answer.ok && answer.kind === "waiting";

/** What an earlier laying left behind. */
export interface LaidBefore {
  readonly traces: ReadonlyMap<Id, TrackTrace>;
  readonly onHosts: ReadonlyMap<Id, TurnoutOnHost>;
}

export class Laying {
  private readonly tracks = new Map<Id, GrowingTrack>();
  private readonly turnouts = new Map<Id, Outcome<TurnoutOnHost>>();
  /** Shapes by frog number or template: many turnouts, few kinds. */
  private readonly shapes = new Map<number | Template, TurnoutShape>();

  constructor(
    private readonly plan: Plan,
    private readonly before: LaidBefore | undefined,
  ) {}

  /** A track as far as it is laid; undefined for one that is not there, or not in hand. */
  track(id: Id): GrowingTrack | undefined {
    const known = this.tracks.get(id);
    const track = this.plan.tracks[id];
    if (known || !track || !inOption(this.plan, track)) return known;
    const growing = new GrowingTrack(id, track, this.before?.traces.get(id));
    this.tracks.set(id, growing);
    return growing;
  }

  /** Lays these tracks to their ends, or to the legs that fail, and of others as much as they ask for. */
  lay(ids: Iterable<Id>): void {
    for (const id of ids) {
      const track = this.track(id);
      if (track) this.layUntil(track, Number.POSITIVE_INFINITY);
    }
  }

  private layUntil(track: GrowingTrack, until: Millimetres): void {
    const stack = [{ track, until }];
    track.busy = true;
    for (let top = stack.at(-1); top; top = stack.at(-1)) {
      const waiting = this.advance(top.track, top.until);
      if (waiting) {
        waiting.track.busy = true;
        stack.push(waiting);
      } else {
        top.track.busy = false;
        stack.pop();
      }
    }
  }

  /** Lays legs until the track is so long or done; gives back what it has to wait for. */
  private advance(growing: GrowingTrack, until: Millimetres): Waiting | undefined {
    if (!growing.start && !growing.done) {
      const start = this.leaving(growing.track.start);
      if (isWaiting(start)) return start;
      if (start.ok) growing.place(start.value);
      else {
        growing.findings.push(findingOf(start, `tracks.${growing.id}.start`, growing.track.deck, undefined));
        growing.done = true;
      }
    }
    while (!growing.done && growing.length < until) {
      const leg = growing.track.legs[growing.legs.length];
      if (!leg || !growing.end) {
        growing.done = true;
        break;
      }
      const easement = limitsOf(this.plan, growing.track.class).easement.value;
      const before = growing.trace?.legs[growing.legs.length];
      if (before && samePlain(before.input, leg, growing.end, easement)) {
        growing.add(before.input, before);
        continue;
      }
      const input = this.legInput(leg, growing.end, easement);
      if (isWaiting(input)) return input;
      this.layLeg(growing, input);
    }
    return undefined;
  }

  private layLeg(growing: GrowingTrack, input: Outcome<LegInput>): void {
    const index = growing.legs.length;
    const before = growing.trace?.legs[index];
    if (input.ok && before && sameInput(before.input, input.value)) return growing.add(input.value, before);
    const laid = input.ok ? layLeg(input.value) : input;
    if (input.ok && laid.ok) return growing.add(input.value, laid.value);
    if (!laid.ok) {
      const thing = `tracks.${growing.id}.legs.${index}`;
      growing.findings.push(findingOf(laid, thing, growing.track.deck, growing.end));
    }
    growing.done = true;
  }

  private legInput(leg: Leg, from: Pose, easement: Millimetres): Answer<LegInput> {
    if ("join" in leg) {
      const goal = this.arriving(leg.join.to);
      return goal.ok ? found({ leg, from, easement, goal: goal.value }) : goal;
    }
    if ("beside" in leg) {
      const { track, from: begin = 0, to = Number.POSITIVE_INFINITY } = leg.beside;
      const host = this.hostPath(track, Math.max(begin, to));
      return host.ok ? found({ leg, from, easement, host: host.value }) : host;
    }
    return found({ leg, from, easement });
  }

  /** The track, at least as long as `until` where it goes so far. */
  private host(id: Id, until: Millimetres): Answer<GrowingTrack> {
    const host = this.track(id);
    if (!host) return fail("anchor-missing", `there is no track ${id}`);
    if (host.done || (host.start && host.length >= until)) return found(host);
    if (host.busy) return fail("anchor-circular", `track ${id} depends on itself`);
    return { ok: false, kind: "waiting", track: host, until };
  }

  private hostPath(id: Id, until: Millimetres): Answer<Path> {
    const host = this.host(id, until);
    if (!host.ok) return host;
    const path = host.value.path();
    return path ? found(path) : fail("anchor-missing", `track ${id} has no place on the sheet`);
  }

  /** The pose of something that leaves an anchor. */
  private leaving(anchor: Anchor): Answer<Pose> {
    if ("pose" in anchor) {
      const { x, y, heading } = anchor.pose;
      return found({ x, y, heading: toRadians(heading) });
    }
    if ("turnout" in anchor) return this.turnoutEnd(anchor.turnout, anchor.route);
    if ("beside" in anchor) {
      const { track, at, side, spacing, against } = anchor.beside;
      const host = this.hostPath(track, at);
      if (!host.ok) return host;
      if (at > host.value.length + END_SLACK) return fail("anchor-missing", `track ${track} is shorter than ${at} mm`);
      return found(besidePose(host.value, at, side === "left" ? spacing : -spacing, against === true));
    }
    return "turntable" in anchor ? this.stall(anchor.turntable, anchor.stall) : this.trackEnd(anchor);
  }

  /** Beyond an end of a track. */
  private trackEnd({ track, end }: { readonly track: Id; readonly end: "start" | "end" }): Answer<Pose> {
    const path = this.hostPath(track, end === "start" ? 0 : Number.POSITIVE_INFINITY);
    if (!path.ok) return path;
    return found(end === "start" ? reversePose(path.value.start) : path.value.end);
  }

  /** Where a stall of a turntable begins, leading away from the pit. */
  private stall(id: Id, stall: number): Answer<Pose> {
    const turntable = this.plan.turntables[id];
    if (!turntable || !inOption(this.plan, turntable)) return fail("anchor-missing", `there is no turntable ${id}`);
    const angle = turntable.stalls[stall];
    if (angle === undefined) return fail("anchor-missing", `turntable ${id} has no stall ${stall + 1}`);
    const approach = this.trackEnd({ track: turntable.on, end: turntable.end });
    return approach.ok ? found(stallPose(approach.value, turntable.bridge, toRadians(angle))) : approach;
  }

  /** The pose of something that arrives at an anchor. */
  private arriving(anchor: Anchor): Answer<Pose> {
    // Where a track begins is known as it is, without turning about twice.
    if ("track" in anchor && anchor.end === "start") {
      const path = this.hostPath(anchor.track, 0);
      return path.ok ? found(path.value.start) : path;
    }
    const pose = this.leaving(anchor);
    return pose.ok && ("turnout" in anchor || "track" in anchor || "turntable" in anchor)
      ? found(reversePose(pose.value))
      : pose;
  }

  private turnoutEnd(id: Id, route: Side | undefined): Answer<Pose> {
    const turnout = this.turnout(id);
    if (!turnout.ok) return turnout;
    const { placed, routes } = turnout.value;
    const i = route === undefined ? 0 : placed.routes.findIndex((r) => r.side === route);
    const path = routes[i]?.path;
    return path ? found(path.end) : fail("anchor-missing", `turnout ${id} has no ${route} route of its own`);
  }

  /** A turnout on its host; to be asked from outside only when all tracks are laid. */
  turnoutOnHost(id: Id): Outcome<TurnoutOnHost> {
    const answer = this.turnout(id);
    return isWaiting(answer) ? fail("anchor-circular", `turnout ${id} depends on itself`) : answer;
  }

  private turnout(id: Id): Answer<TurnoutOnHost> {
    const known = this.turnouts.get(id);
    if (known) return known;
    const answer = this.newTurnout(id);
    // A circle depends on who asks first; only certain answers are kept.
    if (answer.ok || (answer.kind !== "anchor-circular" && answer.kind !== "waiting")) this.turnouts.set(id, answer);
    return answer;
  }

  private newTurnout(id: Id): Answer<TurnoutOnHost> {
    const { plan } = this;
    const turnout = plan.turnouts[id];
    if (!turnout || !inOption(plan, turnout)) return fail("anchor-missing", `there is no turnout ${id}`);
    const shape = turnoutShapeOf(turnout, plan, this.shapes);
    if (!shape.ok) return shape;
    const host = this.host(turnout.on, stretchNeeded(turnout, shape.value).to);
    if (!host.ok) return host;
    const before = this.before?.onHosts.get(id);
    if (before && sameTurnout(before, turnout, shape.value, host.value)) return found(before);
    return placeTurnout(id, turnout, shape.value, host.value);
  }
}
