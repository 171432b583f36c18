/**
 * What is typed on the climb sheet: figures to begin with, figures read and written, stepped by the arrow keys.
 *
 * Always holds: a figure that is written is read back within half of what its unit shows.
 */
import {
  climbSheet,
  type ClimbSheetResult,
  type ClimbWishes,
  SHEET_GRADES,
  steepestGrade,
} from "../../../climb/climb-sheet.js";
import { limitsOf } from "../../../plan/class-limits.js";
import { emptyPlan } from "../../../plan/empty-plan.js";
import { formatLength } from "../../../plan/format-length.js";
import { formatGrade, parseGrade } from "../../../plan/grade-text.js";
import { INCH, parseLength } from "../../../plan/parse-length.js";
import type { Plan, TrackClass } from "../../../plan/schema.js";
import type { SheetWishes } from "../../climb-sheet-store.js";
import { ALL_SCALES, scaleKey } from "../../files/new-plan.js";

export type SheetField = keyof ClimbWishes;
type Units = Plan["units"];

/** Decks nearer in height than this are one level, mm. */
const ONE_LEVEL = 1;

/** The plan whose limits are taken: the one that is open, or an empty one of a scale. */
export function groundOf(plan: Plan, scale: string | undefined): Plan {
  const found = scale === undefined ? undefined : ALL_SCALES.find((one) => scaleKey(one) === scale);
  return found ? emptyPlan({ title: "", width: 5000, depth: 4000, scale: found, units: plan.units }) : plan;
}

/** From the lower scenic deck to the one above, or what decks should have between them; as sharp and as steep as may be. */
export function firstWishes(plan: Plan, scale?: string, trackClass: TrackClass = "main"): SheetWishes {
  const ground = groundOf(plan, scale);
  const radius = limitsOf(ground, trackClass).radius.value;
  return {
    rise: deckRise(plan) ?? ground.standards.deckSeparation.value,
    grade: steepWishes(ground, trackClass, radius),
    radius,
    class: trackClass,
    scale,
  };
}

/** To a tenth below the steepest there may be. */
const steepWishes = (ground: Plan, trackClass: TrackClass, radius: number): number =>
  Math.max(SHEET_GRADES.least, Math.floor(steepestGrade(ground, trackClass, radius) * 10 + 1e-9) / 10);

function deckRise({ decks }: Plan): number | undefined {
  const heights = Object.values(decks)
    .filter(({ kind }) => kind === "scenic")
    .map(({ height }) => height)
    .sort((a, b) => a - b);
  const [lowest = 0] = heights;
  const next = heights.find((height) => height - lowest > ONE_LEVEL);
  return next === undefined ? undefined : next - lowest;
}

export const sheetFor = (plan: Plan, { class: trackClass, scale, ...wishes }: SheetWishes): ClimbSheetResult =>
  climbSheet(groundOf(plan, scale), trackClass, wishes);

export type ReadFigure =
  | { readonly ok: true; readonly wishes: SheetWishes }
  | { readonly ok: false; readonly message: string };

/** The wishes with one figure as typed; refused where it is not understood or nothing can be reckoned with it. */
export function withTyped(plan: Plan, wishes: SheetWishes, field: SheetField, text: string, units: Units): ReadFigure {
  const read = field === "grade" ? parseGrade(text) : parseLength(text, units);
  if (!read.ok) return read;
  return reckonable(plan, { ...wishes, [field]: "mm" in read ? read.mm : read.value });
}

function reckonable(plan: Plan, wishes: SheetWishes): ReadFigure {
  const result = sheetFor(plan, wishes);
  return result.ok ? { ok: true, wishes } : { ok: false, message: result.message };
}

export const figureText = (field: SheetField, wishes: ClimbWishes, units: Units): string =>
  field === "grade"
    ? formatGrade(wishes.grade)
    : formatLength(wishes[field], units, units === "imperial" ? { style: "inches" } : {});

/** What an arrow key adds: a tenth of a percent, ten millimetres or half an inch. */
const stepOf = (field: SheetField, units: Units): number =>
  field === "grade" ? 0.1 : units === "metric" ? 10 : INCH / 2;

/** To the next whole step up or down. */
export function nudged(plan: Plan, wishes: SheetWishes, field: SheetField, way: 1 | -1, units: Units): ReadFigure {
  const step = stepOf(field, units);
  const steps = wishes[field] / step;
  const next = way > 0 ? Math.floor(steps + 1e-6) + 1 : Math.ceil(steps - 1e-6) - 1;
  return reckonable(plan, { ...wishes, [field]: Number((next * step).toFixed(6)) });
}
