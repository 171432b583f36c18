/** The ladder tool: parallel tracks off a ladder from an end, by number, spacing, frog number and length. */
import { ladderLacks, makeLadder, type LadderWishes } from "../../layout/trackwork-makers/ladder.js";
import { type GroupWishes, groupTool } from "./track-group.js";

type Kind = LadderWishes["kind"];
const KINDS: readonly { readonly value: Kind; readonly label: string }[] = [
  { value: "straight", label: "Straight" },
  { value: "compound", label: "Compound" },
  { value: "curved-lead", label: "Curved lead" },
];
const wishesOf = ({ kind, ...wishes }: GroupWishes): LadderWishes => ({
  ...wishes,
  kind: KINDS.find(({ value }) => value === kind)?.value ?? "straight",
});

export const ladderTool = groupTool({
  id: "ladder",
  name: "Ladder",
  key: "d",
  fields: ["tracks", "spacing", "number", "length"],
  kindLabel: "Kind",
  kinds: KINDS,
  runaround: false,
  make: (layout, wishes) => makeLadder(layout, wishesOf(wishes)),
  lacks: (plan, wishes) => ladderLacks(plan, wishesOf(wishes)),
  farthest: (tracks) => tracks.findLast(([, { bumpers }]) => bumpers?.includes("end"))?.[0],
});
