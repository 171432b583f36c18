/** `new`: a valid plan with nothing in it yet but a room, a deck and the limits of its scale. */
import { Command, Option } from "commander";
import { emptyPlan, findScale, scalesOf, writePlan } from "../../core/index.js";
import { writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { parseRoom } from "../room-size.js";
import { Trouble } from "../trouble.js";

interface NewOptions extends OutputOptions, UnitsOptions {
  readonly room: string;
  readonly scale: string;
  readonly body?: "NMRA" | "NEM";
  readonly title: string;
}

export const newCommand = (): Command =>
  new Command("new")
    .description("write a valid plan of an empty room")
    .requiredOption("--room <size>", `width by depth, as "21' 6\\" x 17'" or "4.2 m x 3 m"`)
    .requiredOption("--scale <scale>", "Z, N, TT, HO, OO, S, O, or with a ratio as N 1:148")
    .addOption(unitsOption())
    .addOption(new Option("--body <body>", "whose standards the limits begin with").choices(["NMRA", "NEM"]))
    .option("--title <title>", "name of the plan", "Untitled plan")
    .addOption(outputOption())
    .addOption(forceOption())
    .action((options: NewOptions) => {
      const imperial = /['"′″]|\b(?:ft|in|feet|inch)/i.test(options.room);
      const units = options.units ?? (options.body === "NEM" || !imperial ? "metric" : "imperial");
      const body = options.body ?? (units === "imperial" ? "NMRA" : "NEM");
      const size = parseRoom(options.room, units);
      if (!size.ok) throw new Trouble(`--room: ${size.message}`);
      const scale = findScale(options.scale, body);
      if (!scale) {
        const names = scalesOf(body).map((known) => known.name);
        throw new Trouble(`--scale: no ${body} scale is called "${options.scale}"; there are ${names.join(", ")}`);
      }
      const plan = emptyPlan({ title: options.title, ...size.room, scale, units });
      writeOut(writePlan(plan), options.output, options.force === true);
    });
