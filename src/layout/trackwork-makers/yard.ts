/**
 * Yards: a lead, on it the turnout of a ladder, and body tracks parallel to the lead; stub-ended, or double-ended with the
 * same mirrored at the far end; with a runaround on the other side where it is asked for.
 *
 * Always holds: road 1 goes on as the lead, every other road runs beside the one before; roads lie the spacing apart; the
 * shortest is straight for the length asked for; what does not fit is refused with how much is short.
 */
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import type { Anchor, Id, Leg, Plan, Side, Turnout } from "../../plan/schema.js";
import { settingOf } from "../../plan/settings.js";
import type { Layout } from "../layout.js";
import { otherSide } from "../relay/relocate.js";
import { type Body, layBodies } from "./bodies.js";
import { Building, placeOfAnchor } from "./building.js";
import { ladderBodies, type LadderPlan, shortOf } from "./ladder.js";
import { bendOf, clearRadius, mm, turnoutSize } from "./turnout-size.js";

export interface YardWishes {
  /** End of a track or of a turnout's route; the roads run on as it leads. */
  readonly from: Anchor;
  /** Body tracks, 2 or more. */
  readonly tracks: number;
  readonly spacing: Millimetres;
  readonly number: number;
  /** The side of the lead the yard spreads to. */
  readonly hand: Side;
  /** Straight length of the shortest road. */
  readonly length: Millimetres;
  /** Lead before the first turnout, and as much at the far end of a double-ended yard. */
  readonly lead: Millimetres;
  readonly ends: "stub" | "double";
  readonly runaround: boolean;
  readonly deck: Id;
  readonly name?: string;
}

/** The ladder of a yard. */
function ladderOf(plan: Plan, { spacing, number, hand, deck, name = "Yard" }: LadderFigures): LadderPlan {
  const inward = otherSide(hand);
  const size = turnoutSize(plan, number);
  const bend = bendOf(plan, "yard", size.angle, inward);
  return { size, bend, spacing, hand: inward, class: "yard", deck, name: `${name} ladder` };
}
type LadderFigures = Pick<YardWishes, "spacing" | "number" | "hand" | "deck" | "name">;

/** What does not fit between roads so near together, and by how much; undefined where all does. */
export function yardLacks(plan: Plan, wishes: LadderFigures & Pick<YardWishes, "tracks">): string | undefined {
  const how = ladderOf(plan, wishes);
  return shortOf(how, wishes.tracks - 1) ?? crowdedThroat(how, wishes.tracks);
}

export function makeYard(layout: Layout, wishes: YardWishes): Edit {
  const { plan } = layout;
  const { from, tracks, spacing, number, hand, length, lead, ends, runaround, deck, name = "Yard" } = wishes;
  if (!(Number.isInteger(tracks) && tracks >= 2)) return refused("a yard has two tracks or more");
  if (!(length > 0)) return refused("the body tracks have no length");
  if (!(lead >= 0)) return refused("the lead has no length");
  const start = placeOfAnchor(layout, from);
  if ("why" in start) return refused(start.why);
  const inward = otherSide(hand);
  const how = ladderOf(plan, wishes);
  const { size, bend } = how;
  const step = spacing / Math.sin(size.angle);
  const why = yardLacks(plan, wishes);
  if (why !== undefined) return refused(why);

  const double = ends === "double";
  const settle = plan.scale.gauge;
  const along = spacing / Math.tan(size.angle);
  // x counts from the corner of the ladder's turnout on the lead; the far end is the same seen from `far`.
  const lastX = (tracks - 1) * along + bend.tangent + settle;
  const far = 2 * lastX + length;
  const end = double ? far - size.behind : lastX + length;
  // Road 1 of a stub yard goes on past the others for the runaround's turnout, and behind it as far as an engine is long.
  const tail = double || !runaround ? 0 : settle + size.length + settingOf(plan, "engine").value;
  const building = new Building(layout, "Lay yard");
  const leadLength = lead + size.length * (runaround ? 2 : 1);
  const leadId = building.add("tracks", `${name} lead`, {
    name: `${name} lead`,
    class: "lead",
    deck,
    start: from,
    legs: [{ straight: leadLength }],
  });
  const road1 = building.add("tracks", `${name} road 1`, {
    name: `${name} road 1`,
    class: "yard",
    deck,
    start: { track: leadId, end: "end" },
    legs: [{ straight: end + tail - size.behind }],
    ...(!double && { bumpers: ["end"] }),
  });
  const turnout = (on: Id, at: Millimetres, facing: Turnout["facing"], turns: Side, word = "ladder"): Id =>
    building.add("turnouts", `${name} ${word}`, { on, at, facing, hand: turns, number });

  const ladderFrom = turnout(leadId, leadLength - size.behind - size.corner, "with", hand);
  const corner = step - size.behind;
  const bodies = ladderBodies(
    building,
    how,
    { from: { turnout: ladderFrom }, legs: [], legsLength: 0, corner },
    tracks - 1,
  );
  // Their x counts from the first corner of the ladder.
  const roads = bodies.map((body) => ({ ...body, x: body.x + along }));
  let farLead: Id | undefined;
  let ended: Body[] = roads;
  if (double) {
    farLead = building.add("tracks", `${name} far lead`, {
      name: `${name} far lead`,
      class: "lead",
      deck,
      start: { track: road1, end: "end" },
      legs: [{ straight: leadLength }],
    });
    const back = turnout(farLead, size.behind + size.corner, "against", inward);
    const mirrored: LadderPlan = {
      ...how,
      hand,
      name: `${name} far ladder`,
      bend: bendOf(plan, "yard", size.angle, hand),
    };
    const others = ladderBodies(
      building,
      mirrored,
      { from: { turnout: back }, legs: [], legsLength: 0, corner },
      tracks - 1,
    );
    const radius = clearRadius(plan, "yard");
    ended = roads.map((road, i) => {
      const other = others[i];
      // Run the other way the curve has the other hand: out of the body, onto the ladder.
      const legs: Leg[] = other
        ? [...(other.before.length > 0 ? [bend.leg] : []), { join: { to: other.start, radius, easement: 0 } }]
        : [];
      return { ...road, after: { x: far - road.x, legs } };
    });
  }
  const first = { id: road1, x: size.behind, s: 0, to: end + tail };
  layBodies(
    building,
    ended,
    {
      class: "yard",
      deck,
      names: roads.map((_, i) => `${name} road ${i + 2}`),
      side: hand,
      spacing,
      radius: clearRadius(plan, "yard"),
      settle,
      end,
    },
    first,
  );
  if (runaround) layRunaround();
  return building.finish();

  /** On the other side of road 1, from a turnout on the lead to one on the far lead, or on road 1 a tail before its end. */
  function layRunaround(): void {
    const out = bendOf(plan, "yard", size.angle, hand);
    const straight = step - size.behind - out.tangent;
    // Corners of its two turnouts.
    const near = -size.length;
    const there = double ? far + size.length : end + settle + size.behind;
    const begins = Math.max(near + along + out.tangent, size.behind) + settle;
    const stops = Math.min(there - along - out.tangent, end) - settle;
    const goes = turnout(leadId, lead + size.joint, "with", inward, "runaround");
    const comes =
      double && farLead !== undefined
        ? turnout(farLead, leadLength - lead - size.joint, "against", hand, "runaround")
        : turnout(road1, there + size.corner - size.behind, "against", hand, "runaround");
    const radius = clearRadius(plan, "yard");
    const on = (x: Millimetres): Millimetres => x - size.behind;
    const abreast = (x: Millimetres): Anchor => ({ beside: { track: road1, at: on(x), side: inward, spacing } });
    const legs: Leg[] = [
      ...(straight > 0 ? [{ straight }] : []),
      out.leg,
      { join: { to: abreast(begins), radius, easement: 0 } },
      { beside: { track: road1, from: on(begins), to: on(stops), side: inward, spacing } },
    ];
    const level = there - along - out.tangent - stops;
    if (level > 0) legs.push({ straight: level });
    legs.push(out.leg, { join: { to: { turnout: comes }, radius, easement: 0 } });
    building.add("tracks", `${name} runaround`, {
      name: `${name} runaround`,
      class: "yard",
      deck,
      start: { turnout: goes },
      legs,
    });
  }
}

/** Between the turnout on the lead and the first one of the ladder, or the curve off it, the spacing must give room. */
function crowdedThroat({ size, bend, spacing }: LadderPlan, tracks: number): string | undefined {
  const next = tracks > 2 ? Math.max(size.joint + size.corner, bend.tangent) : bend.tangent;
  const room = spacing / Math.sin(size.angle) - size.behind - next;
  if (room >= 0) return undefined;
  const least = spacing - room * Math.sin(size.angle);
  return `between the lead and the ladder ${mm(-room)} are short: roads ${mm(least)} apart would do`;
}
