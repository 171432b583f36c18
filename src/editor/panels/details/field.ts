/**
 * What Details shows of a thing: fields with a value, what may be typed into them, and the edit that follows. Without
 * page or store: the same fields are filled in by the panel and by the tests.
 *
 * Always holds: what a field shows, typed back, changes nothing; what cannot be understood or done is answered with a
 * sentence and no edit.
 */
import type { Thing } from "../../../drafting/thing.js";
import { andThen, type Edit, refused } from "../../../plan/edit.js";
import { formatLength, plainDecimal } from "../../../plan/format-length.js";
import { formatAngle, formatGrade, parseAngle, parseCount, parseGrade } from "../../../plan/grade-text.js";
import { parseLength } from "../../../plan/parse-length.js";
import type { Id, Plan } from "../../../plan/schema.js";
import type { SettingPath } from "../../../plan/setting-edits.js";

export type Quantity = "length" | "angle" | "grade" | "count" | "number";

interface Common {
  /** The same field of two things has the same id. */
  readonly id: string;
  readonly label: string;
  /** To its right: a limit, a unit, what follows. */
  readonly note?: string;
}

export interface NumberField extends Common {
  readonly kind: "number";
  readonly quantity: Quantity;
  readonly value: number | undefined;
  /** What stands in for a number left out, in words; such a field may be emptied. */
  readonly without?: string;
  /** Undefined takes the number out. */
  set(plan: Plan, value: number | undefined): Edit;
}

export interface TextField extends Common {
  readonly kind: "text";
  readonly value: string;
  readonly long?: boolean;
  set(plan: Plan, value: string): Edit;
}

export interface ChoiceField extends Common {
  readonly kind: "choice";
  readonly value: string;
  readonly choices: readonly { readonly value: string; readonly name: string }[];
  set(plan: Plan, value: string): Edit;
}

/** Something that follows and cannot be typed. */
export interface FactField extends Common {
  readonly kind: "fact";
  readonly value: string;
}

export type Field = NumberField | TextField | ChoiceField | FactField;

export interface Action {
  readonly id: string;
  readonly name: string;
  do(plan: Plan): Edit;
}

export interface Section {
  readonly id: string;
  readonly title?: string;
  readonly fields: readonly Field[];
  readonly actions?: readonly Action[];
  /** The leg the section is about, when it is one of a track's. */
  readonly leg?: number;
  /** Limits of the plan, each with its source and the owner's reason. */
  readonly limits?: readonly SettingPath[];
  /** Things named here that have details of their own. */
  readonly things?: readonly { readonly name: string; readonly note: string; readonly thing: Thing }[];
  /** The plan's measured turnouts as a table, or one of them drawn. */
  readonly templates?: "all" | Id;
  /** Closed until it is asked for. */
  readonly folded?: boolean;
}

export interface Details {
  readonly title: string;
  /** Which one: its name and where it is. */
  readonly about: string;
  readonly sections: readonly Section[];
  /** What else an edit of it moves. */
  readonly consequence?: string;
  readonly caution?: string;
}

/** Exact to the sixteenth or tenth of a millimetre that is shown; ASCII, so that it can be typed back. */
export function fieldText(field: Field, units: Plan["units"]): string {
  if (field.kind !== "number") return field.value;
  return field.value === undefined ? "" : quantityText(field.value, field.quantity, units);
}

/** Up to here builders count inches rather than feet (common practice, no source), mm. */
const IN_INCHES = 72 * 25.4;

export function quantityText(value: number, quantity: Quantity, units: Plan["units"]): string {
  if (quantity === "length") {
    const style = units === "imperial" && Math.abs(value) < IN_INCHES ? "inches" : units === "imperial" ? "feet" : "mm";
    return formatLength(value, units, { style });
  }
  if (quantity === "angle") return formatAngle(value);
  if (quantity === "grade") return formatGrade(value);
  return plainDecimal(value, quantity === "count" ? 0 : 2);
}

function parseQuantity(text: string, quantity: Quantity, units: Plan["units"]) {
  if (quantity === "length") {
    const length = parseLength(text, units);
    return length.ok ? { ok: true as const, value: length.mm } : length;
  }
  if (quantity === "angle") return parseAngle(text);
  if (quantity === "grade") return parseGrade(text);
  if (quantity === "count") return parseCount(text);
  const number = parseLength(text, "metric");
  return number.ok ? { ok: true as const, value: number.mm } : { ok: false as const, message: "a number is missing" };
}

/** The edit that what was typed asks for; undefined where it is what stands there already. */
export function typedEdit(field: Field, typed: string, plan: Plan, units: Plan["units"]): Edit | undefined {
  if (field.kind === "fact" || typed.trim() === fieldText(field, units).trim()) return undefined;
  if (field.kind !== "number") return field.set(plan, typed);
  if (typed.trim() === "") {
    return field.without === undefined
      ? refused(`${field.label.toLowerCase()} is missing`)
      : field.set(plan, undefined);
  }
  const parsed = parseQuantity(typed, field.quantity, units);
  return parsed.ok ? field.set(plan, parsed.value) : refused(parsed.message);
}

/** The fields several things share, each setting all of them as one edit; a value that differs is left empty. */
export function commonSections(all: readonly Details[]): Section[] {
  const [first, ...others] = all;
  if (!first) return [];
  const fields = first.sections
    .filter((section) => section.leg === undefined)
    .flatMap((section) => section.fields)
    .flatMap((field) => {
      const same = others.map((details) =>
        details.sections
          .filter((section) => section.leg === undefined)
          .flatMap((section) => section.fields)
          .find(({ id, kind }) => id === field.id && kind === field.kind),
      );
      return same.includes(undefined) ? [] : (merged([field, ...(same as Field[])]) ?? []);
    });
  return fields.length > 0 ? [{ id: "common", fields }] : [];
}

/** Names differ from thing to thing and are not set together; facts are not set at all. */
function merged(fields: readonly Field[]): Field | undefined {
  const [first] = fields;
  if (!first || first.kind === "fact" || first.id === "name") return undefined;
  const agree = fields.every((field) => field.value === first.value);
  const setAll = (plan: Plan, set: (field: Field, plan: Plan) => Edit): Edit => {
    const [one, ...more] = fields;
    return more.reduce(
      (edit, field) => andThen(edit, (next) => set(field, next)),
      one ? set(one, plan) : refused("nothing is selected"),
    );
  };
  const note = agree ? {} : { note: "they differ" };
  if (first.kind === "number") {
    return {
      ...first,
      ...note,
      value: agree ? first.value : undefined,
      set: (plan: Plan, value: number | undefined) =>
        setAll(plan, (field, next) => (field.kind === "number" ? field.set(next, value) : refused("not a number"))),
    };
  }
  const set = (plan: Plan, value: string): Edit =>
    setAll(plan, (field, next) =>
      field.kind === "text" || field.kind === "choice" ? field.set(next, value) : refused("not a text"),
    );
  if (first.kind === "text") return { ...first, ...note, value: agree ? first.value : "", set };
  const choices = first.choices.filter(({ value }) =>
    fields.every((field) => field.kind === "choice" && field.choices.some((choice) => choice.value === value)),
  );
  return { ...first, ...note, value: agree ? first.value : "", choices, set };
}
