/** The yard tool: a lead, a ladder and body tracks from an end, stub-ended or double-ended, with a runaround or without. */
import { makeYard, yardLacks, type YardWishes } from "../../layout/trackwork-makers/yard.js";
import { type GroupWishes, groupTool } from "./track-group.js";

const wishesOf = ({ kind, ...wishes }: GroupWishes): YardWishes => ({
  ...wishes,
  ends: kind === "double" ? "double" : "stub",
});

export const yardTool = groupTool({
  id: "yard",
  name: "Yard",
  key: "y",
  fields: ["tracks", "spacing", "number", "length", "lead"],
  kindLabel: "Ends",
  kinds: [
    { value: "stub", label: "Stub" },
    { value: "double", label: "Double" },
  ],
  runaround: true,
  make: (layout, wishes) => makeYard(layout, wishesOf(wishes)),
  lacks: yardLacks,
  farthest: (tracks) =>
    (tracks.findLast(
      ([, track]) => track.class === "lead" && "track" in track.start && leads(tracks, track.start.track),
    ) ?? tracks.findLast(([, { bumpers }]) => bumpers?.includes("end")))?.[0],
});

/** The lead of the far end goes on from road 1, which is new too; that of the near end from what was there. */
const leads = (tracks: readonly (readonly [id: string, track: unknown])[], id: string): boolean =>
  tracks.some(([other]) => other === id);
