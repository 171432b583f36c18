/** Plans of sidings, yards and the like in a few words, laid by hand so that their lengths follow from their figures. */
import { at, type Draft, from, plan, right, straight } from "./fixture.js";

/** The angle of a No. 6, degrees: 2 atan(1/12). */
export const NO_6 = 9.52728338140617;

export interface PassingWishes {
  /** Length of the main, mm; the points lie 300 mm from its ends. */
  readonly length: number;
  readonly apart?: number;
  readonly draft?: Draft;
}

/** Radius of the curves that turn the siding parallel, mm. */
export const BACK = 700;

/** A siding `apart` from a main from (500, 1000) to the right, between two turnouts No. 6. */
export function passingPlan({ length, apart = 60, draft = plan().limits({ centres: 50 }) }: PassingWishes): Draft {
  const points = draft
    .track("main", at(500, 1000), [straight(length)])
    .turnout("w", { on: "main", at: 300, hand: "left" })
    .turnout("e", { on: "main", at: length - 300, hand: "right", facing: "against" });
  const { layout } = points;
  const [west, east] = [layout.lines.get("turnout:w")?.path.end, layout.lines.get("turnout:e")?.path.end];
  if (!west || !east) throw new Error("the turnouts do not fit");
  const lead = (apart - (west.y - 1000) - BACK * (1 - Math.cos(west.heading))) / Math.sin(west.heading);
  const between = east.x - west.x - 2 * (lead * Math.cos(west.heading) + BACK * Math.sin(west.heading));
  const legs = [straight(lead), right(BACK, NO_6), straight(between), right(BACK, NO_6)];
  return points.track("siding", from("w"), [...legs, { join: { to: from("e"), radius: BACK } }], { class: "siding" });
}

export interface YardWishes {
  /** Track before the ladder, mm: of class lead, or none where the ladder hangs on the main. */
  readonly lead?: number;
  /** Lengths of the yard's tracks behind their turnouts. */
  readonly tracks: readonly number[];
}

const FIRST = 400;
const EVERY = 380;

/** Tracks to the left of a ladder from (1000, 2000) to the right; its first points lie so far beyond its beginning. */
export function yardPlan({ lead, tracks }: YardWishes): Draft {
  const off = lead !== undefined;
  const ladder = (lead ?? FIRST) + tracks.length * EVERY + 100;
  let draft = plan()
    .limits({ centres: 50 })
    .standards({ averageCar: 150, engine: 200, yardWorks: 50 })
    .track("ladder", at(1000, 2000), [straight(ladder)], { class: off ? "lead" : "main" });
  tracks.forEach((length, i) => {
    draft = draft
      .turnout(`t${i}`, { on: "ladder", at: (lead ?? FIRST) + i * EVERY, hand: "left" })
      .track(`y${i}`, from(`t${i}`), [straight(length)], { class: "yard" });
  });
  return draft;
}
