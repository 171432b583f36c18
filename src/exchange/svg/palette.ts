/** The sheet's inks, by day and by night. Written out in every drawing, so that it looks the same wherever it is opened. */
import type { Ink } from "../../drafting/batch.js";
import type { DeckTone } from "../../drafting/decks.js";

export interface DeckInk {
  readonly tint: string;
  readonly edge: string;
  readonly ink: string;
}

export interface Palette {
  readonly desk: string;
  readonly paper: string;
  readonly rule: string;
  readonly strongRule: string;
  readonly ink: string;
  readonly ink2: string;
  readonly ink3: string;
  readonly wall: string;
  readonly survey: string;
  readonly lower: DeckInk;
  readonly upper: DeckInk;
  readonly staging: DeckInk;
  readonly carmine: string;
  readonly tight: string;
  readonly fails: string;
}

export type Theme = "light" | "dark";

export const PALETTES: Readonly<Record<Theme, Palette>> = {
  light: {
    desk: "#e6ebea",
    paper: "#fafbf8",
    rule: "#cfd7d6",
    strongRule: "#9aa8ab",
    ink: "#16242f",
    ink2: "#43535e",
    ink3: "#5b6a73",
    wall: "#2b3b46",
    survey: "#c3cecd",
    lower: { tint: "#e4ecdf", edge: "#6d8263", ink: "#43593a" },
    upper: { tint: "#dfe7f4", edge: "#6580aa", ink: "#35527f" },
    staging: { tint: "#e8e4ee", edge: "#7f7395", ink: "#594d70" },
    carmine: "#a90f58",
    tight: "#7d5200",
    fails: "#a5261a",
  },
  dark: {
    desk: "#0b1116",
    paper: "#111a21",
    rule: "#26343e",
    strongRule: "#566a76",
    ink: "#e4ebec",
    ink2: "#b3c0c6",
    ink3: "#92a2aa",
    wall: "#bcc9ce",
    survey: "#33444f",
    lower: { tint: "#17241f", edge: "#7d9d86", ink: "#a4c4a9" },
    upper: { tint: "#192741", edge: "#7f9dce", ink: "#aac3ec" },
    staging: { tint: "#211e30", edge: "#9486b4", ink: "#c2b5de" },
    carmine: "#ff86b3",
    tight: "#e5b658",
    fails: "#ff9080",
  },
};

/** The colour of an ink by its name. */
export function inkOf(palette: Palette, ink: Ink): string {
  const [tone, part] = ink.split("-") as [DeckTone, keyof DeckInk | undefined];
  return part === undefined ? palette[ink as Exclude<Ink, `${string}-${string}`>] : palette[tone][part];
}

export const FACES = {
  name: "'Iowan Old Style', 'Palatino Linotype', Palatino, 'URW Palladio L', 'Liberation Serif', Georgia, serif",
  draw: "'Avenir Next Condensed', 'Arial Narrow', 'Liberation Sans Narrow', 'Roboto Condensed', 'Liberation Sans', Arial, sans-serif",
} as const;
