/** `export`: the plan in a form that paper, saw, spreadsheet or friend can use. */
import { Command, Option } from "commander";
import {
  deckNamed,
  deriveLayout,
  type Id,
  parseLength,
  parseScale,
  type Plan,
  type Reading,
  takeReadings,
} from "../../core/index.js";
import {
  CSV_CONTENTS,
  type CsvContents,
  FORMAT_NAMES,
  FORMATS,
  formatOf,
  paperOrTrouble,
  refuseUnfit,
  USUAL_PAPER,
} from "../export-formats.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { during } from "../progress.js";
import { Trouble } from "../trouble.js";

interface ExportOptions extends OutputOptions, UnitsOptions {
  readonly format?: string;
  readonly deck?: string;
  readonly theme?: "light" | "dark";
  readonly rails?: boolean;
  readonly what?: CsvContents;
  readonly every?: string;
  readonly paper?: string;
  readonly scale?: string;
}

const help = (): string => `\nForms:\n${FORMATS.map(({ name, is }) => `  ${name.padEnd(6)}${is}\n`).join("")}`;

export const exportCommand = (): Command =>
  new Command("export")
    .description("write a plan as a drawing, a table or a page, by the ending of the output file")
    .argument("<file>", "plan file; - is stdin")
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(new Option("--format <form>", "in place of the output's ending").choices(FORMAT_NAMES))
    .option("--deck <name>", "one deck, by name or id; the one shown first on a page")
    .addOption(new Option("--theme <theme>", "paper by day or by night").choices(["light", "dark"]))
    .option("--rails", "both rails (on layers of their own in DXF)")
    .addOption(new Option("--what <table>", "which table, for CSV").choices(CSV_CONTENTS))
    .option("--every <length>", "between two heights along a track, as 6in or 150mm, for CSV")
    .option("--paper <paper>", "A4, A3, Letter, Tabloid, Arch D or a roll, as 'roll 24in', for PDF")
    .option("--scale <scale>", "as 1:20 or '1/2 in', for PDF (the largest that fits where left out)")
    .addOption(unitsOption())
    .addHelpText("after", help())
    .action(async (file: string, options: ExportOptions) => {
      const format = formatOf(options.format, options.output);
      const { deck: named, theme, rails, what, every, paper: papered, scale: scaled } = options;
      refuseUnfit(format, {
        deck: named,
        theme,
        rails,
        what,
        every: every === undefined ? undefined : 0,
        paper: papered === undefined ? undefined : USUAL_PAPER.metric,
        scale: scaled === undefined ? undefined : 1,
      });
      const { plan, file: name } = openPlan(file, options.units);
      const deck = named === undefined ? undefined : deckOrTrouble(plan, name, named);
      const spacing = every === undefined ? undefined : spacingOrTrouble(plan, every);
      const paper = papered === undefined ? undefined : paperOrTrouble(papered, plan.units);
      const scale = scaled === undefined ? undefined : scaleOrTrouble(scaled);
      const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
      const readings = (): readonly Reading[] => during(`${name}: taking readings`, () => takeReadings(plan, layout));
      const written = await format.write({
        layout,
        readings,
        wishes: { deck, theme, rails, what, every: spacing, paper, scale },
      });
      writeOut(written, options.output, options.force === true);
    });

function deckOrTrouble(plan: Plan, file: string, name: string): Id {
  const deck = deckNamed(plan, name);
  if (deck === undefined) throw new Trouble(`${file}: --deck: no deck is called "${name}"`);
  return deck;
}

function spacingOrTrouble(plan: Plan, text: string): number {
  const parsed = parseLength(text, plan.units);
  if (!parsed.ok) throw new Trouble(`--every: ${parsed.message}`);
  if (parsed.mm <= 0) throw new Trouble("--every: heights are told every so far, more than nothing");
  return parsed.mm;
}

function scaleOrTrouble(text: string): number {
  const parsed = parseScale(text);
  if (!parsed.ok) throw new Trouble(`--scale: ${parsed.message}`);
  return parsed.scale;
}
