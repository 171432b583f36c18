/** `check`: the readings of one or more plans, as a table or as JSON. */
import { Command, Option } from "commander";
import {
  type CertificatePoint,
  CIVIL_SOURCE,
  civilCertificate,
  deriveLayout,
  type Problem,
  type Reading,
  type Report,
  takeReadings,
  tally,
} from "../../core/index.js";
import { openPlan } from "../files.js";
import { type UnitsOptions, unitsOption } from "../options.js";
import { during } from "../progress.js";
import { certificateTable } from "../certificate-table.js";
import { readingsTable } from "../readings-table.js";
import { EXIT, Trouble } from "../trouble.js";

interface CheckOptions extends UnitsOptions {
  readonly json?: boolean;
  readonly certificate?: "civil";
}

/** What `--json` prints of each file; lengths in mm whatever the units. */
type Checked =
  | {
      readonly file: string;
      readonly readable: true;
      readonly title: string;
      readonly verdicts: ReturnType<typeof tally>;
      readonly readings: readonly Reading[];
      readonly problems: readonly Problem[];
      readonly certificate?: { readonly source: string; readonly points: readonly CertificatePoint[] };
    }
  | { readonly file: string; readonly readable: false; readonly problems: readonly string[] };

const lost = (report: Report): boolean => report.problems.some((problem) => problem.severity === "error");

export const checkCommand = (): Command =>
  new Command("check")
    .description(
      "take the readings of plans: exit 0 when nothing fails, 1 when something does, 2 for an unreadable file",
    )
    .argument("<file...>", "plan files; - is stdin")
    .addOption(unitsOption())
    .option("--json", "print JSON, lengths in millimetres")
    .addOption(
      new Option("--certificate <which>", "which points of a published certificate the plan meets").choices(["civil"]),
    )
    .action((files: readonly string[], options: CheckOptions) => {
      const results: Checked[] = [];
      let worst: number = EXIT.fine;
      files.forEach((file, i) => {
        try {
          const { plan, report, file: name } = openPlan(file, options.units);
          const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
          const readings = during(`${name}: taking readings`, () => takeReadings(plan, layout));
          const verdicts = tally(readings);
          if (verdicts.fails > 0 || lost(report)) worst = Math.max(worst, EXIT.fails);
          const points = options.certificate === undefined ? undefined : civilCertificate(plan, readings);
          if (!options.json) process.stdout.write(`${i > 0 ? "\n" : ""}${readingsTable(plan, readings, name)}`);
          if (!options.json && points) process.stdout.write(certificateTable(points));
          results.push({
            file: name,
            readable: true,
            title: plan.title,
            verdicts,
            readings,
            problems: report.problems,
            ...(points && { certificate: { source: CIVIL_SOURCE, points } }),
          });
        } catch (error) {
          if (!(error instanceof Trouble)) throw error;
          for (const line of error.lines) console.error(line);
          results.push({ file, readable: false, problems: error.lines });
          worst = EXIT.unreadable;
        }
      });
      if (options.json) process.stdout.write(`${JSON.stringify(results, null, 2)}\n`);
      process.exitCode = worst;
    });
