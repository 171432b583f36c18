/**
 * What can be done with all that is chosen: taken away, copied, mirrored, turned, nudged, joined, turned round. Pure:
 * each gives the effects that do it, so that keys, menus and panels do the same.
 */
import { type FreeEnd, freeEnds } from "../../drafting/snap-targets.js";
import type { Thing } from "../../drafting/thing.js";
import { distance, type Point } from "../../geometry/pose.js";
import type { Degrees, Millimetres } from "../../geometry/units.js";
import { type Chosen, middleOf } from "../../layout/relay/chosen.js";
import { type Clipping, copyChosen, pasteClipping } from "../../layout/relay/copy-chosen.js";
import { joinEnds } from "../../layout/relay/join-ends.js";
import { mirrorAbout, type Motion, shift, turnAbout } from "../../layout/relay/motion.js";
import { moveChosen } from "../../layout/relay/move-chosen.js";
import { alsoRemovedText, removeChosen } from "../../layout/relay/remove-chosen.js";
import { reverseTrack } from "../../layout/relay/reverse-track.js";
import { type Ref, printRef } from "../../plan/collections.js";
import { type Edit, refused } from "../../plan/edit.js";
import type { Effect, ToolInput } from "../tool.js";
import { limits } from "./lay-start.js";
import { sentence } from "./outcomes.js";

/** Openings and walls belong to the room and stay with it. */
export function chosenOf(selection: readonly Thing[]): Chosen {
  const refs = new Map<string, Ref>();
  for (const thing of selection) {
    if (thing.kind !== "record") continue;
    const ref = { collection: thing.collection, id: thing.id };
    refs.set(printRef(ref), ref);
  }
  return {
    refs: [...refs.values()],
    obstacles: selection.flatMap((thing) => (thing.kind === "obstacle" ? [thing.id] : [])),
  };
}

const doing = (edit: Edit, then: readonly Effect[] = [], key?: string): readonly Effect[] =>
  edit.ok
    ? [{ do: "commit", edit, ...(key !== undefined && { key }) }, ...then]
    : [{ do: "abandon" }, { do: "say", text: sentence(edit.message) }];

export function deleteChosen({ plan, selection }: ToolInput): readonly Effect[] {
  const chosen = chosenOf(selection);
  const also = alsoRemovedText(plan, chosen.refs);
  return doing(removeChosen(plan, chosen), also === "" ? [] : [{ do: "say", text: sentence(also) }]);
}

function move(input: ToolInput, motion: (middle: Point) => Motion, name: string, key?: string): readonly Effect[] {
  const chosen = chosenOf(input.selection);
  const middle = middleOf(input.layout, chosen);
  if (!middle) return doing(refused("nothing chosen has a place of its own on the sheet"));
  return doing(moveChosen(input.layout, chosen, motion(middle), name), [], key);
}

/** Nudges that follow one another are one step of undo. */
export const nudgeChosen = (input: ToolInput, right: Millimetres, up: Millimetres): readonly Effect[] =>
  move(input, () => shift(right, up), "Nudge", `nudge ${chosenOf(input.selection).refs.map(printRef).join(" ")}`);

/** Anticlockwise, about the middle of what is chosen. */
export const turnChosen = (input: ToolInput, angle: Degrees): readonly Effect[] =>
  move(input, (middle) => turnAbout(middle, angle), "Turn");

export const mirrorChosen = (input: ToolInput, way: "across" | "up"): readonly Effect[] =>
  move(input, (middle) => mirrorAbout(middle, way), "Mirror");

export type Copied =
  | { readonly ok: true; readonly clipping: Clipping }
  | { readonly ok: false; readonly effects: readonly Effect[] };

export function copyOfChosen({ layout, selection }: ToolInput): Copied {
  const copied = copyChosen(layout, chosenOf(selection));
  return copied.ok ? copied : { ok: false, effects: [{ do: "say", text: sentence(copied.message) }] };
}

/** Pasted with its middle at a point, or a little beside where it was copied; onto the deck in hand. */
export function pasteHere({ plan, deck }: ToolInput, clipping: Clipping, at?: Point): readonly Effect[] {
  const { middle } = clipping;
  const motion = at ? shift(at.x - middle.x, at.y - middle.y) : shift(ASIDE, -ASIDE);
  const { edit, refs } = pasteClipping(plan, clipping, { motion, deck });
  return doing(edit, [
    { do: "select", selection: refs.filter(standsAlone).map((ref): Thing => ({ kind: "record", ...ref })) },
  ]);
}

/** A copy lies this far to the right of and below what it was copied from: seen to be another, and near enough, mm. */
const ASIDE = 100;
const standsAlone = ({ collection }: Ref): boolean => collection !== "pins" && collection !== "turnouts";

export function duplicateChosen(input: ToolInput): readonly Effect[] {
  const copied = copyOfChosen(input);
  return copied.ok ? pasteHere(input, copied.clipping) : copied.effects;
}

const chosenTracks = ({ selection }: ToolInput): string[] =>
  chosenOf(selection).refs.flatMap((ref) => (ref.collection === "tracks" ? [ref.id] : []));

/** Every chosen track runs the other way. */
export function reverseChosen(input: ToolInput): readonly Effect[] {
  const tracks = chosenTracks(input);
  const [first] = tracks;
  if (first === undefined) return doing(refused("choose the track to turn round"));
  if (tracks.length > 1) return doing(refused("one track is turned round at a time"));
  return doing(reverseTrack(input.layout, first));
}

/** The two nearest free ends of two chosen tracks or turnouts are joined at the class's least radius. */
export function joinChosen(input: ToolInput): readonly Effect[] {
  const { plan, layout } = input;
  const { refs } = chosenOf(input.selection);
  const things = refs.filter(({ collection }) => collection === "tracks" || collection === "turnouts");
  if (things.length !== 2) return doing(refused("choose two tracks, or a track and a turnout, to join"));
  const [a = [], b = []] = things.map(({ collection, id }) =>
    freeEnds(layout).filter((end) => end.id === id && (end.kind === "turnout") === (collection === "turnouts")),
  );
  let best: { readonly from: FreeEnd; readonly to: FreeEnd } | undefined;
  for (const from of a) {
    for (const to of b)
      if (!best || distance(from.pose, to.pose) < distance(best.from.pose, best.to.pose)) best = { from, to };
  }
  if (!best) return doing(refused("both need a free end to be joined"));
  const own = things
    .map(({ collection, id }) => (collection === "tracks" ? plan.tracks[id]?.class : undefined))
    .find((c) => c !== undefined);
  const trackClass = own ?? "main";
  return doing(joinEnds(plan, { ...best, class: trackClass, radius: limits(plan, trackClass).radius.value }));
}
