/**
 * A track while it is being resolved: its legs are laid one after another, and what is laid already can be asked for
 * before the rest is known. So a main may end at a turnout of a branch that itself leaves the main further back.
 */
import { makePath, type Path } from "../geometry/path.js";
import type { Pose } from "../geometry/pose.js";
import type { Segment } from "../geometry/segment.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Leg, Track } from "../plan/schema.js";
import type { Finding } from "./layout.js";
import type { Line } from "./line.js";
import { samePose } from "./make-line.js";

/** What a leg was laid from; the same again gives the same segments. */
export interface LegInput {
  readonly leg: Leg;
  readonly from: Pose;
  readonly easement: Millimetres;
  /** Pose a join leads to. */
  readonly goal?: Pose;
  /** Path a `beside` leg follows. */
  readonly host?: Path;
}

export interface LaidLeg {
  readonly input: LegInput;
  readonly path: Path;
}

/** What is kept of a resolved track, so that the next derivation need not repeat it. */
export interface TrackTrace {
  readonly track: Track;
  readonly start: Pose | undefined;
  readonly legs: readonly LaidLeg[];
  readonly findings: readonly Finding[];
  readonly line: Line | undefined;
  /** Where each leg begins along the track, and last where the track ends. */
  readonly legStations: readonly Millimetres[];
}

export class GrowingTrack {
  start: Pose | undefined;
  end: Pose | undefined;
  length: Millimetres = 0;
  /** It is being laid and waits for another: whoever asks it for more now asks in a circle. */
  busy = false;
  done = false;
  readonly legs: LaidLeg[] = [];
  readonly legStations: Millimetres[] = [];
  readonly findings: Finding[] = [];
  private made: Path | undefined;

  constructor(
    readonly id: Id,
    readonly track: Track,
    readonly trace: TrackTrace | undefined,
  ) {}

  place(start: Pose): void {
    const before = this.trace?.start;
    this.start = before && samePose(before, start) ? before : start;
    this.end = this.start;
    this.legStations.push(0);
  }

  /** Goes on with segments laid from an input; a leg laid before from the very same pose is taken over as it is. */
  add(input: LegInput, laid: readonly Segment[] | LaidLeg): void {
    const leg = "path" in laid ? laid : undefined;
    const same = leg && samePose(leg.path.start, input.from) ? leg : undefined;
    const next: LaidLeg = same ?? {
      input,
      path: makePath(input.from, leg ? leg.path.segments : (laid as readonly Segment[])),
    };
    this.legs.push(next);
    this.end = next.path.end;
    this.length += next.path.length;
    this.legStations.push(this.length);
    this.made = undefined;
  }

  /** What is laid so far; undefined until the start is known. */
  path(): Path | undefined {
    if (!this.start) return undefined;
    this.made ??= this.asBefore() ?? chain(this.start, this.legs);
    return this.made;
  }

  private asBefore(): Path | undefined {
    const { trace, legs } = this;
    const line = trace?.line;
    if (!line || trace.legs.length !== legs.length) return undefined;
    return legs.every((leg, i) => leg === trace.legs[i]) ? line.path : undefined;
  }
}

/** One path of legs that already follow one another; nothing is computed again. */
function chain(start: Pose, legs: readonly LaidLeg[]): Path {
  const segments: Segment[] = [];
  const stations: Millimetres[] = [0];
  const poses: Pose[] = [];
  let length = 0;
  for (const { path } of legs) {
    path.segments.forEach((g, i) => {
      segments.push(g);
      const pose = path.poses[i];
      if (pose) poses.push(pose);
      stations.push(length + (path.stations[i + 1] ?? path.length));
    });
    length += path.length;
  }
  return { start, segments, length, end: legs.at(-1)?.path.end ?? start, stations, poses };
}
