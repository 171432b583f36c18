/**
 * Joints: gaps and kinks where tracks should meet, ends that lie close but are not joined, and whatever the layout
 * could not lay as the plan asks. The value counts what is wrong; none may be.
 */
import { distance, type Pose, reversePose } from "../geometry/pose.js";
import { indexBoxes } from "../geometry/search.js";
import { toDegrees, wrapAngle } from "../geometry/units.js";
import type { Finding, Layout } from "../layout/layout.js";
import type { Line, PlacedTurnout } from "../layout/line.js";
import type { NodeKey } from "../layout/network.js";
import { heightOn } from "../layout/place-names.js";
import { isLineEnd, joinedEnds } from "./joined-ends.js";
import type { Place } from "./reading.js";
import { MOST_PLACES, placeOn, type Rule, thingOf } from "./rule.js";

/** A gap a wheel would feel, mm, and a kink an eye would see, radians (0.06 degrees). */
const GAP = 0.05;
const KINK = 0.001;
/** Ends nearer than this in plan, and as near in height, were surely meant to meet, mm. */
const CLOSE = 10;

export const joint: Rule = {
  id: "joint",
  take({ layout }) {
    const places = [
      ...layout.findings.map(findingPlace),
      ...badJoints(layout),
      ...crowded(layout),
      ...looseEnds(layout),
      ...badBumpers(layout),
    ].sort(byThing);
    return [
      {
        id: "joint",
        label: "Joints and legs at fault",
        value: places.length,
        unit: "count",
        limit: 0,
        bound: "most",
        verdict: places.length > 0 ? "fails" : layout.lines.size > 0 ? "clear" : "none",
        places: places.slice(0, MOST_PLACES),
        source: "rails must meet",
      },
    ];
  },
};

const byThing = (a: Place, b: Place): number =>
  a.thing === b.thing ? (a.s ?? 0) - (b.s ?? 0) : a.thing < b.thing ? -1 : 1;

const FAULT: Readonly<Record<Finding["kind"], string>> = {
  "leg-unsolved": "leg cannot be laid",
  "anchor-missing": "nothing to start from or lead to",
  "anchor-circular": "anchors in a circle",
  "turnout-off-track": "turnout does not fit its track",
  "turnout-unknown": "no such turnout",
  "pin-off-track": "pin beyond its track",
  "pins-conflict": "pins disagree",
  "beside-gap": "gap before the leg",
  "shape-invalid": "outline crosses itself",
  "slip-unfit": "slip does not fit",
  "turntable-unfit": "stalls too close",
};

const findingPlace = ({ kind, thing, deck, point, note }: Finding): Place => ({
  deck,
  point,
  thing,
  note: `${FAULT[kind]}: ${note}`,
});

/** Looking away from its line at one of its ends. */
const poseOut = (line: Line, end: "start" | "end"): Pose =>
  end === "end" ? line.path.end : reversePose(line.path.start);
const stationOf = (line: Line, end: "start" | "end"): number => (end === "end" ? line.path.length : 0);

function badJoints(layout: Layout): Place[] {
  const places: Place[] = [];
  for (const line of layout.lines.values()) {
    for (const { end, other, otherEnd } of joinedEnds(layout, line)) {
      // Told once for both sides.
      if (other.key < line.key || (other.key === line.key && otherEnd < end)) continue;
      const [a, b] = [poseOut(line, end), poseOut(other, otherEnd)];
      const gap = distance(a, b);
      const kink = Math.abs(wrapAngle(a.heading - b.heading + Math.PI));
      const s = stationOf(line, end);
      if (gap > GAP) places.push(placeOn(line, s, gap, `gap of ${gap.toFixed(1)} mm to ${thingOf(other)}`));
      else if (kink > KINK)
        places.push(placeOn(line, s, kink, `kink of ${toDegrees(kink).toFixed(1)} degrees to ${thingOf(other)}`));
    }
  }
  return places;
}

/**
 * Only at points may several tracks go on from one: the routes that start there, or end there in a slip, and beside them
 * the host's own way, if any; and across a turntable.
 */
function crowded(layout: Layout): Place[] {
  const places: Place[] = [];
  for (const node of layout.network.nodes.values()) {
    if (node.kind === "turntable" || node.sides.every((side) => side.length < 2)) continue;
    const side = node.sides.find((edges) => {
      const routes = edges.flatMap((index) => routeStarting(layout, index, node.key) ?? []);
      const slips = edges.filter(
        (index) => layout.lines.get(layout.network.edges[index]?.line ?? "track:")?.kind === "slip",
      );
      const others = edges.length - routes.length - slips.length;
      return others > (routes.some(({ hand }) => hand === "wye") ? 0 : 1);
    });
    const edge = layout.network.edges[side?.[0] ?? -1];
    const line = edge && layout.lines.get(edge.line);
    if (!edge || !line) continue;
    const s = edge.a.node === node.key ? edge.from : edge.to;
    places.push(placeOn(line, s, undefined, "more than two tracks meet at one end; it wants a turnout"));
  }
  return places;
}

/** The turnout whose diverging route begins with this edge at this node. */
function routeStarting(layout: Layout, index: number, node: NodeKey): PlacedTurnout | undefined {
  const edge = layout.network.edges[index];
  const line = edge && layout.lines.get(edge.line);
  if (line?.kind !== "turnout" || edge?.a.node !== node || !isLineEnd(layout, edge, "start")) return undefined;
  return layout.turnouts.get(line.id);
}

interface LooseEnd {
  readonly line: Line;
  readonly s: number;
  readonly pose: Pose;
  readonly height: number;
}

function looseEnds(layout: Layout): Place[] {
  const loose: LooseEnd[] = [];
  for (const node of layout.network.nodes.values()) {
    for (const side of [0, 1] as const) {
      if (node.sides[side].length > 0) continue;
      for (const index of node.sides[side === 0 ? 1 : 0]) {
        const edge = layout.network.edges[index];
        const line = edge && layout.lines.get(edge.line);
        if (!edge || !line) continue;
        const end =
          edge.b.node === node.key && edge.b.side !== side && isLineEnd(layout, edge, "end") ? "end" : "start";
        const s = stationOf(line, end);
        loose.push({ line, s, pose: poseOut(line, end), height: heightOn(layout, line.key, s) });
      }
    }
  }
  const index = indexBoxes(loose.flatMap(({ pose: { x, y } }) => [x - CLOSE, y - CLOSE, x + CLOSE, y + CLOSE]));
  const places: Place[] = [];
  loose.forEach((a, i) => {
    const { x, y } = a.pose;
    for (const j of index.overlapping(x, y, x, y)) {
      const b = loose[j];
      if (!b || j <= i) continue;
      const apart = distance(a.pose, b.pose);
      if (apart > CLOSE || Math.abs(a.height - b.height) > CLOSE) continue;
      places.push(
        placeOn(a.line, a.s, apart, `lies ${apart.toFixed(1)} mm from the end of ${thingOf(b.line)}, not joined`),
      );
    }
  });
  return places;
}

/** A bumper stands where track goes no farther. */
function badBumpers(layout: Layout): Place[] {
  const places: Place[] = [];
  const { plan, network } = layout;
  for (const [id, track] of Object.entries(plan.tracks)) {
    const line = track.bumpers?.length ? layout.lines.get(`track:${id}`) : undefined;
    const edges = line && network.byLine.get(line.key);
    for (const end of line ? (track.bumpers ?? []) : []) {
      const place = end === "start" ? edges?.[0]?.a : edges?.at(-1)?.b;
      const beyond = place && network.nodes.get(place.node)?.sides[place.side === 0 ? 1 : 0];
      if (line && beyond && beyond.length > 0)
        places.push(placeOn(line, stationOf(line, end), undefined, "a bumper stands where the track goes on"));
    }
  }
  return places;
}
