/** Sign and word of a verdict; colour comes after them. */
import type { Verdict } from "../readings/reading.js";

export const VERDICTS: Readonly<Record<Verdict, { readonly sign: string; readonly word: string }>> = {
  clear: { sign: "○", word: "Clear" },
  tight: { sign: "△", word: "Tight" },
  fails: { sign: "■", word: "Fails" },
  none: { sign: "–", word: "No limit" },
};
