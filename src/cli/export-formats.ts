/** The forms in which a plan leaves: one row each, with what writes it and which options it takes. A new form is a new row. */
import {
  drawDxf,
  drawSvg,
  drawWebPage,
  heightsCsv,
  type Id,
  type Layout,
  type Reading,
  readingsCsv,
  type Theme,
  type Units,
} from "../core/index.js";
import { drawingSetPdf } from "../exchange/pdf/drawing-set.js";
import { parsePaper, type PrintPaper } from "../exchange/pdf/papers.js";
import { Trouble } from "./trouble.js";

/** What was asked for, once it is understood; what was not asked for is undefined. */
export interface ExportWishes {
  readonly deck?: Id | undefined;
  readonly theme?: Theme | undefined;
  readonly rails?: boolean | undefined;
  readonly what?: CsvContents | undefined;
  /** Millimetres. */
  readonly every?: number | undefined;
  readonly paper?: PrintPaper | undefined;
  /** Millimetres of room to one of paper. */
  readonly scale?: number | undefined;
}

export const CSV_CONTENTS = ["readings", "heights"] as const;
export type CsvContents = (typeof CSV_CONTENTS)[number];

export interface ExportJob {
  readonly layout: Layout;
  /** Taken when first asked for. */
  readonly readings: () => readonly Reading[];
  readonly wishes: ExportWishes;
}

export interface ExportFormat {
  readonly name: string;
  /** What it is, for the help. */
  readonly is: string;
  readonly extensions: readonly string[];
  readonly takes: readonly (keyof ExportWishes)[];
  readonly write: (job: ExportJob) => string | Uint8Array | Promise<string | Uint8Array>;
}

/** Heights are told so often where nobody says how often, mm: about the spacing of risers (common practice, no source). */
const USUAL_EVERY = { imperial: 6 * 25.4, metric: 150 } as const;

const paperNamed = (name: string): PrintPaper => paperOrTrouble(name, "metric");

/** What home printers hold. */
export const USUAL_PAPER = { imperial: paperNamed("Letter"), metric: paperNamed("A4") } as const;

export function paperOrTrouble(text: string, units: Units): PrintPaper {
  const parsed = parsePaper(text, units);
  if (!parsed.ok) throw new Trouble(`--paper: ${parsed.message}`);
  return parsed.paper;
}

export const FORMATS: readonly ExportFormat[] = [
  {
    name: "svg",
    is: "a drawing to scale",
    extensions: [".svg"],
    takes: ["deck", "theme", "rails"],
    write: ({ layout, wishes: { deck, theme = "light", rails = false } }) =>
      drawSvg(
        layout.plan,
        layout,
        deck === undefined ? { view: "all", theme, rails } : { view: "deck", deck, theme, rails },
      ),
  },
  {
    name: "dxf",
    is: "lines and arcs to cut from",
    extensions: [".dxf"],
    takes: ["deck", "rails"],
    write: ({ layout, wishes: { deck, rails = false } }) =>
      drawDxf(layout, { rails, ...(deck !== undefined && { deck }) }),
  },
  {
    name: "csv",
    is: "a table of the readings, or of heights along each track",
    extensions: [".csv"],
    takes: ["deck", "what", "every"],
    write: csv,
  },
  {
    name: "html",
    is: "one page to look at",
    extensions: [".html", ".htm"],
    takes: ["deck", "theme"],
    write: ({ layout, readings, wishes: { deck, theme = "light" } }) =>
      drawWebPage(layout, readings(), { theme, ...(deck !== undefined && { deck }) }),
  },
  {
    name: "pdf",
    is: "drawing sheets to print: decks, profile, readings, schedules",
    extensions: [".pdf"],
    takes: ["deck", "paper", "scale"],
    write: pdf,
  },
];

async function pdf({ layout, readings, wishes: { deck, paper, scale } }: ExportJob): Promise<Uint8Array> {
  const made = await drawingSetPdf(layout.plan, layout, {
    paper: paper ?? USUAL_PAPER[layout.plan.units],
    readings: readings(),
    date: new Date(),
    ...(deck !== undefined && { deck }),
    ...(scale !== undefined && { scale }),
  });
  if (!made.ok) throw new Trouble(`--paper: ${made.message}`);
  return made.bytes;
}

function csv({ layout, readings, wishes }: ExportJob): string {
  const { plan } = layout;
  const { deck, every, what = every === undefined ? "readings" : "heights" } = wishes;
  if (what === "readings") {
    for (const [option, given] of [
      ["deck", deck],
      ["every", every],
    ] as const) {
      if (given !== undefined)
        throw new Trouble(`--${option}: the readings are of the whole plan; --what heights takes it`);
    }
    return readingsCsv(plan, readings());
  }
  const table = heightsCsv(layout, { every: every ?? USUAL_EVERY[plan.units], ...(deck !== undefined && { deck }) });
  if (!table.ok) throw new Trouble(`--every: ${table.message}`);
  return table.text;
}

export const FORMAT_NAMES = FORMATS.map(({ name }) => name);

/** By name where one is given, else by how the file to be written ends. */
export function formatOf(name: string | undefined, output: string | undefined): ExportFormat {
  const ends = (extension: string): boolean => output?.toLowerCase().endsWith(extension) === true;
  const found = FORMATS.find((format) => (name === undefined ? format.extensions.some(ends) : format.name === name));
  if (found) return found;
  const known = FORMATS.flatMap(({ extensions }) => extensions).join(", ");
  if (output === undefined)
    throw new Trouble(`--format: say which (${FORMAT_NAMES.join(", ")}), or name a file with -o`);
  throw new Trouble(`${output}: --output: its ending says no form that is known (${known}); --format says it too`);
}

export function refuseUnfit(format: ExportFormat, wishes: ExportWishes): void {
  for (const [option, value] of Object.entries(wishes)) {
    if (value === undefined || format.takes.some((one) => one === option)) continue;
    const for_ = FORMATS.filter(({ takes }) => takes.some((one) => one === option)).map(({ name }) => name);
    throw new Trouble(
      `--${option}: ${format.name} does not take it (${for_.join(", ")} ${for_.length > 1 ? "do" : "does"})`,
    );
  }
}
