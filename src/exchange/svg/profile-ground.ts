/** Under the profile's line: heading, distance axis, and the decks as bands of structure below their railhead. */
import { lengthText, type Units } from "../../drafting/figures.js";
import { element, figure, group, type Markup } from "./markup.js";
import { paperLine } from "./shapes.js";
import { heightBetween, inField, type ProfileSheet } from "./profile-sheet.js";
import type { ProfilePoint } from "./profile-run.js";
import { deckInk, lettered, px, textWidth } from "./sheet.js";

export function drawHeading(sheet: ProfileSheet, ends: string, facts: readonly string[]): Markup {
  const y = px(sheet, 22);
  const title = "Profile";
  const start = { x: px(sheet, 18), y };
  const after = start.x + textWidth(sheet, title, 17, "name") + px(sheet, 16);
  const { palette } = sheet;
  return group({ "data-layer": "heading" }, [
    lettered(sheet, start, title, { size: 17, colour: palette.ink, face: "name", anchor: "start" }),
    lettered(sheet, { x: after, y }, [ends, ...facts].filter((fact) => fact !== "").join("   ·   "), {
      size: 12,
      colour: palette.ink2,
      anchor: "start",
    }),
  ]);
}

const FEET = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 5000];
const METRES = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 500, 2000];
/** Figures of the axis stand at least this far apart, px. */
const LEAST_APART = 64;

function step(sheet: ProfileSheet, units: Units): { mm: number; name: (n: number) => string } {
  const imperial = units === "imperial";
  const unit = imperial ? 304.8 : 1000;
  const steps = imperial ? FEET : METRES;
  const count = steps.find((n) => (n * unit) / sheet.across >= px(sheet, LEAST_APART)) ?? steps.at(-1) ?? 1;
  return { mm: count * unit, name: (n) => `${figure(n * count)}${imperial ? "′" : " m"}` };
}

export function drawGrid(sheet: ProfileSheet): Markup {
  const { mm, name } = step(sheet, sheet.plan.units);
  const { palette } = sheet;
  const foot = sheet.strip + px(sheet, 31);
  let d = "";
  const figures: Markup[] = [];
  for (let i = 0; i * mm <= sheet.length + 1e-6; i++) {
    const x = sheet.left + (i * mm) / sheet.across;
    d += paperLine({ x, y: sheet.top }, { x, y: foot });
    figures.push(lettered(sheet, { x, y: foot + px(sheet, 12) }, name(i), { size: 12, colour: palette.ink3 }));
  }
  return group({ "data-layer": "distances" }, [
    element("path", { d, fill: "none", stroke: palette.rule, "stroke-width": px(sheet, 0.6) }),
    ...figures,
  ]);
}

interface Band {
  readonly id: string;
  readonly names: readonly string[];
  readonly height: number;
  readonly thickness: number;
}

/** Decks from the top down, those at one height as one band in the ink of the scenic one. */
function bandsOf(sheet: ProfileSheet): Band[] {
  const bands: Band[] = [];
  const decks = Object.entries(sheet.plan.decks).sort(
    ([, a], [, b]) => b.height - a.height || Number(a.kind === "staging") - Number(b.kind === "staging"),
  );
  for (const [id, deck] of decks) {
    const above = bands.at(-1);
    if (above && above.height === deck.height) {
      const thickness = Math.max(above.thickness, deck.thickness);
      bands[bands.length - 1] = { ...above, names: [...above.names, deck.name], thickness };
    } else bands.push({ id, names: [deck.name], height: deck.height, thickness: deck.thickness });
  }
  return bands;
}

export function drawDeckBands(sheet: ProfileSheet, heights: readonly ProfilePoint[]): Markup {
  const { plan, palette } = sheet;
  const right = sheet.left + Math.max(sheet.length / sheet.across, px(sheet, 200));
  const small = { size: 12, colour: palette.ink2 };
  const marks = bandsOf(sheet).map((band) => {
    const ink = deckInk(sheet, band.id);
    const { y } = inField(sheet, 0, band.height);
    const depth = band.thickness / sheet.up;
    const text = `${band.names.join(", ")} · ${lengthText(band.thickness, plan.units)} structure`;
    // At whichever end the line is further from the band.
    const apart = (d: number) => Math.abs(heightBetween(heights, d) - band.height);
    const atRight = apart(sheet.length * 0.9) > apart(sheet.length * 0.1);
    const at = {
      x: atRight ? right - px(sheet, 8) : sheet.left + px(sheet, 8),
      y: y + Math.max(depth / 2, px(sheet, 8)),
    };
    return group({}, [
      element("rect", { x: sheet.left, y, width: right - sheet.left, height: depth, fill: ink.tint }),
      element("path", {
        d: paperLine({ x: sheet.left, y }, { x: right, y }),
        fill: "none",
        stroke: ink.edge,
        "stroke-width": px(sheet, 0.9),
      }),
      lettered(sheet, at, text, { size: 12, colour: ink.ink, anchor: atRight ? "end" : "start", halo: ink.tint }),
      lettered(sheet, { x: sheet.left - px(sheet, 8), y }, lengthText(band.height, plan.units), {
        ...small,
        anchor: "end",
      }),
    ]);
  });
  return group({ "data-layer": "decks" }, marks);
}
