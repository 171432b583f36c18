/** Profiles of the same climb in other options, laid under the one in hand: each its own dashes, with its name where it parts. */
import { element, group, type Markup } from "./markup.js";
import type { ProfilePoint } from "./profile-run.js";
import { heightBetween, inField, type ProfileSheet } from "./profile-sheet.js";
import { paperLine } from "./shapes.js";
import { dash, lettered, px } from "./sheet.js";

export interface ProfileBeside {
  readonly name: string;
  readonly heights: readonly ProfilePoint[];
}

/** Told apart without colour, px; unlike the dashes of hidden track. */
const DASHES = [
  [2, 3],
  [12, 3],
  [12, 3, 2, 3],
  [5, 2, 1, 2, 1, 2],
] as const;
/** The name stands so far off its line, px. */
const OFF = 12;
/** Where the lines part most is looked for at so many places. */
const PLACES = 48;

/** `heights` are those of the profile in hand. */
export function drawBeside(
  sheet: ProfileSheet,
  others: readonly ProfileBeside[],
  heights: readonly ProfilePoint[],
): Markup {
  const { palette } = sheet;
  const marks = others.flatMap((other, i) => {
    if (other.heights.length < 2) return [];
    const line = element("path", {
      d: paperLine(...other.heights.map(({ d, h }) => inField(sheet, d, h))),
      fill: "none",
      stroke: palette.ink2,
      "stroke-width": px(sheet, 1.2),
      "stroke-dasharray": dash(sheet, DASHES[i % DASHES.length] ?? DASHES[0]),
    });
    const parting = widest(other.heights, heights);
    const at = inField(sheet, parting.d, parting.h);
    const y = at.y + (parting.above ? -1 : 1) * px(sheet, OFF);
    const style = { size: 12, colour: palette.ink2, halo: palette.paper };
    return [line, lettered(sheet, { x: at.x, y }, other.name, style)];
  });
  return group({ "data-layer": "beside" }, marks);
}

function widest(
  own: readonly ProfilePoint[],
  inHand: readonly ProfilePoint[],
): { readonly d: number; readonly h: number; readonly above: boolean } {
  const begins = own[0]?.d ?? 0;
  const length = (own.at(-1)?.d ?? 0) - begins;
  let best = { d: begins + length / 2, h: heightBetween(own, begins + length / 2), above: true };
  let most = 0;
  // Names at the very ends would leave the field.
  for (let i = 4; i <= PLACES - 4; i++) {
    const d = begins + (length * i) / PLACES;
    const h = heightBetween(own, d);
    const apart = h - heightBetween(inHand, d);
    if (Math.abs(apart) <= most) continue;
    most = Math.abs(apart);
    best = { d, h, above: apart > 0 };
  }
  return best;
}
