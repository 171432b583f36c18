/**
 * Whether a turnout finds room on its track, and where the nearest room is.
 *
 * Always holds: a turnout that fits lies on its track from joint to heel and on no other turnout's track.
 */
import type { Millimetres } from "../../geometry/units.js";
import { amend } from "../../plan/edit.js";
import type { Id, Turnout } from "../../plan/schema.js";
import type { Layout } from "../layout.js";
import { END_SLACK, stretchNeeded, turnoutShapeOf } from "../turnout-on-host.js";

export type TurnoutFit =
  | { readonly ok: true; readonly turnout: Turnout }
  | { readonly ok: false; readonly why: string };

/** Moved along the track at most `slide` to lie within it; `except` is the turnout itself where it is there already. */
export function turnoutFit(
  layout: Layout,
  turnout: Turnout,
  except?: Id,
  slide = Number.POSITIVE_INFINITY,
): TurnoutFit {
  const line = layout.lines.get(`track:${turnout.on}`);
  if (!line) return no("there is no track for the turnout");
  const shape = turnoutShapeOf(turnout, layout.plan, new Map());
  if (!shape.ok) return no(shape.note);
  const { length } = line.path;
  if (turnout.hand === "wye") return { ok: true, turnout };
  const { from, to } = stretchNeeded(turnout, shape.value);
  if (to - from > length + END_SLACK) return no(tooShort(to - from, length));
  // Joint to heel may be a hair longer than the track: what is over lies at its end.
  const by = from < 0 ? -from : to > length ? Math.max(length - to, -from) : 0;
  if (Math.abs(by) > slide + END_SLACK) return no(tooShort(to - from, length));
  const moved = by === 0 ? turnout : amend(turnout, { at: Math.max(0, (turnout.at ?? 0) + by) });
  const other = overlapped(layout, moved, from + by, to + by, except);
  return other === undefined ? { ok: true, turnout: moved } : no(`it would lie on turnout ${nameOf(layout, other)}`);
}

const no = (why: string): TurnoutFit => ({ ok: false, why });
const tooShort = (needs: Millimetres, has: Millimetres): string =>
  `the turnout takes ${Math.round(needs)} mm of track, and there are ${Math.round(has)} mm`;

const nameOf = ({ plan }: Layout, id: Id): string => plan.turnouts[id]?.name ?? id;

function overlapped(
  layout: Layout,
  turnout: Turnout,
  from: Millimetres,
  to: Millimetres,
  except: Id | undefined,
): Id | undefined {
  for (const other of layout.turnouts.values()) {
    if (other.id === except || other.host !== `track:${turnout.on}` || other.hand === "wye") continue;
    const [low, high] = [Math.min(other.joint, other.heel), Math.max(other.joint, other.heel)];
    if (from < high - END_SLACK && to > low + END_SLACK) return other.id;
  }
  return undefined;
}
