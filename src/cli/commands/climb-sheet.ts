/** `climb-sheet`: what a climb takes, reckoned before anything is drawn, as tables and as a picture. */
import { Command, Option } from "commander";
import {
  BODIES,
  type Body,
  type ClimbSheet,
  climbSheet,
  deckTable,
  drawClimbSheetSvg,
  emptyPlan,
  gradeTable,
  limitsOf,
  parseGrade,
  parseLength,
  type Plan,
  SHEET_GRADES,
  sheetFacts,
  sheetSentences,
  type SheetTable,
  steepestGrade,
  type Theme,
  TRACK_CLASSES,
  type TrackClass,
  type Units,
  VERDICTS,
} from "../../core/index.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type UnitsOptions, unitsOption } from "../options.js";
import { columnsOfText } from "../text-columns.js";
import { Trouble } from "../trouble.js";
import { wishedScale } from "../wished-scale.js";

interface SheetOptions extends UnitsOptions {
  readonly rise: string;
  readonly grade?: string;
  readonly radius?: string;
  readonly scale: string;
  readonly body?: Body;
  readonly class: TrackClass;
  readonly json?: boolean;
  readonly svg?: string;
  readonly force?: boolean;
  readonly theme?: Theme;
}

export const climbSheetCommand = (): Command =>
  new Command("climb-sheet")
    .description("reckon a climb before anything is drawn: run, turns, helix, what height costs")
    .argument("[file]", "a plan whose limits are taken; those of the scale where left out")
    .requiredOption("--rise <length>", 'from railhead to railhead, as 400, 16" or 1\' 4"')
    .option("--grade <grade>", "2, 2.2 % or 1 in 50 (the steepest the class allows where left out)")
    .option("--radius <length>", "of the helix (the class's least where left out)")
    .option("--scale <scale>", "Z, N, TT, HO, OO, S, O, or with a ratio as N 1:148", "HO")
    .addOption(new Option("--body <body>", "whose standards the limits are").choices(BODIES))
    .addOption(new Option("--class <class>", "class of track").choices(TRACK_CLASSES).default("main"))
    .addOption(unitsOption())
    .option("--json", "print JSON, lengths in millimetres")
    .option("--svg <file>", "write the picture to a file; - is stdout, in place of the tables")
    .addOption(forceOption())
    .addOption(new Option("--theme <theme>", "paper by day or by night").choices(["light", "dark"]).default("light"))
    .action((file: string | undefined, options: SheetOptions) => {
      const plan = file === undefined ? planOfScale(options) : openPlan(file, options.units).plan;
      const { units } = plan;
      const sheet = sheetOrTrouble(plan, options);
      if (options.svg !== undefined) {
        const svg = drawClimbSheetSvg(plan, sheet, options.theme ? { theme: options.theme } : {});
        writeOut(svg, options.svg, options.force === true);
      }
      // The picture itself has the output where it is asked for there.
      if (options.svg !== "-") {
        process.stdout.write(options.json ? `${JSON.stringify(sheet, null, 2)}\n` : asText(plan, sheet, units));
      }
    });

function planOfScale({ rise, radius = "", ...options }: SheetOptions): Plan {
  const { scale, units } = wishedScale(options.scale, rise + radius, options);
  return emptyPlan({ title: "", width: 5000, depth: 4000, scale, units });
}

function sheetOrTrouble(plan: Plan, options: SheetOptions): ClimbSheet {
  const length = (option: "rise" | "radius", text: string): number => {
    const read = parseLength(text, plan.units);
    if (!read.ok) throw new Trouble(`--${option}: ${read.message}`);
    return read.mm;
  };
  const rise = length("rise", options.rise);
  const radius =
    options.radius === undefined ? limitsOf(plan, options.class).radius.value : length("radius", options.radius);
  const grade = options.grade === undefined ? undefined : parseGrade(options.grade);
  if (grade?.ok === false) throw new Trouble(`--grade: ${grade.message}`);
  const wishes = {
    rise,
    radius,
    grade: grade?.value ?? Math.max(SHEET_GRADES.least, steepestGrade(plan, options.class, radius)),
  };
  const result = climbSheet(plan, options.class, wishes);
  if (!result.ok) throw new Trouble(`--${result.field}: ${result.message}`);
  return result.sheet;
}

function asText(plan: Plan, sheet: ClimbSheet, units: Units): string {
  const facts = sheetFacts(sheet, units).map(({ label, value, other = "", limit }) => {
    const verdict = limit && VERDICTS[limit.verdict];
    return [label, value, other, verdict ? `${verdict.sign} ${verdict.word} ${limit.text}` : ""];
  });
  const width = (column: number): number => Math.max(...facts.map((row) => [...(row[column] ?? "")].length));
  const lines = [
    `Climb sheet, ${plan.scale.name} ${sheet.class}`,
    "",
    ...facts.map((row) =>
      [
        (row[0] ?? "").padEnd(width(0)),
        (row[1] ?? "").padStart(width(1)),
        (row[2] ?? "").padStart(width(2)),
        row[3] ?? "",
      ]
        .join("  ")
        .trimEnd(),
    ),
    "",
    ...sheetSentences(plan, sheet, units),
    ...tableText(gradeTable(plan, sheet.class, sheet.sums, units)),
    ...tableText(deckTable(plan, sheet.sums, units)),
  ];
  return `${lines.join("\n")}\n`;
}

/** The climb asked about is marked in the margin, as are grades beyond the limits. */
function tableText({ caption, heads, rows }: SheetTable): string[] {
  const body = rows.map(({ cells, verdict, asked }) => [
    `${asked ? "→" : " "}${verdict === "tight" || verdict === "fails" ? VERDICTS[verdict].sign : " "}`,
    ...cells,
  ]);
  return ["", caption, ...columnsOfText(["", ...heads], body)];
}
