/** `profile`: heights along the way from one place to another, as a drawing. */
import { Command, Option } from "commander";
import { deriveLayout, drawProfileSvg, findRoute, type Layout, placesNamed } from "../../core/index.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { during } from "../progress.js";
import { Trouble } from "../trouble.js";

interface ProfileOptions extends OutputOptions, UnitsOptions {
  readonly from: string;
  readonly to: string;
  readonly theme?: "light" | "dark";
}

const PLACE = "a track, track@mm, a label or a deck";

function placesOrTrouble(layout: Layout, file: string, name: string) {
  const places = placesNamed(layout, name);
  if (places.length === 0) throw new Trouble(`${file}: tracks: nothing with track is called "${name}" (${PLACE})`);
  return places;
}

export const profileCommand = (): Command =>
  new Command("profile")
    .description("draw the heights along the shortest way between two places as SVG")
    .argument("<file>", "plan file; - is stdin")
    .requiredOption("--from <place>", `where the route starts: ${PLACE}`)
    .requiredOption("--to <place>", "where it ends")
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(new Option("--theme <theme>", "paper by day or by night").choices(["light", "dark"]).default("light"))
    .addOption(unitsOption())
    .action((file: string, options: ProfileOptions) => {
      const { plan, file: name } = openPlan(file, options.units);
      const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
      const from = placesOrTrouble(layout, name, options.from);
      const to = placesOrTrouble(layout, name, options.to);
      const route = findRoute(layout, from, to);
      if (!route) {
        throw new Trouble(`${name}: tracks: no train gets from "${options.from}" to "${options.to}" without reversing`);
      }
      const ends = { from: options.from, to: options.to };
      const svg = drawProfileSvg(plan, layout, route, { ends, ...(options.theme ? { theme: options.theme } : {}) });
      writeOut(svg, options.output, options.force === true);
    });
