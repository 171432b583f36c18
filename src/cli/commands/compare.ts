/** `compare`: the options of a plan side by side, or one file against another. */
import { Command } from "commander";
import {
  type Candidate,
  compare,
  type Comparison,
  deriveLayout,
  optionsOf,
  type Plan,
  planDifferences,
  takeReadings,
} from "../../core/index.js";
import { comparisonTable, differencesText } from "../compare-table.js";
import { openPlan } from "../files.js";
import { type UnitsOptions, unitsOption } from "../options.js";
import { during } from "../progress.js";
import { EXIT } from "../trouble.js";

interface CompareOptions extends UnitsOptions {
  readonly json?: boolean;
  readonly differences?: boolean;
}

export const compareCommand = (): Command =>
  new Command("compare")
    .description("the options of a plan side by side; with two files, what differs from the first to the second")
    .argument("<file>", "plan file; - is stdin")
    .argument("[other]", "another file of the same railway")
    .addOption(unitsOption())
    .option("--differences", "leave out the readings that are alike")
    .option("--json", "print JSON, lengths in millimetres")
    .action((file: string, other: string | undefined, options: CompareOptions) => {
      const said = other === undefined ? ofOptions(file, options) : ofFiles(file, other, options);
      process.stdout.write(options.json ? `${JSON.stringify(said.json, null, 2)}\n` : `${said.lines().join("\n")}\n`);
      process.exitCode = EXIT.fine;
    });

interface Said {
  readonly json: unknown;
  readonly lines: () => readonly string[];
}

/** One after another, each from the layout of the one before. */
function candidates(file: string, plans: ReturnType<typeof optionsOf>): Candidate[] {
  let layout: Candidate["layout"] | undefined;
  return plans.map(({ option, name, plan }) => {
    const own = during(`${file}: laying out ${name}`, () => deriveLayout(plan, layout));
    layout = own;
    return {
      option,
      name,
      plan,
      layout: own,
      readings: during(`${file}: reading ${name}`, () => takeReadings(plan, own)),
    };
  });
}

function ofOptions(file: string, options: CompareOptions): Said {
  const { plan, file: name } = openPlan(file, options.units);
  const plans = optionsOf(plan);
  const comparison = compare(candidates(name, plans), plan.units);
  const none = Object.keys(plan.options).length === 0;
  const head = `${plan.title} (${name}): ${none ? "it has no options" : plans.map((one) => one.name).join(", ")}`;
  return {
    json: { file: name, title: plan.title, inHand: plan.option ?? null, columns: columns(plans), ...rows(comparison) },
    lines: () => [head, "", ...comparisonTable(comparison, options.differences === true)],
  };
}

function ofFiles(file: string, other: string, options: CompareOptions): Said {
  const a = openPlan(file, options.units);
  const b = openPlan(other, options.units);
  const plans = [a, b].map(({ plan, file: name }) => ({ option: plan.option, name: `${name}${inHand(plan)}`, plan }));
  const differences = planDifferences(a.plan, b.plan);
  const comparison = compare(candidates(file, plans), a.plan.units);
  return {
    json: { columns: columns(plans), differences, ...rows(comparison) },
    lines: () => [
      `${a.plan.title} (${a.file}) beside ${b.plan.title} (${b.file})`,
      ...differencesText(differences, a.plan.units),
      "",
      ...comparisonTable(comparison, options.differences === true),
    ],
  };
}

const columns = (plans: ReturnType<typeof optionsOf>) =>
  plans.map(({ option, name }) => ({ option: option ?? null, name }));

/** Figures as they are, in mm; the texts are for people. */
const rows = ({ groups }: Comparison) => ({
  groups: groups.map(({ name, rows: own }) => ({
    name,
    rows: own.map(({ key, label, differs, cells }) => ({
      key,
      label,
      differs,
      cells: cells.map(({ value, verdict, change }) => ({ value: value ?? null, verdict: verdict ?? null, change })),
    })),
  })),
});

const inHand = (plan: Plan): string =>
  plan.option === undefined ? "" : `, ${plan.options[plan.option]?.name ?? plan.option}`;
