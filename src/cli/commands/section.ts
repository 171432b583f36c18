/** `section`: a cut across the room from one point to another, drawn to scale. */
import { Command, Option } from "commander";
import {
  deriveLayout,
  deriveSection,
  drawSectionSvg,
  type Operator,
  operatorsOf,
  type Plan,
  parseLength,
  parsePoint,
  type Point,
  standIn,
  throwsOf,
} from "../../core/index.js";
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

interface SectionOptions extends OutputOptions, UnitsOptions {
  readonly from: string;
  readonly to: string;
  readonly scale: number;
  readonly operator?: string;
  readonly stand?: string;
  readonly theme?: "light" | "dark";
}

function pointOrTrouble(option: string, text: string, plan: Plan): Point {
  const parsed = parsePoint(text, plan.units);
  if (!parsed.ok) throw new Trouble(`--${option}: ${parsed.message}`);
  return parsed.point;
}

function operatorOrTrouble(file: string, plan: Plan, name: string | undefined): Operator | undefined {
  const operators = operatorsOf(plan);
  if (name === undefined) return operators[0];
  const found = operators.find((operator) => operator.name.toLowerCase() === name.toLowerCase());
  if (found) return found;
  const known = operators.map((operator) => `"${operator.name}"`).join(", ");
  throw new Trouble(`${file}: standards.operators: no operator is called "${name}" (${known || "the plan has none"})`);
}

function lengthOrTrouble(option: string, text: string, plan: Plan): number {
  const parsed = parseLength(text, plan.units);
  if (!parsed.ok) throw new Trouble(`--${option}: ${parsed.message}`);
  return parsed.mm;
}

const POINT = "across, up from the sheet's origin, in the plan's units";

export const sectionCommand = (): Command =>
  new Command("section")
    .description("draw a cut across the room as SVG: decks, track, cars, and what an operator sees and reaches")
    .argument("<file>", "plan file; - is stdin")
    .requiredOption("--from <x,y>", `where the cut begins: ${POINT}`)
    .requiredOption("--to <x,y>", "where it ends; one looks across it to its left")
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(new Option("--scale <1:N>", "drawing scale").argParser(drawingScale).default(20, "1:20"))
    .option("--operator <name>", "who stands in the aisle (the plan's first operator where left out)")
    .option("--stand <length>", "how far along the cut they stand (the middle of the widest aisle where left out)")
    .addOption(new Option("--theme <theme>", "paper by day or by night").choices(["light", "dark"]).default("light"))
    .addOption(unitsOption())
    .action((file: string, options: SectionOptions) => {
      const { plan, file: name } = openPlan(file, options.units);
      const cut = { from: pointOrTrouble("from", options.from, plan), to: pointOrTrouble("to", options.to, plan) };
      const operator = operatorOrTrouble(name, plan, options.operator);
      const at = options.stand === undefined ? undefined : lengthOrTrouble("stand", options.stand, plan);
      const layout = during(`${name}: laying it out`, () => deriveLayout(plan));
      const section = deriveSection(layout, cut, (line) => throwsOf(layout, line));
      if (!section) throw new Trouble(`--to: the cut has no length`);
      const standing = operator && standIn(section, operator, at);
      if (at !== undefined && !standing) throw new Trouble(`--stand: nobody can stand there`);
      const svg = drawSectionSvg(plan, section, {
        scale: options.scale,
        standing,
        ...(options.theme ? { theme: options.theme } : {}),
      });
      writeOut(svg, options.output, options.force === true);
    });
