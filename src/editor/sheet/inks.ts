/** The sheet's inks and faces, read from the page's tokens, so that canvas and page never differ. */
import type { Ink } from "../../drafting/batch.js";
import type { Face } from "../../drafting/label.js";

const TOKENS: Readonly<Record<Ink, string>> = {
  paper: "--paper",
  ink: "--ink",
  ink2: "--ink-2",
  ink3: "--ink-3",
  strongRule: "--rule-strong",
  wall: "--wall",
  survey: "--survey",
  carmine: "--carmine",
  tight: "--tight",
  fails: "--fails",
  "lower-tint": "--deck-lower",
  "lower-edge": "--deck-lower-edge",
  "lower-ink": "--deck-lower-ink",
  "upper-tint": "--deck-upper",
  "upper-edge": "--deck-upper-edge",
  "upper-ink": "--deck-upper-ink",
  "staging-tint": "--deck-staging",
  "staging-edge": "--deck-staging-edge",
  "staging-ink": "--deck-staging-ink",
};

export interface Inks {
  readonly colour: Readonly<Record<Ink | "wash" | "clear", string>>;
  readonly face: Readonly<Record<Face, string>>;
}

export function readInks(page: Element): Inks {
  const style = getComputedStyle(page);
  const token = (name: string): string => style.getPropertyValue(name).trim();
  const colours = Object.entries(TOKENS).map(([ink, name]) => [ink, token(name)] as const);
  const colour = Object.fromEntries(colours) as Record<Ink, string>;
  return {
    colour: { ...colour, wash: token("--carmine-wash"), clear: token("--clear") },
    face: { draw: token("--face-draw"), name: token("--face-name") },
  };
}
