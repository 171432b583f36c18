/** `templates`: chosen track at full size, on sheets of paper or a roll, to lay on the benchwork. */
import { Command, Option } from "commander";
import {
  deckNamed,
  deriveLayout,
  type Id,
  parseLength,
  type Plan,
  TRACK_CLASSES,
  type TrackClass,
} from "../../core/index.js";
import { templatesPdf } from "../../exchange/pdf/templates.js";
import { paperOrTrouble, USUAL_PAPER } from "../export-formats.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { during } from "../progress.js";
import { Trouble } from "../trouble.js";

interface TemplatesOptions extends OutputOptions, UnitsOptions {
  readonly tracks?: string;
  readonly classes?: readonly TrackClass[];
  readonly deck?: string;
  readonly paper?: string;
  readonly riserEvery?: string;
}

export const templatesCommand = (): Command =>
  new Command("templates")
    .description(
      "print track at full size as PDF: rails, ties, joints, risers with their heights, and a key to the sheets",
    )
    .argument("<file>", "plan file; - is stdin")
    .addOption(outputOption())
    .addOption(forceOption())
    .option("--tracks <names>", "tracks by name or id, set apart by commas (every track where left out)")
    .addOption(new Option("--classes <class...>", "tracks of these classes").choices(TRACK_CLASSES))
    .option("--deck <name>", "one deck, by name or id")
    .option("--paper <paper>", "A4, A3, Letter, Tabloid, Arch D or a roll, as 'roll 24in'")
    .option("--riser-every <length>", "between two marks of height along a track, as 12in or 300mm")
    .addOption(unitsOption())
    .action(async (file: string, options: TemplatesOptions) => {
      const { plan, file: name } = openPlan(file, options.units);
      const deck = options.deck === undefined ? undefined : deckNamed(plan, options.deck);
      if (options.deck !== undefined && deck === undefined) {
        throw new Trouble(`${name}: --deck: no deck is called "${options.deck}"`);
      }
      const paper = options.paper === undefined ? USUAL_PAPER[plan.units] : paperOrTrouble(options.paper, plan.units);
      const every = options.riserEvery === undefined ? undefined : lengthOrTrouble(plan, options.riserEvery);
      const tracks = options.tracks === undefined ? undefined : tracksOrTrouble(plan, name, options.tracks);
      const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
      const made = await templatesPdf(layout, {
        paper,
        date: new Date(),
        ...(tracks && { tracks }),
        ...(options.classes && { classes: options.classes }),
        ...(deck !== undefined && { deck }),
        ...(every !== undefined && { riserEvery: every }),
      });
      if (!made.ok) throw new Trouble(`${name}: ${made.message}`);
      writeOut(made.bytes, options.output, options.force === true);
    });

/** By id, or by name as it is written but for capitals. */
function tracksOrTrouble(plan: Plan, file: string, names: string): Id[] {
  return names.split(",").flatMap((part) => {
    const name = part.trim();
    if (plan.tracks[name]) return [name];
    const same = Object.entries(plan.tracks).filter(([, track]) => track.name?.toLowerCase() === name.toLowerCase());
    if (same.length === 0) throw new Trouble(`${file}: --tracks: no track is called "${name}"`);
    return same.map(([id]) => id);
  });
}

function lengthOrTrouble(plan: Plan, text: string): number {
  const parsed = parseLength(text, plan.units);
  if (!parsed.ok) throw new Trouble(`--riser-every: ${parsed.message}`);
  return parsed.mm;
}
