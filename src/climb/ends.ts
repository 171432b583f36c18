/**
 * The ends of a climb: where it may leave and arrive, how high, and what has to be laid for it to do so. The free end of
 * a track is one such place; a place on a track is up to four, for a turnout can face either way and lead off to either side.
 */
import type { Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { hiddenByLine } from "../layout/hidden.js";
import { anchoredEnd } from "../layout/joints.js";
import type { Layout } from "../layout/layout.js";
import { straightHeightAt } from "../layout/profile.js";
import { placeOfAnchor } from "../layout/trackwork-makers/building.js";
import { done, type Edit } from "../plan/edit.js";
import { freshId } from "../plan/fresh-id.js";
import type { Id, Plan, TrackClass, Turnout } from "../plan/schema.js";
import { leastTurnout } from "../plan/settings.js";
import { placeTurnout } from "../plan/turnout-edits.js";
import { LEAST_HIDDEN_TURNOUT } from "../standards/operation.js";
import { type EndRoom, roomBehind } from "./end-room.js";
import { TURNOUT_RULES, type RouteJudge } from "./judge-route.js";
import { type ClimbEnd, type FreeEnd, isTurnoutPlace, type TurnoutPlace } from "./request.js";

export interface PlacedEnd {
  /** Looking away from the track that is there. */
  readonly pose: Pose;
  readonly height: Millimetres;
  readonly deck: Id;
  readonly room: EndRoom;
  readonly anchor: FreeEnd;
  /** Lays what the end needs: nothing, or its turnout. */
  readonly lay: (plan: Plan) => Edit;
}

interface Refusal {
  readonly why: string;
}

/** Every way the end may be made, or in words why there is none. `name` is what its turnout is called after. */
export function placedEnds(
  layout: Layout,
  end: ClimbEnd,
  trackClass: TrackClass,
  name: string,
  judge: RouteJudge,
): readonly PlacedEnd[] | Refusal {
  if (!isTurnoutPlace(end)) {
    const placed = placeEnd(layout, end, (plan) => done("Lay climb", plan));
    return "why" in placed ? placed : [placed];
  }
  const track = layout.plan.tracks[end.track];
  const line = layout.lines.get(`track:${end.track}`);
  if (!track || !line) return { why: "there is no such track" };
  if (!(end.at >= 0 && end.at <= line.path.length)) return { why: "that is beyond the end of the track" };
  const hidden = hiddenByLine(layout.hidden)
    .get(line.key)
    ?.some(({ from, to }) => end.at >= from && end.at <= to);
  const number = Math.max(
    leastTurnout(layout.plan, track.class).value,
    leastTurnout(layout.plan, trackClass).value,
    hidden ? LEAST_HIDDEN_TURNOUT.value : 0,
  );
  const ends: PlacedEnd[] = [];
  let why = "";
  for (const turnout of turnoutsAt(end, number)) {
    const placed = withTurnout(layout, turnout, name, judge);
    if ("why" in placed) why ||= placed.why;
    else ends.push(placed);
  }
  return ends.length > 0 ? ends : { why: `a No. ${number} turnout cannot stand there: ${why}` };
}

const FACINGS = ["with", "against"] as const;
const HANDS = ["left", "right"] as const;

const turnoutsAt = ({ track, at, facing, hand }: TurnoutPlace, number: number): Turnout[] =>
  FACINGS.filter((way) => facing === undefined || facing === way).flatMap((way) =>
    HANDS.filter((side) => hand === undefined || hand === side).map((side) => {
      return { on: track, at, facing: way, hand: side, number };
    }),
  );

function withTurnout(layout: Layout, turnout: Turnout, name: string, judge: RouteJudge): PlacedEnd | Refusal {
  const id = freshId(layout.plan, name);
  const lay = (plan: Plan): Edit => placeTurnout(plan, id, turnout);
  const edit = lay(layout.plan);
  if (!edit.ok) return { why: edit.message };
  const judged = judge.judge(edit.plan, "", TURNOUT_RULES);
  return "fails" in judged ? { why: judged.fails } : placeEnd(judged.layout, { turnout: id }, lay);
}

function placeEnd(layout: Layout, anchor: FreeEnd, lay: PlacedEnd["lay"]): PlacedEnd | Refusal {
  const place = placeOfAnchor(layout, anchor);
  if ("why" in place) return place;
  const end = anchoredEnd(anchor, layout);
  const line = end && layout.lines.get(end.line);
  const profile = end && layout.profiles.get(end.line);
  if (!end || !line || !profile) return { why: "no track lies there" };
  const height = straightHeightAt(profile, end.end === "start" ? 0 : line.path.length);
  return { pose: place.pose, height, deck: line.deck, room: roomBehind(layout, end), anchor, lay };
}
