/** Tracks where a cut crosses them: railhead, the car that passes there as the cut sees it, and what carries the track. */
import { crossingAhead, type Stretch } from "../geometry/cut-area.js";
import { poseAt } from "../geometry/path.js";
import { offsetPoint, type Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "./layout.js";
import type { Line } from "./line.js";
import { ON_DECK } from "./on-deck.js";
import { heightAt } from "./profile.js";
import type { DeckBody } from "./section.js";

/** How far a car reaches to either side of a line beyond half its width, at each of the line's samples. */
export interface TrackThrows {
  readonly left: Float64Array;
  readonly right: Float64Array;
}

export interface CutTrack {
  readonly line: Line;
  /** Distance along the line, along the cut, and of the railhead above the floor. */
  readonly s: Millimetres;
  readonly at: Millimetres;
  readonly height: Millimetres;
  /** Sine of the angle between track and cut: 1 square across, less the more the cut runs along it. */
  readonly across: number;
  readonly hidden: boolean;
  readonly rails: readonly [Millimetres, Millimetres];
  /** The longest car as the cut sees it: its body, and with the throws of its curve. */
  readonly car: Stretch & { readonly top: Millimetres };
  readonly swept: Stretch;
  /** Structure of its own where no deck carries it. */
  readonly roadbed?: Stretch & { readonly bottom: Millimetres };
}

export function cutTracks(
  layout: Layout,
  pose: Pose,
  length: Millimetres,
  decks: readonly DeckBody[],
  throws?: (line: Line) => TrackThrows,
): CutTrack[] {
  const found: CutTrack[] = [];
  const end = offsetPoint(pose, length, 0);
  const [minX, maxX] = [Math.min(pose.x, end.x), Math.max(pose.x, end.x)];
  const [minY, maxY] = [Math.min(pose.y, end.y), Math.max(pose.y, end.y)];
  for (const line of layout.lines.values()) {
    const { count, x, y, s } = line.samples;
    for (let i = 1; i < count; i++) {
      const [px, py, qx, qy] = [x[i - 1] ?? 0, y[i - 1] ?? 0, x[i] ?? 0, y[i] ?? 0];
      if (
        (px < minX && qx < minX) ||
        (px > maxX && qx > maxX) ||
        (py < minY && qy < minY) ||
        (py > maxY && qy > maxY)
      ) {
        continue;
      }
      const crossing = crossingAhead(pose, { x: px, y: py }, { x: qx, y: qy });
      if (!crossing || crossing.ahead < 0 || crossing.ahead > length) continue;
      const from = s[i - 1] ?? 0;
      const place = from + crossing.share * ((s[i] ?? from) - from);
      const track = trackAt(layout, line, place, crossing.ahead, pose, decks, i, crossing.share, throws);
      if (track) found.push(track);
    }
  }
  return found.sort((a, b) => a.at - b.at || a.height - b.height || (a.line.key < b.line.key ? -1 : 1));
}

function trackAt(
  { plan, profiles, hidden }: Layout,
  line: Line,
  s: Millimetres,
  at: Millimetres,
  cut: Pose,
  decks: readonly DeckBody[],
  sample: number,
  share: number,
  throws?: (line: Line) => TrackThrows,
): CutTrack | undefined {
  const profile = profiles.get(line.key);
  if (!profile) return undefined;
  const height = heightAt(profile, s);
  const turn = poseAt(line.path, s).heading - cut.heading;
  const [sin, cos] = [Math.sin(turn), Math.cos(turn)];
  const { longestCar, roadbedWidth, trackStructure } = plan.standards;
  const { width, length, height: carHeight } = longestCar.value;
  // Along a track that the cut nearly follows a car is no longer than it is.
  const along = (reach: Millimetres, most: Millimetres): Millimetres =>
    Math.min(reach / Math.max(Math.abs(sin), 1e-9), most / Math.max(Math.abs(cos), 1e-9));
  const half = along(width / 2, length / 2);
  const thrown = (side: "left" | "right"): Millimetres => {
    const values = throws?.(line)[side];
    const before = values?.[sample - 1] ?? 0;
    return along(width / 2 + before + share * ((values?.[sample] ?? before) - before), length / 2);
  };
  // Where the track crosses the cut from its right to its left, what is left of the track lies back along the cut.
  const [back, ahead]: readonly ["left" | "right", "left" | "right"] = sin > 0 ? ["left", "right"] : ["right", "left"];
  const gauge = along(plan.scale.gauge / 2, length / 2);
  const carried = decks.some(
    ({ from, to, top }) => Math.abs(top - height) <= ON_DECK && at >= from - ON_DECK && at <= to + ON_DECK,
  );
  const bed = along(roadbedWidth.value / 2, length / 2);
  return {
    line,
    s,
    at,
    height,
    across: Math.abs(sin),
    hidden: hidden.some((stretch) => stretch.line === line.key && s >= stretch.from && s <= stretch.to),
    rails: [at - gauge, at + gauge],
    car: { from: at - half, to: at + half, top: height + carHeight },
    swept: { from: at - thrown(back), to: at + thrown(ahead) },
    ...(!carried && { roadbed: { from: at - bed, to: at + bed, bottom: height - trackStructure.value } }),
  };
}
