/** Papers that drawings and templates are printed on (ISO 216; ASME Y14.1; both from memory), and rolls cut to length. */
import type { Millimetres } from "../../geometry/units.js";
import { INCH, parseLength } from "../../plan/parse-length.js";
import type { Plan } from "../../plan/schema.js";

export interface Sheets {
  readonly name: string;
  /** Upright: no wider than high. */
  readonly width: Millimetres;
  readonly height: Millimetres;
}

export interface Roll {
  readonly name: string;
  readonly roll: Millimetres;
}

export type PrintPaper = Sheets | Roll;

export const PAPERS: readonly Sheets[] = [
  { name: "A4", width: 210, height: 297 },
  { name: "A3", width: 297, height: 420 },
  { name: "Letter", width: 8.5 * INCH, height: 11 * INCH },
  { name: "Tabloid", width: 11 * INCH, height: 17 * INCH },
  { name: "Arch D", width: 24 * INCH, height: 36 * INCH },
];

/** Rolls that plotters take: from a home printer's to a wide banner's, mm. */
const ROLLS = { least: 200, most: 2000 } as const;

export type ParsedPaper =
  | { readonly ok: true; readonly paper: PrintPaper }
  | { readonly ok: false; readonly message: string };

/** `A4`, `letter`, `arch-d`, or `roll 24 in`: the roll's width; a bare number is in the given units. */
export function parsePaper(text: string, units: Plan["units"]): ParsedPaper {
  const plain = (name: string): string => name.toLowerCase().replace(/[\s-]/g, "");
  const roll = /^\s*roll[\s:]+(.+)$/i.exec(text)?.[1];
  if (roll !== undefined) {
    const length = parseLength(roll, units);
    if (!length.ok) return length;
    if (length.mm < ROLLS.least || length.mm > ROLLS.most) {
      return { ok: false, message: `a roll is ${ROLLS.least} to ${ROLLS.most} mm wide` };
    }
    return { ok: true, paper: { name: `roll ${Math.round(length.mm * 10) / 10} mm wide`, roll: length.mm } };
  }
  const paper = PAPERS.find(({ name }) => plain(name) === plain(text));
  if (paper) return { ok: true, paper };
  const names = PAPERS.map(({ name }) => name).join(", ");
  return { ok: false, message: `no paper is called "${text}"; there are ${names}, or a roll, as "roll 24 in"` };
}
