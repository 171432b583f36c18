/**
 * The climb sheet in words and figures, the same on a terminal and on the page: what this climb takes, what other grades
 * and other heights between the decks would, and what to make of it.
 */
import {
  type ClimbSheet,
  climbSums,
  type ClimbSums,
  type ClimbWishes,
  SHEET_GRADES,
  type SheetCheck,
} from "../climb/climb-sheet.js";
import { reckonedStep, reckonedText, runText, stepped } from "../drafting/climb-figures.js";
import { lengthText, percentText, type Units } from "../drafting/figures.js";
import { limitsOf } from "../plan/class-limits.js";
import { INCH } from "../plan/parse-length.js";
import { BOUNDS, type Plan, type TrackClass } from "../plan/schema.js";
import type { Verdict } from "../readings/reading.js";
import { judge } from "../readings/verdict.js";
import { limitText, quantityText } from "./readings-text.js";

export interface SheetFact {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  /** The same in the other unit; undefined where it is no length. */
  readonly other: string | undefined;
  /** `≤ 2.5 %`, with its verdict and where it comes from, where something limits it. */
  readonly limit?: { readonly text: string; readonly verdict: Verdict; readonly source: string };
}

export interface SheetTable {
  readonly id: string;
  readonly caption: string;
  readonly heads: readonly string[];
  readonly rows: readonly SheetRow[];
}

export interface SheetRow {
  /** The grade or the rise of the row, percent or mm. */
  readonly value: number;
  readonly cells: readonly string[];
  /** The climb asked about. */
  readonly asked: boolean;
  readonly verdict: Verdict;
}

const otherUnits = (units: Units): Units => (units === "metric" ? "imperial" : "metric");

const turnsText = (turns: number): string => turns.toFixed(turns < 10 ? 2 : 1);

const ratio = (grade: number): string => (100 / grade).toFixed(grade > 10 ? 1 : 0);

/** What this climb takes, with every limit it is held against. */
export function sheetFacts({ sums, pad, checks }: ClimbSheet, units: Units): SheetFact[] {
  const other = otherUnits(units);
  const checked = (id: SheetCheck["id"]): Pick<SheetFact, "limit"> => {
    const check = checks.find((one) => one.id === id);
    return check ? { limit: { text: limitText(check, units), verdict: check.verdict, source: check.source } } : {};
  };
  const run = (id: string, label: string, mm: number): SheetFact => ({
    id,
    label,
    value: runText(mm, units, "up"),
    other: runText(mm, other, "up"),
  });
  const length = (id: string, label: string, mm: number): SheetFact => ({
    id,
    label,
    value: reckonedText(mm, units),
    other: reckonedText(mm, other),
  });
  const plain = (id: string, label: string, value: string): SheetFact => ({ id, label, value, other: undefined });
  return [
    { ...plain("grade", "Grade", `${percentText(sums.grade)}, 1 in ${ratio(sums.grade)}`), ...checked("grade") },
    { ...plain("felt", "Grade felt", percentText(sums.felt)), ...checked("felt-grade") },
    { ...length("radius", "Radius", sums.radius), ...checked("radius") },
    run("run", "Run, level to level", sums.run),
    { ...length("vertical-curve", "Vertical curve at each end", sums.verticalCurve), ...checked("vertical-curve") },
    plain("turns", "Turns of a helix", turnsText(sums.turns)),
    length("per-turn", "Rise a turn", sums.perTurn),
    ...(sums.gap === undefined
      ? []
      : [
          length("clear", "Clear between turns", sums.clear),
          { ...length("gap", "Clear at its ends, where it is least", sums.gap), ...checked("over-track") },
        ]),
    length("bench", "Round bench, across", pad.bench),
    length("walls", "Free of walls, across", pad.clear),
    { ...length("within", "Room within, across", pad.hole), ...checked("aisle") },
  ];
}

/** Grades tabled beside the one asked about, percent. */
const GRADES = [1, 1.5, 2, 2.5, 3, 3.5, 4] as const;
/** And over the heights, where there is less room. */
const FEW_GRADES = [1.5, 2, 2.5, 3, 4] as const;
/** Grades nearer than this are one row. */
const SAME_GRADE = 0.005;

const withAsked = (grades: readonly number[], asked: number): number[] =>
  [...grades.filter((grade) => Math.abs(grade - asked) > SAME_GRADE), asked].sort((a, b) => a - b);

/** What other grades would take of the same rise on the same radius. */
export function gradeTable(plan: Plan, trackClass: TrackClass, wishes: ClimbWishes, units: Units): SheetTable {
  const { value: tight } = plan.standards.tight;
  const { grade: most, feltGrade } = limitsOf(plan, trackClass);
  const row = (sums: ClimbSums): SheetRow => ({
    value: sums.grade,
    cells: [
      percentText(sums.grade),
      ratio(sums.grade),
      percentText(sums.felt),
      runText(sums.run, units, "up"),
      turnsText(sums.turns),
      reckonedText(sums.perTurn, units),
      sums.gap === undefined ? "–" : reckonedText(sums.gap, units),
    ],
    asked: Math.abs(sums.grade - wishes.grade) <= SAME_GRADE,
    verdict: worst([judge(sums.grade, most.value, "most", tight), judge(sums.felt, feltGrade.value, "most", tight)]),
  });
  return {
    id: "grades",
    caption: `What the grade costs: ${lengthText(wishes.rise, units)} up on ${lengthText(wishes.radius, units)} radius`,
    heads: ["Grade", "1 in", "Felt", "Run", "Turns", "Rise a turn", "Least clear"],
    rows: withAsked(GRADES, wishes.grade).map((grade) => row(climbSums(plan, { ...wishes, grade }))),
  };
}

const worst = (verdicts: readonly Verdict[]): Verdict =>
  verdicts.includes("fails") ? "fails" : verdicts.includes("tight") ? "tight" : "clear";

/** What is between two heights of the table. */
const stepOf = (units: Units): number => (units === "metric" ? 50 : 2 * INCH);
/** Heights on either side of the one asked about. */
const BESIDE = 3;

/** What other heights between the decks would take, at several grades; runs from level to level. */
export function deckTable(plan: Plan, wishes: ClimbWishes, units: Units): SheetTable {
  const step = stepOf(units);
  const middle = Math.round(wishes.rise / step);
  const round = Array.from({ length: 2 * BESIDE + 1 }, (_, i) => (middle + i - BESIDE) * step);
  const others = round.filter((rise) => rise > 0 && rise <= BOUNDS.height && Math.abs(rise - wishes.rise) > 1);
  const rises = [...others, wishes.rise].sort((a, b) => a - b);
  const grades = withAsked(FEW_GRADES, wishes.grade).filter((g) => g >= SHEET_GRADES.least);
  return {
    id: "decks",
    caption: "What deck height costs: run by rise from deck to deck, and by grade",
    heads: ["Rise", units === "metric" ? "inches" : "mm", ...grades.map(percentText)],
    rows: rises.map((rise) => ({
      value: rise,
      cells: [
        lengthText(rise, units),
        reckonedText(rise, otherUnits(units)),
        ...grades.map((grade) => runText(climbSums(plan, { ...wishes, rise, grade }).run, units, "up")),
      ],
      asked: rise === wishes.rise,
      verdict: "none" as const,
    })),
  };
}

/** What to make of it, a sentence each: what limits it, what would do, and what a little more height costs. */
export function sheetSentences(plan: Plan, sheet: ClimbSheet, units: Units): string[] {
  const { sums, steepest, stacks, checks } = sheet;
  const fails = (id: SheetCheck["id"]): boolean => checks.some((check) => check.id === id && check.verdict === "fails");
  const sentences: string[] = [];
  if (fails("grade") || fails("felt-grade")) {
    sentences.push(
      steepest > 0
        ? `On ${lengthText(sums.radius, units)} radius a ${sheet.class} may climb ${percentText(stepped("down", steepest, 0.01))}.`
        : `On ${lengthText(sums.radius, units)} radius the drag of the curve alone is more than a ${sheet.class} may feel.`,
    );
  }
  if (fails("radius")) {
    const { radius } = limitsOf(plan, sheet.class);
    sentences.push(`A ${sheet.class} asks for ${quantityText(radius.value, "mm", units)} radius at the least.`);
  }
  if (fails("over-track")) {
    const grade =
      stacks.grade === undefined ? "" : `from ${percentText(stepped("up", stacks.grade, 0.01))} on this radius`;
    const radius =
      stacks.radius === undefined
        ? ""
        : `from ${lengthText(stepped("up", stacks.radius, reckonedStep(units)), units)} radius at this grade`;
    const either = [grade, radius].filter((part) => part !== "").join(", or ");
    sentences.push(`Turns lie too near over one another${either ? `: they clear ${either}` : ""}.`);
  }
  if (fails("vertical-curve"))
    sentences.push("It is too short for its vertical curves: a gentler grade, or less of them.");
  if (sums.turns < 1) sentences.push("It takes less than one turn: no track lies over track.");
  const step = stepOf(units);
  const more = climbSums(plan, { ...sums, rise: sums.rise + step });
  sentences.push(
    `Every ${lengthText(step, units)} more from deck to deck costs ${runText(more.run - sums.run, units, "up")} of run, ` +
      `or ${turnsText(more.turns - sums.turns)} of a turn.`,
  );
  return sentences;
}
