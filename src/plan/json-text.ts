/**
 * Looks a JSON text over before it is parsed: says where it is malformed, in words that are the same in every browser,
 * bounds its depth, and finds names given twice in one object, of which JSON.parse would silently keep the last.
 *
 * Holds: a text passes exactly when JSON.parse takes it and it is no deeper than the bound; time and memory grow
 * with the text's length, and no recursion is used.
 */
export type JsonPath = readonly (string | number)[];

/** A value whose name is given again later in the same object. */
export interface RepeatedName {
  readonly path: JsonPath;
  /** The earlier value is text.slice(from, to). */
  readonly from: number;
  readonly to: number;
}

export type JsonText =
  | { readonly ok: true; readonly repeated: readonly RepeatedName[] }
  | {
      readonly ok: false;
      readonly line: number;
      readonly column: number;
      readonly path: JsonPath;
      readonly message: string;
    };

/** A plan is about ten levels deep; the rest is for properties of versions to come. */
export const MOST_DEPTH = 100;
/** More names given twice than a slip or a bad merge leaves behind. */
export const MOST_REPEATED = 10_000;

interface Frame {
  readonly kind: "object" | "array";
  /** Of an object: where the value of each name lies. */
  readonly spans: Map<string, { from: number; to: number }>;
  key: string;
  index: number;
  /** Start of the value being read. */
  from: number;
}

type Expected = "value" | "value or ]" | "name" | "name or }" | "colon" | "comma or end" | "end of text";

const CUT_OFF = "the text ends too early: it seems cut off";
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
/** Longer than any number or word of a plan. */
const LONGEST_NUMBER = 40;
const WORD = /[-+]?[A-Za-z_$][\w$]*/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
/** The beginning of an escape; at the end of a text that was cut off there. */
const CUT_ESCAPE = /^\\(?:u[0-9a-fA-F]{0,3})?$/;
const NO_NUMBERS = new Set(["NaN", "Infinity", "-Infinity", "+Infinity", "-NaN", "undefined"]);

const matchAt = (pattern: RegExp, text: string, at: number): string | undefined => {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
};

export function scanJson(text: string, mostDepth = MOST_DEPTH, mostRepeated = MOST_REPEATED): JsonText {
  const stack: Frame[] = [];
  const repeated: RepeatedName[] = [];
  let expected: Expected = "value";
  let at = 0;

  const path = (): JsonPath => stack.map((frame) => (frame.kind === "object" ? frame.key : frame.index));
  const fail = (message: string, where = at): JsonText => {
    let line = 1;
    let start = 0;
    for (let i = text.indexOf("\n"); i >= 0 && i < where; i = text.indexOf("\n", i + 1)) {
      line += 1;
      start = i + 1;
    }
    return { ok: false, line, column: where - start + 1, path: path(), message };
  };
  const afterValue = (): Expected => {
    const frame = stack.at(-1);
    if (frame === undefined) return "end of text";
    if (frame.kind === "array") return "comma or end";
    const earlier = frame.spans.get(frame.key);
    if (earlier !== undefined) repeated.push({ path: path(), ...earlier });
    frame.spans.set(frame.key, { from: frame.from, to: at });
    return "comma or end";
  };

  for (;;) {
    while (at < text.length && isSpace(text.charCodeAt(at))) at += 1;
    if (at >= text.length) {
      if (expected === "end of text") return { ok: true, repeated };
      return fail(text.trim() === "" ? "the text is empty" : CUT_OFF);
    }
    if (repeated.length > mostRepeated) return fail(`more than ${mostRepeated} names are given twice`);
    const c = text[at] ?? "";
    const frame = stack.at(-1);

    if (expected === "end of text") return fail(`nothing may follow the plan, found ${quote(c)}`);
    if (expected === "colon") {
      if (c !== ":") return fail(`a colon is missing after the name, found ${quote(c)}`);
      at += 1;
      expected = "value";
      continue;
    }
    if (expected === "comma or end" && frame !== undefined) {
      if (c === ",") {
        at += 1;
        frame.index += 1;
        expected = frame.kind === "object" ? "name" : "value";
        continue;
      }
      if (c !== (frame.kind === "object" ? "}" : "]"))
        return fail(`a comma or closing bracket is missing before ${quote(c)}`);
      at += 1;
      stack.pop();
      expected = afterValue();
      continue;
    }
    if ((expected === "name or }" && c === "}") || (expected === "value or ]" && c === "]")) {
      at += 1;
      stack.pop();
      expected = afterValue();
      continue;
    }
    if (frame !== undefined && (expected === "name" || expected === "name or }")) {
      if (c !== '"') return fail(`a name in double quotes is missing, found ${quote(c)}`);
      const end = stringEnd(text, at);
      if (typeof end !== "number") return fail(end.message, end.at);
      frame.key = textOf(text, at, end);
      at = end;
      expected = "colon";
      continue;
    }

    if (frame !== undefined) frame.from = at;
    if (c === "{" || c === "[") {
      if (stack.length >= mostDepth) return fail(`nested more than ${mostDepth} levels deep`);
      stack.push({ kind: c === "{" ? "object" : "array", spans: new Map(), key: "", index: 0, from: at });
      at += 1;
      expected = c === "{" ? "name or }" : "value or ]";
      continue;
    }
    if (c === '"') {
      const end = stringEnd(text, at);
      if (typeof end !== "number") return fail(end.message, end.at);
      at = end;
      expected = afterValue();
      continue;
    }
    const word = matchAt(WORD, text, at);
    const number = word === undefined ? matchAt(NUMBER, text, at) : undefined;
    // Of `tru` and `31.` at the end of a text nobody can tell what they would have become.
    if (stack.length > 0 && text.length - at < LONGEST_NUMBER && /^[\w.+-]+$/.test(text.slice(at))) {
      return fail(CUT_OFF, text.length);
    }
    if (word !== undefined) {
      if (NO_NUMBERS.has(word)) return fail(`${word} is no number a plan can hold`);
      if (word !== "true" && word !== "false" && word !== "null")
        return fail(`${quote(word)} is not understood; text stands in double quotes`);
      at += word.length;
      expected = afterValue();
      continue;
    }
    if (number === undefined) return fail(`a value is missing, found ${quote(c)}`);
    const after = text[at + number.length] ?? "";
    if (/[\w.+-]/.test(after)) return fail(`${quote(number + after)} is not a number as JSON writes them`);
    at += number.length;
    expected = afterValue();
  }
}

const isSpace = (code: number): boolean => code === 32 || code === 10 || code === 13 || code === 9;

const quote = (found: string): string => `"${found.length > 40 ? `${found.slice(0, 40)}…` : found}"`;

/** Index after the closing quote of the string that opens at `open`. */
function stringEnd(text: string, open: number): number | { readonly message: string; readonly at: number } {
  for (let at = open + 1; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 34) return at + 1;
    if (code < 32) return { message: "a text is not closed on its line, or holds a control character", at };
    if (code === 92) {
      const escape = matchAt(ESCAPE, text, at);
      if (escape === undefined && !CUT_ESCAPE.test(text.slice(at, at + 6))) {
        return { message: `${quote(text.slice(at, at + 2))} is no escape of JSON`, at };
      }
      at += (escape?.length ?? 1) - 1;
    }
  }
  return { message: CUT_OFF, at: text.length };
}

function textOf(text: string, from: number, to: number): string {
  const inner = text.slice(from + 1, to - 1);
  if (!inner.includes("\\")) return inner;
  const parsed: unknown = JSON.parse(text.slice(from, to));
  return typeof parsed === "string" ? parsed : inner;
}
