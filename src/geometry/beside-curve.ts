/**
 * One curve beside another, between the same two straights moved aside: its own radius and easements, fitted into the
 * corner of the offset straights.
 * Always holds: what `refitCurve` returns is tangent to both offset straights, turns as the host does, and is nowhere nearer
 * to the host than the spacing on the straight (1e-3 mm).
 */
import { bracketedRoot } from "./bracketed-root.js";
import { poseBeside } from "./beside-parallel.js";
import { makePath, type Path, poseAt } from "./path.js";
import { localPoint, type Pose } from "./pose.js";
import { type Segment, segmentCurvature, segmentTurn } from "./segment.js";
import { easedTurn, turnExtent } from "./turn.js";
import type { Millimetres, Radians } from "./units.js";

/** A curve between two straights: spiral, arc, spiral, any of them of no length. */
export interface HostCurve {
  readonly entry: Pose;
  readonly exit: Pose;
  readonly segments: readonly Segment[];
  readonly hand: 1 | -1;
  readonly radius: Millimetres;
  readonly easeIn: Millimetres;
  readonly easeOut: Millimetres;
  readonly angle: Radians;
  /** Lengths of the straights before and after. */
  readonly before: Millimetres;
  readonly after: Millimetres;
}

export interface Refit {
  readonly segments: readonly Segment[];
  /** How much longer the straights before and after become than the host's; negative where the curve begins earlier or ends later. */
  readonly before: Millimetres;
  readonly after: Millimetres;
}

/** Spacing is kept to this; no track is laid closer. */
const SPACING_MM: Millimetres = 1e-3;

/** Two curvatures this close in relation are one. */
const SAME_CURVATURE = 1e-9;

/** Up to this turn the corner of the straights places a curve well; near half a turn it runs away to infinity, and only a curve about the host's centre fits. */
const MOST_CORNER: Radians = 0.9 * Math.PI;

/** On the outside a wider spacing is had by shortening the easement, but its shift is kept at this part of the host's at least. */
const LEAST_SHIFT = 0.25;

/** The run of segments as spiral, arc, spiral of one hand; undefined when it is something else (compound, reverse). */
export function asHostCurve(
  segments: readonly Segment[],
  entry: Pose,
  exit: Pose,
  before: Millimetres,
  after: Millimetres,
): HostCurve | undefined {
  const rest = [...segments];
  const easing = (g: Segment | undefined, from: "k0" | "k1", to: "k0" | "k1") => g && g[from] === 0 && g[to] !== 0;
  const first = easing(rest[0], "k0", "k1") ? rest.shift() : undefined;
  const last = easing(rest.at(-1), "k1", "k0") ? rest.pop() : undefined;
  const k = first?.k1 ?? last?.k0 ?? rest[0]?.k0 ?? 0;
  const same = (q: number) => Math.abs(q - k) <= SAME_CURVATURE * Math.abs(k);
  if (k === 0 || (last && !same(last.k0)) || !rest.every((g) => same(g.k0) && same(g.k1))) return undefined;
  return {
    entry,
    exit,
    segments,
    hand: k > 0 ? 1 : -1,
    radius: 1 / Math.abs(k),
    easeIn: first?.length ?? 0,
    easeOut: last?.length ?? 0,
    angle: Math.abs(segments.reduce((sum, g) => sum + segmentTurn(g), 0)),
    before,
    after,
  };
}

/**
 * The curve beside `host`, its straights `left` to the left of the host's, and at least `middle` (>= |left|) from it in the
 * middle where that can be had. Tried in turn:
 * about the host's centre with the easements asked for, else the host's, the radius following from the shift
 * (p = L^2 / 24R; it brings the arcs a little further apart than the straights);
 * the same with easements longer inside or shorter outside, so that their shifts give the spacing wanted in the middle;
 * into the corner with the easements asked for, else the host's, and the radius that gives the spacing;
 * about the host's centre as wide as it goes.
 * Undefined when none keeps the spacing.
 */
export function refitCurve(
  host: HostCurve,
  left: Millimetres,
  middle: Millimetres,
  easement: Millimetres | undefined,
): Refit | undefined {
  const spacing = Math.abs(left);
  const near = nearHost(host);
  const keeps = (fit: Refit | undefined, wanted: number) =>
    fit !== undefined && slackOf(near, host, left, fit, wanted) >= -SPACING_MM;
  const eased = aboutCentreEased(host, left, easement);
  if (eased && keeps(eased, middle)) return eased;
  if (easement === undefined) {
    const fit = aboutCentreAtLeast(host, left, middle, near);
    if (fit) return fit;
  }
  const cornered = easement === undefined ? undefined : intoCorner(host, left, middle, easement, easement, near);
  const asHost = cornered ?? intoCorner(host, left, middle, host.easeIn, host.easeOut, near);
  if (asHost) return asHost;
  const inside = left * host.hand > 0;
  const shift = Math.min(shiftOf(host.radius, host.easeIn), shiftOf(host.radius, host.easeOut));
  const widest = inside ? spacing : Math.min(middle, spacing + (1 - LEAST_SHIFT) * shift);
  return aboutCentreAtLeast(host, left, widest, near) ?? aboutCentreAtLeast(host, left, spacing, near);
}

const shiftOf = (radius: Millimetres, easement: Millimetres) => turnExtent(radius, easement).shift;

/** Easement whose shift at this radius is p; undefined beyond a quarter turn of easement. */
function easementForShift(radius: Millimetres, p: Millimetres): Millimetres | undefined {
  if (p <= 0) return 0;
  const longest = Math.PI * radius;
  const f = (length: number) => shiftOf(radius, length) - p;
  if (f(longest) < 0) return undefined;
  return bracketedRoot({ cross: f }, 0, longest, -p, f(longest), 1e-13 * radius);
}

/** Spiral, arc, spiral about the host's centre, from their radius and easements. */
function aboutCentre(
  host: HostCurve,
  radius: Millimetres,
  easeIn: Millimetres,
  easeOut: Millimetres,
): Refit | undefined {
  if (!(radius > 0) || (easeIn + easeOut) / (2 * radius) > host.angle) return undefined;
  const hand = host.hand > 0 ? "left" : "right";
  const advance = (r: number, l: number) => turnExtent(r, l).advance;
  return {
    segments: easedTurn({ radius, angle: host.angle, hand, easeIn, easeOut }),
    before: advance(host.radius, host.easeIn) - advance(radius, easeIn),
    after: advance(host.radius, host.easeOut) - advance(radius, easeOut),
  };
}

/** Extra width tried about the host's centre, in parts of shift x spacing / radius, which is what equal easements would give. */
const WIDER = [0, 0.25, 0.5, 1, 1.5, 2];

/** About the host's centre, `width` from its arc, or as little more as keeps the spacing along the easements. */
function aboutCentreAtLeast(host: HostCurve, left: Millimetres, width: Millimetres, near: Path): Refit | undefined {
  const side = left * host.hand > 0 ? 1 : -1;
  const shift = Math.max(shiftOf(host.radius, host.easeIn), shiftOf(host.radius, host.easeOut));
  for (const part of WIDER) {
    const wide = width + (part * shift * Math.abs(left)) / host.radius;
    const radius = host.radius - side * wide;
    const more = side * (wide - Math.abs(left));
    const ease = (length: Millimetres) => {
      const p = shiftOf(host.radius, length);
      // An outer curve gives up some of its easement, not all.
      if (p + more < LEAST_SHIFT * p - SPACING_MM) return undefined;
      return easementForShift(radius, p + more);
    };
    const easeIn = ease(host.easeIn);
    const easeOut = ease(host.easeOut);
    if (!(radius > 0) || easeIn === undefined || easeOut === undefined) return undefined;
    const fit = aboutCentre(host, radius, easeIn, easeOut);
    if (fit && slackOf(near, host, left, fit, width) >= -SPACING_MM) return fit;
  }
  return undefined;
}

/** About the host's centre with an easement given, else the host's: the radius whose shift brings it to the offset straights. */
function aboutCentreEased(host: HostCurve, left: Millimetres, given: Millimetres | undefined): Refit | undefined {
  if (Math.abs(host.easeIn - host.easeOut) > SAME_CURVATURE * host.radius) return undefined;
  const easement = given ?? host.easeIn;
  const reach = host.radius + shiftOf(host.radius, host.easeIn) - left * host.hand;
  if (!(reach > 0)) return undefined;
  if (easement === 0) return aboutCentre(host, reach, 0, 0);
  const least = Math.max(easement / Math.PI, SPACING_MM);
  const f = (radius: number) => radius + shiftOf(radius, easement) - reach;
  if (least >= reach || f(least) > 0) return undefined;
  const radius = bracketedRoot({ cross: f }, least, reach, f(least), f(reach), 1e-13 * reach);
  return aboutCentre(host, radius, easement, easement);
}

/** Into the corner of the offset straights: greater radius inside, smaller outside, until the spacing is kept. */
function intoCorner(
  host: HostCurve,
  left: Millimetres,
  middle: Millimetres,
  easeIn: Millimetres,
  easeOut: Millimetres,
  near: Path,
): Refit | undefined {
  if (host.angle > MOST_CORNER) return undefined;
  const side = left * host.hand > 0 ? 1 : -1;
  const spacing = Math.abs(left);
  const fitAt = (radius: number) => cornered(host, left, radius, easeIn, easeOut);
  const slackAt = (radius: number) => slackOf(near, host, left, fitAt(radius), middle);
  const roomy = (radius: number) => {
    const fit = fitAt(radius);
    return fit.before >= -host.before && fit.after >= -host.after && (side > 0 || radius >= host.radius);
  };
  let tight = Math.max(host.radius - side * spacing, SPACING_MM);
  if (slackAt(tight) >= -SPACING_MM) return roomy(tight) ? fitAt(tight) : undefined;
  for (let step = spacing / 8; step < 64 * host.radius; step *= 2) {
    const loose = side > 0 ? tight + step : Math.max(tight - step, host.radius);
    const slack = slackAt(loose);
    if (slack >= -SPACING_MM / 2) {
      // Half way between what is asked and what will do, found to half of that: either way it will do.
      const aim = (radius: number) => slackAt(radius) + SPACING_MM / 2;
      const radius = bracketedRoot({ cross: aim }, tight, loose, aim(tight), aim(loose), SPACING_MM / 4);
      return roomy(radius) && slackAt(radius) >= -SPACING_MM ? fitAt(radius) : undefined;
    }
    if (loose === tight || !roomy(loose)) return undefined;
    tight = loose;
  }
  return undefined;
}

/** The eased turn of this radius that touches both offset straights; their corner must not be at infinity. */
function cornered(host: HostCurve, left: Millimetres, radius: number, easeIn: number, easeOut: number): Refit {
  const hand = host.hand > 0 ? "left" : "right";
  const segments = easedTurn({ radius, angle: host.angle, hand, easeIn, easeOut });
  const exit = localPoint(poseBeside(host.entry, left), poseBeside(host.exit, left));
  const end = makePath({ x: 0, y: 0, heading: 0 }, segments).end;
  const turn = host.hand * host.angle;
  // before * (1, 0) + after * (cos, sin) = exit - end
  const after = (exit.y - end.y) / Math.sin(turn);
  return { segments, before: exit.x - end.x - after * Math.cos(turn), after };
}

/** The host's curve with straights long enough to measure from. */
function nearHost(host: HostCurve): Path {
  const straight = { length: 4 * host.radius + 2 * (host.easeIn + host.easeOut), k0: 0, k1: 0 };
  const { x, y, heading } = host.entry;
  const start = { x: x - straight.length * Math.cos(heading), y: y - straight.length * Math.sin(heading), heading };
  return makePath(start, [straight, ...host.segments, straight]);
}

/** Places along each segment of a curve at which its spacing is measured. */
const MEASURED = 8;

/** By how much a curve's spacing exceeds what is wanted: |left| everywhere, `middle` half way round; the least of both. */
function slackOf(near: Path, host: HostCurve, left: Millimetres, fit: Refit, middle: Millimetres): Millimetres {
  const entry = poseBeside(host.entry, left);
  const start = {
    x: entry.x + fit.before * Math.cos(entry.heading),
    y: entry.y + fit.before * Math.sin(entry.heading),
    heading: entry.heading,
  };
  const path = makePath(start, fit.segments);
  const side = Math.sign(left);
  const spacingAt = (s: number) => {
    const p = poseAt(path, s);
    return side * beside(near, p, near.start.heading + (p.heading - path.start.heading));
  };
  let slack = spacingAt(stationOfTurn(path, (host.hand * host.angle) / 2)) - middle;
  path.segments.forEach((g, i) => {
    for (let j = 0; j < MEASURED; j++) {
      slack = Math.min(slack, spacingAt((path.stations[i] ?? 0) + (g.length * j) / MEASURED) - Math.abs(left));
    }
  });
  return Number.isFinite(slack) ? slack : Number.NEGATIVE_INFINITY;
}

/** How far to the left of the path the point lies, near the place where the path heads as given; the path turns one way only. */
function beside(path: Path, point: { x: number; y: number }, heading: Radians): Millimetres {
  let s = stationOfTurn(path, heading - path.start.heading);
  let q = localPoint(poseAt(path, s), point);
  for (let step = 0; step < 5 && Math.abs(q.x) > SPACING_MM; step++) {
    const k = curvatureNear(path, s);
    s += q.x / Math.max(0.2, 1 - k * q.y);
    q = localPoint(poseAt(path, s), point);
  }
  return q.y;
}

function curvatureNear(path: Path, s: Millimetres): number {
  const i = Math.max(
    0,
    path.stations.findLastIndex((station) => station <= s),
  );
  const g = path.segments[Math.min(i, path.segments.length - 1)];
  return g ? segmentCurvature(g, s - (path.stations[i] ?? 0)) : 0;
}

/** First distance along a path that turns one way at which it has turned so far; its length where it never does. */
function stationOfTurn(path: Path, turn: Radians): Millimetres {
  let turned = 0;
  for (const [i, g] of path.segments.entries()) {
    const more = segmentTurn(g);
    if (more !== 0 && Math.abs(turned + more) >= Math.abs(turn)) {
      const need = turn - turned;
      const slope = (g.k1 - g.k0) / g.length;
      const k = Math.sign(more) * Math.sqrt(Math.max(0, g.k0 * g.k0 + 2 * slope * need));
      return (path.stations[i] ?? 0) + Math.min(g.length, need === 0 ? 0 : (2 * need) / (g.k0 + k));
    }
    turned += more;
  }
  return path.length;
}
