/** Details of the plan as a whole, shown while nothing is selected. */
import { decksInOrder } from "../../../drafting/decks.js";
import { refused } from "../../../plan/edit.js";
import { presetStandards } from "../../../plan/presets.js";
import { type Plan, TRACK_CLASSES } from "../../../plan/schema.js";
import { setNotes, setScale, setTitle, setUnits } from "../../../plan/setting-edits.js";
import type { Scale } from "../../../standards/scales.js";
import { ALL_SCALES as scales, scaleKey } from "../../files/new-plan.js";
import { limitsOfClass, plainLimits } from "../limits.js";
import { type Details, quantityText, type Section } from "./field.js";
import { choice } from "./parts.js";
import { ceilingField } from "./room-details.js";

/** `HO 1:87.1, NMRA`. */
export const scaleName = ({ name, ratio, body }: Scale): string =>
  `${name.includes("1:") ? name : `${name} 1:${ratio}`}, ${body}`;

/** `opensIn` are the units kept in the file, whatever is on display. */
export function planDetails(plan: Plan, opensIn: Plan["units"]): Details {
  const own = scales.find((scale) => scale.body === plan.standards.body && scale.name === plan.scale.name);
  const sections: Section[] = [
    {
      id: "plan",
      fields: [
        {
          kind: "text",
          id: "title",
          label: "Title",
          value: plan.title,
          set: (now, title) => (title.trim() === "" ? refused("a plan has a title") : setTitle(now, title.trim())),
        },
        {
          kind: "choice",
          id: "scale",
          label: "Scale",
          note: "sets the limits",
          value: own ? scaleKey(own) : "own",
          choices: [
            ...(own ? [] : [{ value: "own", name: `${plan.scale.name} 1:${plan.scale.ratio}, own` }]),
            ...scales.map((scale) => ({ value: scaleKey(scale), name: scaleName(scale) })),
          ],
          set: (now, value) => {
            const scale = scales.find((one) => scaleKey(one) === value);
            if (!scale) return refused(`there is no scale "${value}"`);
            const { name, ratio, gauge } = scale;
            return setScale(now, { name, ratio, gauge }, presetStandards(scale));
          },
        },
        choice(
          { id: "units", label: "Units", note: "on opening", value: opensIn },
          [
            ["imperial", "feet and inches"],
            ["metric", "millimetres"],
          ],
          setUnits,
        ),
        ceilingField(plan),
        { kind: "text", id: "notes", label: "Notes", long: true, value: plan.notes ?? "", set: setNotes },
      ],
    },
    {
      id: "decks",
      title: "Decks",
      fields: [],
      things: decksInOrder(plan)
        .reverse()
        .map((id) => ({
          name: plan.decks[id]?.name ?? id,
          note: quantityText(plan.decks[id]?.height ?? 0, "length", plan.units),
          thing: { kind: "record", collection: "decks", id },
        })),
    },
    { id: "templates", title: "Measured turnouts", fields: [], templates: "all", folded: true },
    { id: "limits", title: "Limits and settings", fields: [], limits: plainLimits(plan), folded: true },
    ...TRACK_CLASSES.map((trackClass) => ({
      id: `limits.${trackClass}`,
      title: `Limits, ${trackClass}`,
      fields: [],
      limits: limitsOfClass(trackClass),
      folded: true,
    })),
  ];
  return { title: "Plan", about: plan.title, sections };
}
