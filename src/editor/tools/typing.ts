/**
 * Numbers and names typed while a tool is in hand: fields one after the other, Tab from one to the next, Enter to be
 * done. A tool keeps a `Typing` in its state and the values in its own words.
 *
 * Always holds: what is not understood changes no value and is answered with a sentence; Backspace takes back typed
 * letters before anything else.
 */
import { parseAngle, parseGrade, parseNumber } from "../../plan/grade-text.js";
import { parseLength } from "../../plan/parse-length.js";
import { BOUNDS, type Plan } from "../../plan/schema.js";
import type { ToolEvent, ToolShow } from "../tool.js";

export interface Field<K extends string> {
  readonly key: K;
  readonly label: string;
  readonly takes: "length" | "angle" | "grade" | "number" | "name";
  /** Bounds of a number; a length is above 0 where left out. */
  readonly least?: number;
  readonly most?: number;
}

export interface Typing<K extends string> {
  readonly field: K;
  readonly text: string;
  readonly error?: string;
}

export interface Typed<K extends string> {
  readonly typing: Typing<K>;
  /** A field that has been given a value: mm or degrees, or a name. */
  readonly set?: { readonly field: K; readonly value: number; readonly text: string };
  /** Enter was pressed and what was typed is understood, or nothing was. */
  readonly entered?: boolean;
}

export const startTyping = <K extends string>(field: K): Typing<K> => ({ field, text: "" });

/** A key that begins a number. */
const FIGURE = /^[\d.,+\-\u00BC-\u00BE\u2150-\u215E\u2212]$/u;
const LONGEST = BOUNDS.name;

/** Undefined where the key is not for typing: a name takes every letter, a number those that follow a first figure. */
export function typeKey<K extends string>(
  typing: Typing<K>,
  fields: readonly Field<K>[],
  event: ToolEvent & { readonly type: "key" },
  units: Plan["units"],
): Typed<K> | undefined {
  const { key } = event;
  const here = fields.find((field) => field.key === typing.field) ?? fields[0];
  if (!here) return undefined;
  if ([...key].length === 1) {
    const takes = here.takes === "name" || typing.text !== "" || FIGURE.test(key);
    if (!takes) return undefined;
    return { typing: { field: here.key, text: (typing.text + key).slice(0, LONGEST) } };
  }
  if (key === "Backspace" && typing.text !== "") {
    return { typing: { field: here.key, text: [...typing.text].slice(0, -1).join("") } };
  }
  if (key !== "Tab" && key !== "Enter") return undefined;
  const read = typing.text === "" ? undefined : understand(here, typing.text, units);
  if (read && !read.ok) return { typing: { ...typing, field: here.key, error: read.message } };
  const set = read && { field: here.key, value: read.value, text: typing.text.trim() };
  const at = fields.indexOf(here);
  const next = fields[(at + (event.shift ? fields.length - 1 : 1)) % fields.length] ?? here;
  return {
    typing: startTyping(key === "Tab" ? next.key : here.key),
    ...(set && { set }),
    ...(key === "Enter" && { entered: true }),
  };
}

type Understood = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly message: string };

function understand<K extends string>(field: Field<K>, text: string, units: Plan["units"]): Understood {
  if (field.takes === "name") return { ok: true, value: 0 };
  let value: number;
  if (field.takes === "angle" || field.takes === "grade" || field.takes === "number") {
    const read =
      field.takes === "angle" ? parseAngle(text) : field.takes === "grade" ? parseGrade(text) : parseNumber(text);
    if (!read.ok) return read;
    value = read.value;
  } else {
    const length = parseLength(text, units);
    if (!length.ok) return length;
    value = length.mm;
  }
  const { least, most } = field;
  if (least === undefined && field.takes === "length" && !(value > 0)) return no("that must be more than nothing");
  if (least !== undefined && value < least)
    return no(least === 0 ? "that cannot be less than nothing" : "that is too little");
  if (most !== undefined && value > most) return no("that is too much");
  return { ok: true, value };
}

const no = (message: string): Understood => ({ ok: false, message });

/** The entry of the status line. `value` stands in it until something is typed. */
export function entryOf<K extends string>(
  typing: Typing<K>,
  fields: readonly Field<K>[],
  value = "",
): NonNullable<ToolShow["entry"]> {
  const field = fields.find(({ key }) => key === typing.field) ?? fields[0];
  const label = value === "" || typing.text !== "" ? (field?.label ?? "") : `${field?.label ?? ""} (${value})`;
  return {
    label,
    text: typing.text,
    ...(typing.error !== undefined && { error: typing.error }),
    ...(field?.takes === "name" && { letters: true }),
  };
}

/** The entry only while there is something to type it for; until then bare letters take other tools in hand. */
export const entryWhile = (begun: boolean, entry: NonNullable<ToolShow["entry"]>): Pick<ToolShow, "entry"> =>
  begun || entry.text !== "" ? { entry } : {};
