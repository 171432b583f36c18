/** `climb`: routes from a place below to a place above, as a table or as JSON; one of them taken into a plan. */
import { Command, InvalidArgumentError, Option } from "commander";
import {
  type ClimbEnd,
  climbEndNamed,
  type ClimbRequest,
  type ClimbStep,
  climbTable,
  deckOfEnd,
  NONE_FOUND,
  parseGrade,
  parseLength,
  type Plan,
  RANKINGS,
  type Ranking,
  searchClimb,
  shortfallSentences,
  takeFoundRoute,
  TRACK_CLASSES,
  type TrackClass,
  usualClass,
  writePlan,
} from "../../core/index.js";
import { openPlan, writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption, type UnitsOptions, unitsOption } from "../options.js";
import { type Gathered, gatherRoutes } from "../gather-routes.js";
import { telling } from "../progress.js";
import { columnsOfText } from "../text-columns.js";
import { EXIT, Trouble } from "../trouble.js";

interface ClimbOptions extends OutputOptions, UnitsOptions {
  readonly from: string;
  readonly to: string;
  readonly class?: TrackClass;
  readonly grade?: string;
  readonly radius?: string;
  readonly level?: string;
  readonly rank?: Ranking;
  readonly most?: number;
  readonly engineCars?: number;
  readonly json?: boolean;
  readonly take?: number;
  readonly option?: string;
}

/** Ctrl-C, as shells count it: 128 and the number of the signal. */
const STOPPED = 130;
const counted = (text: string): number => {
  const count = Number(text);
  if (!Number.isSafeInteger(count) || count < 1) throw new InvalidArgumentError("Expected a whole number from 1.");
  return count;
};

const END = "track:start, track:end, a turnout, or a place on a track, track@1200 or track@4'";

export const climbCommand = (): Command =>
  new Command("climb")
    .description(
      "search for routes of a climb: exit 0 when there are some, 1 when none is found, 2 for what it cannot ask",
    )
    .argument("<file>", "plan file; - is stdin")
    .requiredOption("--from <end>", `where the climb leaves: ${END}`)
    .requiredOption("--to <end>", "where it arrives, above: likewise")
    .addOption(new Option("--class <class>", "class of track (the lower end's where left out)").choices(TRACK_CLASSES))
    .option("--grade <grade>", "steepest grade, in place of the class's")
    .option("--radius <length>", "least radius, in place of the class's")
    .option("--level <length>", "a level stretch on the way: a siding, a turnout pad")
    .addOption(new Option("--rank <by>", "what comes first (what a builder likes where left out)").choices(RANKINGS))
    .addOption(new Option("--most <count>", "routes shown, at most").argParser(counted).default(6))
    .addOption(
      new Option("--engine-cars <count>", "cars your engine takes on the level; shows what it takes up").argParser(
        counted,
      ),
    )
    .addOption(unitsOption())
    .option("--json", "print JSON, lengths in millimetres")
    .addOption(new Option("--take <n>", "take the n-th route into the plan and write that").argParser(counted))
    .option("--option <name>", "take it as an option of that name")
    .addOption(outputOption())
    .addOption(forceOption())
    .action(async (file: string, options: ClimbOptions) => {
      const { plan, file: name } = openPlan(file);
      const units = options.units ?? plan.units;
      if (options.take === undefined && (options.output !== undefined || options.option !== undefined)) {
        throw new Trouble("--output and --option go with --take: which route is meant?");
      }
      const request = requestOf(plan, name, { ...options, units });
      const found = await search(name, plan, request);
      const taken = options.take === undefined ? undefined : takenPlan(plan, found, options.take, options.option);
      if (taken !== undefined && !found.stopped) writeOut(taken, options.output, options.force === true);
      // The plan itself has the output where no file is named for it.
      if (taken === undefined || options.output !== undefined) {
        const say = options.json ? asJson : asText;
        process.stdout.write(say({ plan, file: name, said: options, request, found, units }));
      }
      if (found.stopped) console.error("stopped before the search was through");
      process.exitCode = found.stopped ? STOPPED : found.routes.length > 0 ? EXIT.fine : EXIT.fails;
    });

function requestOf(plan: Plan, file: string, options: ClimbOptions & Required<UnitsOptions>): ClimbRequest {
  const from = endOrTrouble(plan, file, "from", options);
  const length = (option: "radius" | "level"): number | undefined => {
    const typed = options[option];
    if (typed === undefined) return undefined;
    const read = parseLength(typed, options.units);
    if (!read.ok) throw new Trouble(`--${option}: ${read.message}`);
    if (!(read.mm > 0)) throw new Trouble(`--${option}: it must be more than nothing`);
    return read.mm;
  };
  const grade = options.grade === undefined ? undefined : parseGrade(options.grade);
  if (grade?.ok === false) throw new Trouble(`--grade: ${grade.message}`);
  if (grade && !(grade.value > 0)) throw new Trouble("--grade: it must be more than level");
  const radius = length("radius");
  const level = length("level");
  const { most, rank, engineCars } = options;
  return {
    from,
    to: endOrTrouble(plan, file, "to", options),
    class: options.class ?? usualClass(plan, from),
    ...(grade && { grade: grade.value }),
    ...(radius !== undefined && { radius }),
    ...(level !== undefined && { level: { length: level } }),
    ...(most !== undefined && { most }),
    ...(rank !== undefined && { rankBy: rank }),
    ...(engineCars !== undefined && { engineCars }),
  };
}

function endOrTrouble(
  plan: Plan,
  file: string,
  option: "from" | "to",
  options: ClimbOptions & Required<UnitsOptions>,
): ClimbEnd {
  const read = climbEndNamed(plan, options[option], options.units);
  if (!read.ok) throw new Trouble(`${file}: ${read.record}: --${option}: ${read.message}`);
  return read.end;
}

/** Routes as they come are told on stderr; Ctrl-C ends the search with those found so far. */
async function search(file: string, plan: Plan, request: ClimbRequest): Promise<Gathered> {
  const line = telling();
  let enough = false;
  const onStop = (): void => {
    enough = true;
  };
  process.once("SIGINT", onStop);
  try {
    const found = await gatherRoutes(searchClimb(plan, request), {
      enough: () => enough,
      tell: (progress, routes) => line.tell(progressText(file, progress, routes)),
    });
    if ("refused" in found) throw new Trouble(`${file}: ${refusalText(request, found.refused)}`);
    return found;
  } finally {
    process.off("SIGINT", onStop);
    line.done();
  }
}

/** What the search says of an end, with the record the end is of. */
function refusalText(request: ClimbRequest, why: string): string {
  const which = (["from", "to"] as const).find((one) => why.startsWith(`${one}: `));
  if (which === undefined) return why;
  const end = request[which];
  const record = "turnout" in end ? `turnouts.${end.turnout}` : `tracks.${end.track}`;
  return `${record}: --${why}`;
}

const progressText = (
  file: string,
  { stage, looked }: Extract<ClimbStep, { kind: "progress" }>,
  found: number,
): string =>
  `${file}: ${stage}, ${looked} looked at${found > 0 ? `, ${found} ${found === 1 ? "route" : "routes"} so far` : ""} …`;

function takenPlan(plan: Plan, { routes, stopped }: Gathered, take: number, option?: string): string | undefined {
  if (stopped || routes.length === 0) return undefined;
  const route = routes[take - 1];
  if (!route)
    throw new Trouble(`--take ${take}: there ${routes.length === 1 ? "is 1 route" : `are ${routes.length} routes`}`);
  const edit = takeFoundRoute(plan, route, option);
  if (!edit.ok) throw new Trouble(`--take ${take}: ${edit.message}`);
  return writePlan(edit.plan);
}

interface Answer {
  readonly plan: Plan;
  readonly file: string;
  /** The ends as they were typed. */
  readonly said: Pick<ClimbOptions, "from" | "to">;
  readonly request: ClimbRequest;
  readonly found: Gathered;
  readonly units: Plan["units"];
}

function asText({
  plan,
  file,
  said: { from, to },
  request,
  found: { routes, shortfall, stopped },
  units,
}: Answer): string {
  const lines = [`${plan.title} (${file}): climb from ${from} to ${to}`, ""];
  if (routes.length > 0) {
    const { columns, rows } = climbTable(routes, units);
    const numbered = rows.map((row, i) => [String(i + 1), ...row]);
    lines.push(...columnsOfText(["", ...columns.map(({ head }) => head)], numbered));
  } else if (stopped) lines.push("No route so far.");
  else {
    lines.push("No route was found.");
    const deck = deckOfEnd(plan, request.to)?.name;
    if (shortfall) lines.push(...shortfallSentences(shortfall, units, deck));
    lines.push(NONE_FOUND);
  }
  return `${lines.join("\n")}\n`;
}

/** Lengths in mm whatever the units; the shortfall in words too. */
function asJson({
  plan,
  file,
  said: { from, to },
  request,
  found: { routes, shortfall, stopped },
  units,
}: Answer): string {
  const deck = deckOfEnd(plan, request.to)?.name;
  const answer = {
    file,
    from,
    to,
    request,
    stopped,
    routes: routes.map(({ track, legs, figures, cost }) => ({ track, legs, figures, cost })),
    ...(shortfall && { shortfall, said: shortfallSentences(shortfall, units, deck) }),
  };
  return `${JSON.stringify(answer, null, 2)}\n`;
}
