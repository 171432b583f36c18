/** Scales of drawings: as they are typed, as they are called, and the customary ones. */
import type { Plan } from "../plan/schema.js";

/** Millimetres of room to one of paper, largest drawing first: inches to the foot in imperial practice, decimal elsewhere. */
export const CUSTOMARY: Readonly<Record<Plan["units"], readonly number[]>> = {
  imperial: [4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384],
  metric: [5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200, 500],
};

/** What of an inch of paper stands for a foot. */
const INCHES: Readonly<Record<number, string>> = {
  4: "3",
  8: "1½",
  12: "1",
  16: "¾",
  24: "½",
  32: "⅜",
  48: "¼",
  64: "3/16",
  96: "⅛",
  128: "3/32",
  192: "1/16",
  384: "1/32",
};

/** `1:20`; in feet and inches with what an inch of paper is: `1:24 (½″ = 1′)`. */
export function scaleText(scale: number, units: Plan["units"]): string {
  const ratio = `1:${Math.round(scale * 1000) / 1000}`;
  const inches = units === "imperial" ? INCHES[scale] : undefined;
  return inches === undefined ? ratio : `${ratio} (${inches}″ = 1′)`;
}

export const LARGEST = 1;
export const SMALLEST = 1000;

export type ParsedScale =
  | { readonly ok: true; readonly scale: number }
  | { readonly ok: false; readonly message: string };

/** `1:20`, `1/20`, `20`, `1/2 in`, `1/2"`, `1/2 in to the foot`. */
export function parseScale(text: string): ParsedScale {
  const inches =
    /^\s*(\d+(?:\.\d+)?)?\s*(?:(\d+)\/(\d+))?\s*(?:in(?:ch(?:es)?)?|["″])\s*(?:to the foot|=\s*1?\s*(?:ft|foot|['′]))?\s*$/i.exec(
      text,
    );
  if (inches) {
    const [, whole = "0", over = "0", under = "1"] = inches;
    return checked(12 / (Number(whole) + Number(over) / Number(under)));
  }
  const ratio = /^\s*(?:1\s*[:/]\s*)?(\d+(?:\.\d+)?)\s*$/.exec(text);
  return checked(Number(ratio?.[1]));
}

function checked(scale: number): ParsedScale {
  if (scale >= LARGEST && scale <= SMALLEST) return { ok: true, scale };
  return { ok: false, message: `expected a scale from 1:${LARGEST} to 1:${SMALLEST}, as 1:20 or 1/2 in to the foot` };
}
