/**
 * When a climb may be where: lanes and turns near existing track can be used only once the climb is high enough to pass
 * over it. Worked out once for every lane and turn, when first asked for.
 */
import type { Millimetres } from "../geometry/units.js";
import { type ExistingTrack, goneToPass } from "./existing-track.js";
import type { LaneTurn } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";

const STEP: Millimetres = 40;

export class Passing {
  private readonly lanes = new Map<number, readonly (readonly [s: Millimetres, gone: Millimetres])[]>();
  private readonly turns = new Map<number, Millimetres>();

  constructor(
    private readonly existing: ExistingTrack,
    private readonly low: Millimetres,
    private readonly limits: ClimbLimits,
  ) {}

  /** Least way gone at which a turn may begin. */
  notBefore(turn: LaneTurn): Millimetres {
    const known = this.turns.get(turn.index);
    if (known !== undefined) return known;
    let least = 0;
    turn.stations.forEach((station, i) => {
      const gone = this.goneAt(turn.points[2 * i] ?? 0, turn.points[2 * i + 1] ?? 0, this.limits.throws);
      if (gone > 0) least = Math.max(least, gone - station);
    });
    this.turns.set(turn.index, least);
    return least;
  }

  /** Whether a lane may be followed from one place to another by a climb that has gone so far at the first. */
  along(lane: Lane, from: Millimetres, to: Millimetres, gone: Millimetres): boolean {
    return this.marksOf(lane).every(([s, least]) => s < from || s > to || gone + s - from >= least);
  }

  private marksOf(lane: Lane): readonly (readonly [Millimetres, Millimetres])[] {
    const known = this.lanes.get(lane.index);
    if (known) return known;
    const marks: (readonly [number, number])[] = [];
    for (const [from, to] of lane.runs) {
      for (let s = from; s <= to; s += STEP) {
        const gone = this.goneAt(lane.x + s * lane.ux, lane.y + s * lane.uy, 0);
        if (gone > 0) marks.push([s, gone]);
      }
    }
    this.lanes.set(lane.index, marks);
    return marks;
  }

  private goneAt(x: Millimetres, y: Millimetres, throws: Millimetres): Millimetres {
    return goneToPass(this.existing.bandsAt(x, y, throws), this.low, this.limits);
  }
}
