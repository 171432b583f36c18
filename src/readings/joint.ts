/**
 * Joints: gaps and kinks where tracks should meet, ends that lie close but are not joined, and whatever the layout
 * could not lay as the plan asks. The value counts what is wrong; none may be.
 */
import { distance } from "../geometry/pose.js";
import { toDegrees, wrapAngle } from "../geometry/units.js";
import type { Finding, Layout } from "../layout/layout.js";
import type { Plan } from "../plan/schema.js";
import { foundByLine, joinedLists } from "./line-context.js";
import { crowdedNodes, endsTooClose, poseOut, stationOf } from "./loose-ends.js";
import type { Place } from "./reading.js";
import { remember } from "./remember.js";
import { MOST_PLACES, placeOn, type Rule, thingOf } from "./rule.js";

/** A gap a wheel would feel, mm, and a kink an eye would see, radians (0.06 degrees). */
const GAP = 0.05;
const KINK = 0.001;

export const joint: Rule = {
  id: "joint",
  take({ layout }) {
    const places = [
      ...layout.findings.map(findingPlace),
      ...joinedLists(badJoints(layout)),
      ...crowded(layout),
      ...closeEnds(layout),
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

const badJoints = foundByLine(({ line, joined }): readonly Place[] =>
  joined.flatMap(({ end, other, otherEnd }) => {
    // Told once for both sides.
    if (other.key < line.key || (other.key === line.key && otherEnd < end)) return [];
    const [a, b] = [poseOut(line, end), poseOut(other, otherEnd)];
    const gap = distance(a, b);
    const kink = Math.abs(wrapAngle(a.heading - b.heading + Math.PI));
    const s = stationOf(line, end);
    if (gap > GAP) return [placeOn(line, s, gap, `gap of ${gap.toFixed(1)} mm to ${thingOf(other)}`)];
    const note = `kink of ${toDegrees(kink).toFixed(1)} degrees to ${thingOf(other)}`;
    return kink > KINK ? [placeOn(line, s, kink, note)] : [];
  }),
);

const closeEnds = (layout: Layout): Place[] =>
  endsTooClose(layout).map(({ a, b, apart }) =>
    placeOn(a.line, a.s, apart, `lies ${apart.toFixed(1)} mm from the end of ${thingOf(b.line)}, not joined`),
  );

function crowded(layout: Layout): Place[] {
  return crowdedNodes(layout).flatMap(({ node, edge: index }) => {
    const edge = layout.network.edges[index];
    const line = edge && layout.lines.get(edge.line);
    if (!edge || !line) return [];
    const s = edge.a.node === node ? edge.from : edge.to;
    return [placeOn(line, s, undefined, "more than two tracks meet at one end; it wants a turnout")];
  });
}

/** A bumper stands where track goes no farther. */
function badBumpers(layout: Layout): Place[] {
  const places: Place[] = [];
  const { plan, network } = layout;
  for (const [id, track] of bumpered(plan.tracks)) {
    const line = layout.lines.get(`track:${id}`);
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

const bumpered = remember((tracks: Plan["tracks"]) =>
  Object.entries(tracks).filter(([, { bumpers }]) => bumpers !== undefined && bumpers.length > 0),
);
