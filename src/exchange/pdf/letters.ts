/**
 * Lettering in the fonts every reader of PDF has. They hold the letters of western Europe (WinAnsi, ISO 32000-1 annex D);
 * others are written by what comes near, or as a question mark.
 *
 * Always holds: what `plainLetters` gives can be written, and text that can be written comes back as it was.
 */
export type FontName =
  | "Helvetica"
  | "Helvetica-Bold"
  | "Helvetica-Oblique"
  | "Times-Roman"
  | "Times-Bold"
  | "Times-Italic";

export const FONT_NAMES: readonly FontName[] = [
  "Helvetica",
  "Helvetica-Bold",
  "Helvetica-Oblique",
  "Times-Roman",
  "Times-Bold",
  "Times-Italic",
];

export interface Letters {
  /** Lettering as a string of hexadecimal digits between < and >, which no text can leave. */
  readonly encode: (font: FontName, text: string) => string;
  /** At a size of 1. */
  readonly width: (font: FontName, text: string) => number;
}

const NEAR: Readonly<Record<string, string>> = {
  "′": "'",
  "″": '"',
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
  "≥": ">=",
  "≤": "<=",
  "−": "-",
  "→": "->",
  "←": "<-",
  "↗": "up",
  "↘": "down",
};
const NEARBY = new RegExp(`[${Object.keys(NEAR).join("")}]`, "gu");
/** Letters of 0x80 to 0x9f in WinAnsi. */
const HIGH = "€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ";
const isWritten = (letter: string): boolean => /^[ -~\u00a0-\u00ff]$/u.test(letter) || HIGH.includes(letter);
/** Controls, lone surrogates and what has no shape. */
// oxlint-disable-next-line no-control-regex
const SHAPELESS = /[\u0000-\u001f\u007f-\u009f\ud800-\udfff\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/gu;

export function plainLetters(text: string): string {
  const near = text
    .replace(/[\t\r\n]+/g, " ")
    .replace(SHAPELESS, "")
    .replace(/(?<=\d)(?=[⅛⅜⅝⅞])/gu, " ")
    .replace(NEARBY, (letter) => NEAR[letter] ?? "?");
  let plain = "";
  for (const letter of near) {
    if (isWritten(letter)) plain += letter;
    else {
      const bare = [...letter.normalize("NFKD")].filter(isWritten).join("");
      plain += bare === "" ? (/^\p{M}$/u.test(letter) ? "" : "?") : bare;
    }
  }
  return plain;
}
