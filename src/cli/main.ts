/** The command line: one command a file; a wish that cannot be met is one line on stderr. */
import { Command, CommanderError } from "commander";
import { version } from "../../package.json";
import { checkCommand } from "./commands/check.js";
import { climbCommand } from "./commands/climb.js";
import { compareCommand } from "./commands/compare.js";
import { climbSheetCommand } from "./commands/climb-sheet.js";
import { drawCommand } from "./commands/draw.js";
import { exportCommand } from "./commands/export.js";
import { newCommand } from "./commands/new.js";
import { profileCommand } from "./commands/profile.js";
import { schemaCommand } from "./commands/schema.js";
import { sectionCommand } from "./commands/section.js";
import { templatesCommand } from "./commands/templates.js";
import { upgradeCommand } from "./commands/upgrade.js";
import { EXIT, Trouble } from "./trouble.js";

const program = new Command("ruling-grade")
  .description("Checks and draws plans of double-deck model railways.")
  .version(version);
for (const command of [
  checkCommand(),
  drawCommand(),
  exportCommand(),
  profileCommand(),
  sectionCommand(),
  climbCommand(),
  climbSheetCommand(),
  newCommand(),
  compareCommand(),
  templatesCommand(),
  upgradeCommand(),
  schemaCommand(),
]) {
  program.addCommand(command);
}
for (const command of [program, ...program.commands]) command.exitOverride();

// A reader that has seen enough (`| head`) is no error.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(process.exitCode ?? EXIT.fine);
});

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof Trouble) {
    for (const line of error.lines) console.error(line);
    process.exitCode = EXIT.unreadable;
  } else if (error instanceof CommanderError) {
    // Commander has said what is wrong; help and version are no errors.
    process.exitCode = error.exitCode === 0 ? EXIT.fine : EXIT.unreadable;
  } else {
    // A fault of the program: neither a reading that fails nor a file that is wrong.
    console.error(
      `ruling-grade is at fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    );
    process.exitCode = EXIT.unreadable;
  }
}
