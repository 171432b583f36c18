/** `new`: a valid plan with nothing in it yet but a room, a deck and the limits of its scale. */
import { Command, Option } from "commander";
import { BODIES, type Body, emptyPlan, writePlan } from "../../core/index.js";
import { writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { parseRoom } from "../room-size.js";
import { Trouble } from "../trouble.js";
import { wishedScale } from "../wished-scale.js";

interface NewOptions extends OutputOptions, UnitsOptions {
  readonly room: string;
  readonly scale: string;
  readonly body?: Body;
  readonly title: string;
}

export const newCommand = (): Command =>
  new Command("new")
    .description("write a valid plan of an empty room")
    .requiredOption("--room <size>", `width by depth, as "21' 6\\" x 17'" or "4.2 m x 3 m"`)
    .requiredOption("--scale <scale>", "Z, N, TT, HO, OO, S, O, or with a ratio as N 1:148")
    .addOption(unitsOption())
    .addOption(new Option("--body <body>", "whose standards the limits begin with").choices(BODIES))
    .option("--title <title>", "name of the plan", "Untitled plan")
    .addOption(outputOption())
    .addOption(forceOption())
    .action((options: NewOptions) => {
      const { scale, units } = wishedScale(options.scale, options.room, options);
      const size = parseRoom(options.room, units);
      if (!size.ok) throw new Trouble(`--room: ${size.message}`);
      const plan = emptyPlan({ title: options.title, ...size.room, scale, units });
      writeOut(writePlan(plan), options.output, options.force === true);
    });
