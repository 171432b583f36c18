/** What a benchmark found, held against the design's goals, as lines for people or as JSON. */
export interface Result {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** What the design asks for; missing where it asks for nothing that can be measured here. */
  readonly goal?: { readonly most: number } | { readonly least: number };
  readonly note: string;
  /** The answers compared were not the same, so the time means nothing. */
  readonly wrong?: boolean;
}

export type Outcome = "met" | "missed" | "no goal" | "not measured" | "wrong answers";

export function outcomeOf({ value, goal, wrong }: Result): Outcome {
  if (wrong) return "wrong answers";
  if (!goal) return "no goal";
  if (!Number.isFinite(value)) return "not measured";
  return ("most" in goal ? value <= goal.most : value >= goal.least) ? "met" : "missed";
}

const figure = (value: number): string => (Math.abs(value) < 100 ? value.toFixed(1) : value.toFixed(0));

function goalText({ goal }: Result): string {
  if (!goal) return "";
  return "most" in goal ? `, goal at most ${goal.most}` : `, goal at least ${goal.least}`;
}

export const resultText = (result: Result): string =>
  `${result.name}\n  ${figure(result.value)} ${result.unit}${goalText(result)}: ${outcomeOf(result)}\n  ${result.note}`;

export interface Machine {
  /** More at work than there are processors: milliseconds are then too long, and only ratios tell something. */
  readonly load: number;
  readonly processors: number;
}

/** Prints every result as soon as it is there, or all of them as JSON; wrong answers make the run a failure. */
export async function printResults(
  machine: Machine,
  results: Iterable<Result> | AsyncIterable<Result>,
  asJson = process.argv.includes("--json"),
): Promise<void> {
  const all: Result[] = [];
  if (!asJson) console.log(`load ${machine.load.toFixed(1)} on ${machine.processors} processors before the start\n`);
  for await (const result of results) {
    all.push(result);
    if (!asJson) console.log(resultText(result));
  }
  if (asJson)
    console.log(JSON.stringify({ machine, results: all.map((result) => ({ ...result, outcome: outcomeOf(result) })) }));
  process.exitCode = all.some(({ wrong }) => wrong) ? 1 : 0;
}
