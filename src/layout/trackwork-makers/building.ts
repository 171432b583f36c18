/**
 * Records put into a plan one after another, each with an id of its own, and the proof that what was put can be laid.
 *
 * Always holds: an edit that succeeds brings no finding the layout did not have.
 */
import { andThen, done, type Edit, putRecord, refused } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import type { RecordOf } from "../../plan/collections.js";
import type { Anchor, Collection, Id, Plan } from "../../plan/schema.js";
import { deriveLayout } from "../derive.js";
import { anchoredEnd } from "../joints.js";
import type { Layout } from "../layout.js";
import type { Pose } from "../../geometry/pose.js";
import { reversePose } from "../../geometry/pose.js";
import type { Path } from "../../geometry/path.js";
import { type Millimetres, toRadians } from "../../geometry/units.js";
import { stallsTaken } from "../stalls.js";

export class Building {
  private edit: Edit;

  constructor(
    private readonly layout: Layout,
    private readonly name: string,
  ) {
    this.edit = done(name, layout.plan);
  }

  get plan(): Plan {
    return this.edit.ok ? this.edit.plan : this.layout.plan;
  }

  /** A record under an id made from a name; gives the id. */
  add<C extends Collection>(collection: C, name: string, record: RecordOf<C>): Id {
    const id = freshId(this.plan, name);
    this.put(collection, id, record);
    return id;
  }

  put<C extends Collection>(collection: C, id: Id, record: RecordOf<C>): void {
    this.edit = andThen(this.edit, (plan) => putRecord(plan, collection, id, record), this.name);
  }

  /** The edit, where all of it can be laid. */
  finish(): Edit {
    if (!this.edit.ok) return this.edit;
    const known = new Set(this.layout.findings.map(({ thing, note }) => `${thing} ${note}`));
    const fault = deriveLayout(this.edit.plan, this.layout).findings.find(
      ({ thing, note }) => !known.has(`${thing} ${note}`),
    );
    return fault ? refused(`${fault.thing} does not fit: ${fault.note}`) : this.edit;
  }
}

export interface StartPlace {
  readonly pose: Pose;
  /** How much straight lies before it; nothing is known of a bare place on the sheet. */
  readonly straight: Millimetres;
}

function straightAtEnd({ segments }: Path, end: "start" | "end"): Millimetres {
  let straight = 0;
  for (const { length, k0, k1 } of end === "start" ? segments : segments.toReversed()) {
    if (k0 !== 0 || k1 !== 0) return straight;
    straight += length;
  }
  return Number.POSITIVE_INFINITY;
}

/** Where track that goes on from an anchor begins; in words where it cannot. */
export function placeOfAnchor(layout: Layout, anchor: Anchor): StartPlace | { readonly why: string } {
  if ("pose" in anchor) {
    const { x, y, heading } = anchor.pose;
    return { pose: { x, y, heading: toRadians(heading) }, straight: Number.POSITIVE_INFINITY };
  }
  if ("turntable" in anchor) {
    const pose = layout.turntables.get(anchor.turntable)?.stalls[anchor.stall];
    if (!pose) return { why: "there is no such stall" };
    const taken = stallsTaken(layout.plan).has(`${anchor.turntable}:${anchor.stall}`);
    return taken ? { why: "a track leads from that stall already" } : { pose, straight: Number.POSITIVE_INFINITY };
  }
  const end = anchoredEnd(anchor, layout);
  const path = end && layout.lines.get(end.line)?.path;
  if (!end || !path) return { why: "it begins at the end of a track or of a turnout" };
  const edges = layout.network.byLine.get(end.line);
  const place = end.end === "start" ? edges?.[0]?.a : edges?.at(-1)?.b;
  const node = place && layout.network.nodes.get(place.node);
  if (node?.kind === "turntable" || (node?.sides[place?.side === 0 ? 1 : 0].length ?? 0) > 0)
    return { why: "track goes on from there already" };
  return { pose: end.end === "end" ? path.end : reversePose(path.start), straight: straightAtEnd(path, end.end) };
}
