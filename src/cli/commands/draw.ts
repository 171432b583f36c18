/** `draw`: the plan as a true-scale drawing. */
import { Command, Option } from "commander";
import { deckNamed, deriveLayout, drawSvg } from "../../core/index.js";
import { openPlan, writeOut } from "../files.js";
import {
  drawingScale,
  forceOption,
  type OutputOptions,
  outputOption,
  type UnitsOptions,
  unitsOption,
} from "../options.js";
import { during } from "../progress.js";
import { Trouble } from "../trouble.js";

interface DrawCommandOptions extends OutputOptions, UnitsOptions {
  readonly deck?: string;
  readonly seeThrough?: boolean;
  readonly scale: number;
  readonly labels: boolean;
  readonly rails?: boolean;
  readonly theme?: "light" | "dark";
}

export const drawCommand = (): Command =>
  new Command("draw")
    .description("draw a plan to scale as SVG: every deck, or one")
    .argument("<file>", "plan file; - is stdin")
    .addOption(outputOption())
    .addOption(forceOption())
    .option("--deck <name>", "one deck, by name or id")
    .option("--see-through", "the deck with the others seen through")
    .addOption(new Option("--scale <1:N>", "drawing scale").argParser(drawingScale).default(20, "1:20"))
    .option("--rails", "draw both rails in place of one line")
    .option("--no-labels", "leave out figures and names")
    .addOption(new Option("--theme <theme>", "paper by day or by night").choices(["light", "dark"]).default("light"))
    .addOption(unitsOption())
    .action((file: string, options: DrawCommandOptions) => {
      const { plan, file: name } = openPlan(file, options.units);
      const deck = options.deck === undefined ? undefined : deckNamed(plan, options.deck);
      if (options.deck !== undefined && deck === undefined) {
        throw new Trouble(`${name}: decks: no deck is called "${options.deck}"`);
      }
      const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
      const svg = drawSvg(plan, layout, {
        view: options.seeThrough ? "see-through" : deck === undefined ? "all" : "deck",
        scale: options.scale,
        labels: options.labels,
        rails: options.rails === true,
        ...(deck === undefined ? {} : { deck }),
        ...(options.theme === undefined ? {} : { theme: options.theme }),
      });
      writeOut(svg, options.output, options.force === true);
    });
