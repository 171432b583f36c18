/**
 * Trackwork: from tracks as legs and turnouts as places on tracks to lines in the plane. Every track is laid leg by
 * leg and only as far as somebody asks, so anchors are followed in whatever order they need; asking in a circle is a
 * finding, not a crash.
 *
 * Always holds: a track whose record, start and goals are as before keeps its `Line` object; a failed leg ends its
 * track there and is reported with the place it should have led to.
 */
import { besidePose } from "../geometry/beside.js";
import type { Path } from "../geometry/path.js";
import { type Point, type Pose, reversePose } from "../geometry/pose.js";
import { type Millimetres, toRadians } from "../geometry/units.js";
import type { Anchor, Id, Leg, Plan, TrackClass, Turnout } from "../plan/schema.js";
import { GrowingTrack, type LegInput, type TrackTrace } from "./growing-track.js";
import type { Finding } from "./layout.js";
import { layLeg, sameInput } from "./legs.js";
import { type Failure, fail, found, type Outcome } from "./outcome.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import { makeLine } from "./make-line.js";
import { inOption } from "./options.js";
import { divergingRoute, measuredTurnout, tableTurnout, type TurnoutShape, wyeRoute } from "./turnout-shape.js";

export interface Trackwork {
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly turnouts: ReadonlyMap<Id, PlacedTurnout>;
  readonly traces: ReadonlyMap<Id, TrackTrace>;
  readonly findings: readonly Finding[];
  /** Lines laid anew. */
  readonly laid: number;
}

/** Anchors followed one inside another deeper than this are taken for a circle; no railway chains so many. */
const DEEPEST_CHAIN = 2000;

/** A place this little beyond the end of a track is at its end: the slack of figures typed to a tenth of a millimetre. */
const END_SLACK: Millimetres = 0.5;

export function deriveTrackwork(plan: Plan, previous?: Trackwork): Trackwork {
  return new Resolver(plan, previous).run();
}

interface TurnoutOnHost {
  readonly placed: PlacedTurnout;
  readonly shape: TurnoutShape;
  readonly routes: readonly { readonly key: LineKey; readonly path: Path }[];
}

class Resolver {
  private readonly growing = new Map<Id, GrowingTrack>();
  private readonly turnouts = new Map<Id, Outcome<TurnoutOnHost>>();
  private readonly findings: Finding[] = [];
  private depth = 0;

  constructor(
    private readonly plan: Plan,
    private readonly previous: Trackwork | undefined,
  ) {
    for (const [id, track] of Object.entries(plan.tracks)) {
      if (inOption(plan, track)) this.growing.set(id, new GrowingTrack(id, track, previous?.traces.get(id)));
    }
  }

  run(): Trackwork {
    for (const id of this.growing.keys()) this.grow(id, Number.POSITIVE_INFINITY);
    const lines = new Map<LineKey, Line>();
    const traces = new Map<Id, TrackTrace>();
    let laid = 0;
    for (const [id, growing] of this.growing) {
      const trace = this.finish(growing);
      traces.set(id, trace);
      this.findings.push(...trace.findings);
      if (!trace.line) continue;
      if (trace.line !== this.previous?.lines.get(trace.line.key)) laid++;
      lines.set(trace.line.key, trace.line);
    }
    const turnouts = new Map<Id, PlacedTurnout>();
    for (const [id, turnout] of Object.entries(this.plan.turnouts)) {
      if (!inOption(this.plan, turnout)) continue;
      const outcome = this.turnout(id);
      if (!outcome.ok) {
        const host = this.growing.get(turnout.on);
        this.findings.push(finding(outcome, `turnouts.${id}`, host?.track.deck, host?.end));
        continue;
      }
      turnouts.set(id, outcome.value.placed);
      for (const { key, path } of outcome.value.routes) {
        const host = this.plan.tracks[turnout.on];
        if (!host) continue;
        const line = makeLine("turnout", key, id, host.class, host.deck, path, this.previous?.lines.get(key));
        if (line !== this.previous?.lines.get(key)) laid++;
        lines.set(key, line);
      }
    }
    return { lines, turnouts, traces, findings: this.findings, laid };
  }

  /** Lays legs until the track is at least this long, or all of them. */
  private grow(id: Id, until: Millimetres): Outcome<GrowingTrack> {
    const growing = this.growing.get(id);
    if (!growing) return fail("anchor-missing", `there is no track ${id}`);
    if (growing.done || (growing.start && growing.length >= until)) return found(growing);
    if (growing.busy || this.depth >= DEEPEST_CHAIN) return fail("anchor-circular", `track ${id} depends on itself`);
    growing.busy = true;
    this.depth++;
    if (!growing.start) this.findStart(growing);
    while (growing.start && !growing.done && growing.length < until) {
      const leg = growing.track.legs[growing.legs.length];
      if (!leg) growing.done = true;
      else if (!this.lay(growing, leg)) growing.done = true;
    }
    this.depth--;
    growing.busy = false;
    return found(growing);
  }

  private findStart(growing: GrowingTrack): void {
    const start = this.leaving(growing.track.start);
    if (start.ok) growing.place(start.value);
    else {
      growing.findings.push(finding(start, `tracks.${growing.id}.start`, growing.track.deck, undefined));
      growing.done = true;
    }
  }

  private lay(growing: GrowingTrack, leg: Leg): boolean {
    const index = growing.legs.length;
    const from = growing.end;
    if (!from) return false;
    const thing = `tracks.${growing.id}.legs.${index}`;
    const input = this.legInput(growing, leg, from);
    if (!input.ok) {
      growing.findings.push(finding(input, thing, growing.track.deck, from));
      return false;
    }
    const before = growing.trace?.legs[index];
    if (before && sameInput(before.input, input.value)) {
      growing.add(input.value, before);
      return true;
    }
    const segments = layLeg(input.value);
    if (!segments.ok) {
      growing.findings.push(finding(segments, thing, growing.track.deck, from));
      return false;
    }
    growing.add(input.value, segments.value);
    return true;
  }

  private legInput(growing: GrowingTrack, leg: Leg, from: Pose): Outcome<LegInput> {
    const easement = classEasement(this.plan, growing.track.class);
    if ("join" in leg) {
      const goal = this.arriving(leg.join.to);
      return goal.ok ? found({ leg, from, easement, goal: goal.value }) : goal;
    }
    if ("beside" in leg) {
      const { from: begin, to } = leg.beside;
      const needed = begin === undefined || to === undefined ? Number.POSITIVE_INFINITY : Math.max(begin, to);
      const host = this.hostPath(leg.beside.track, needed);
      return host.ok ? found({ leg, from, easement, host: host.value }) : host;
    }
    return found({ leg, from, easement });
  }

  /** The path of a track, at least as far as `until` where the track goes so far. */
  private hostPath(id: Id, until: Millimetres): Outcome<Path> {
    const host = this.grow(id, until);
    if (!host.ok) return host;
    const path = host.value.path();
    return path ? found(path) : fail("anchor-missing", `track ${id} has no place on the sheet`);
  }

  /** The pose of something that leaves an anchor. */
  private leaving(anchor: Anchor): Outcome<Pose> {
    if ("pose" in anchor) return found({ ...anchor.pose, heading: toRadians(anchor.pose.heading) });
    if ("turnout" in anchor) return this.turnoutEnd(anchor.turnout, anchor.route);
    if ("beside" in anchor) {
      const { track, at, side, spacing, against } = anchor.beside;
      const host = this.hostPath(track, at);
      if (!host.ok) return host;
      if (at > host.value.length + END_SLACK) return fail("anchor-missing", `track ${track} is shorter than ${at} mm`);
      return found(besidePose(host.value, at, side === "left" ? spacing : -spacing, against === true));
    }
    if (anchor.end === "start") {
      const host = this.grow(anchor.track, 0);
      if (!host.ok) return host;
      const start = host.value.start;
      return start
        ? found(reversePose(start))
        : fail("anchor-missing", `track ${anchor.track} has no place on the sheet`);
    }
    const path = this.hostPath(anchor.track, Number.POSITIVE_INFINITY);
    return path.ok ? found(path.value.end) : path;
  }

  /** The pose of something that arrives at an anchor. */
  private arriving(anchor: Anchor): Outcome<Pose> {
    const pose = this.leaving(anchor);
    return pose.ok && !("pose" in anchor) && !("beside" in anchor) ? found(reversePose(pose.value)) : pose;
  }

  private turnoutEnd(id: Id, route: "left" | "right" | undefined): Outcome<Pose> {
    const turnout = this.turnout(id);
    if (!turnout.ok) return turnout;
    const { placed, routes } = turnout.value;
    const i = route === undefined ? 0 : placed.routes.findIndex((r) => r.side === route);
    const path = routes[i]?.path;
    return path ? found(path.end) : fail("anchor-missing", `turnout ${id} has no ${route} route of its own`);
  }

  private turnout(id: Id): Outcome<TurnoutOnHost> {
    const known = this.turnouts.get(id);
    if (known) return known;
    const turnout = this.plan.turnouts[id];
    if (!turnout || !inOption(this.plan, turnout)) return fail("anchor-missing", `there is no turnout ${id}`);
    const outcome = this.placeTurnout(id, turnout);
    // A circle depends on who asks first; only certain answers are kept.
    if (outcome.ok || outcome.kind !== "anchor-circular") this.turnouts.set(id, outcome);
    return outcome;
  }

  private placeTurnout(id: Id, turnout: Turnout): Outcome<TurnoutOnHost> {
    const shape = this.turnoutShape(turnout);
    if (!shape.ok) return shape;
    if (turnout.hand === "wye") return this.placeWye(id, turnout, shape.value);
    if (turnout.at === undefined) return fail("turnout-unknown", "says no place along its track");
    const { at, hand } = turnout;
    const direction = turnout.facing === "with" ? 1 : -1;
    const { joint, departs, heel } = shape.value;
    const far = Math.max(at + direction * joint, at + direction * heel);
    const host = this.hostPath(turnout.on, far);
    if (!host.ok) return host;
    const least = Math.min(at + direction * joint, at + direction * heel);
    if (least < -END_SLACK || far > host.value.length + END_SLACK) {
      const needs = `needs ${Math.round(least)} to ${Math.round(far)} mm of track ${turnout.on}`;
      return fail("turnout-off-track", `${needs}, which is ${Math.round(host.value.length)} mm long`);
    }
    const from = at + direction * departs;
    const path = divergingRoute(host.value, from, direction, shape.value, hand);
    const key: LineKey = `turnout:${id}`;
    const placed: PlacedTurnout = {
      id,
      host: `track:${turnout.on}`,
      at,
      direction,
      hand,
      number: shape.value.number,
      departs: from,
      heel: at + direction * heel,
      joint: at + direction * joint,
      radius: shape.value.radius,
      angle: shape.value.angle,
      routes: [{ side: hand, line: key }],
    };
    return found({ placed, shape: shape.value, routes: [{ key, path }] });
  }

  private placeWye(id: Id, turnout: Turnout, shape: TurnoutShape): Outcome<TurnoutOnHost> {
    const direction = turnout.facing === "with" ? 1 : -1;
    const host = this.hostPath(turnout.on, direction === 1 ? Number.POSITIVE_INFINITY : 0);
    if (!host.ok) return host;
    const end = direction === 1 ? host.value.length : 0;
    const routes = (["left", "right"] as const).map((side) => ({
      side,
      key: `turnout:${id}:${side}` as LineKey,
      path: wyeRoute(host.value, direction, shape, side),
    }));
    const placed: PlacedTurnout = {
      id,
      host: `track:${turnout.on}`,
      at: end,
      direction,
      hand: "wye",
      number: shape.number,
      departs: end,
      heel: end,
      joint: end,
      radius: shape.radius,
      angle: shape.angle,
      routes: routes.map(({ side, key }) => ({ side, line: key })),
    };
    return found({ placed, shape, routes });
  }

  private turnoutShape(turnout: Turnout): Outcome<TurnoutShape> {
    if (turnout.template !== undefined) {
      const template = this.plan.templates[turnout.template];
      if (!template) return fail("turnout-unknown", `there is no template ${turnout.template}`);
      const shape = measuredTurnout(template);
      return shape
        ? found(shape)
        : fail("turnout-unknown", `template ${turnout.template}: its curve is longer than its route`);
    }
    if (turnout.number === undefined) return fail("turnout-unknown", "has neither frog number nor template");
    return found(tableTurnout(this.plan.scale.gauge, turnout.number));
  }

  private finish(growing: GrowingTrack): TrackTrace {
    const { track, start, legs, findings, legStations, trace } = growing;
    const path = growing.path();
    const line = path && path.length > 0 ? this.lineOf(growing, path) : undefined;
    if (trace && trace.track === track && trace.line === line && findings.length === 0 && trace.findings.length === 0)
      return trace;
    return { track, start, legs, findings, line, legStations };
  }

  private lineOf(growing: GrowingTrack, path: Path): Line {
    const key: LineKey = `track:${growing.id}`;
    return makeLine(
      "track",
      key,
      growing.id,
      growing.track.class,
      growing.track.deck,
      path,
      this.previous?.lines.get(key),
    );
  }
}

function finding({ kind, note, target }: Failure, thing: string, deck: Id | undefined, at: Point | undefined): Finding {
  const point = { x: at?.x ?? 0, y: at?.y ?? 0 };
  return { kind, thing, deck: deck ?? "", point, note, ...(target && { target }) };
}

/** The class's easement length; a class without limits of its own follows the main. */
function classEasement(plan: Plan, trackClass: TrackClass): Millimetres {
  const { classes } = plan.standards;
  return (classes[trackClass] ?? classes.main).easement.value;
}
