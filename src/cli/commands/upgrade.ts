/** `upgrade`: a plan file in the newest version; what is not understood, and what was set aside, stays in it. */
import { Command } from "commander";
import { writePlan } from "../../core/index.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption } from "../options.js";
import { Trouble } from "../trouble.js";

interface UpgradeOptions extends OutputOptions {
  readonly write?: boolean;
}

export const upgradeCommand = (): Command =>
  new Command("upgrade")
    .description("write a plan in the newest version of its format")
    .argument("<file>", "plan file; - is stdin")
    .addOption(outputOption())
    .addOption(forceOption())
    .option("--write", "write it back to its own file")
    .action((file: string, options: UpgradeOptions) => {
      const inPlace = options.write === true && options.output === undefined;
      if (inPlace && file === "-") throw new Trouble("stdin: --write needs a file; name one with -o");
      const { plan, report, file: name } = openPlan(file);
      if (report.readOnly) {
        throw new Trouble(
          `${name}: plan: version: ${report.version} is newer than this program, which would lose part of it`,
        );
      }
      writeOut(writePlan(plan), inPlace ? file : options.output, inPlace || options.force === true);
    });
