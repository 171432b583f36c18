/** Dimensions of a section: heights of the decks at the left, what lies between them at the right, widths below. */
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";
import type { Ink } from "./batch.js";
import { deckTone } from "./decks.js";
import { FIGURE_ROW, heightChain, thin, TICK, tick, widthChain } from "./dimension-marks.js";
import { lengthText } from "./figures.js";
import { SIZE, textWidth } from "./label.js";
import { WALL_BAND } from "./line-weights.js";
import type { SectionLook } from "./section-drawing.js";
import { type SectionLayer, type SectionMark, type SectionPlace } from "./section-marks.js";

/** px from the walls to the first line of dimensions. */
const FIRST = 22;
/** Size of the decks' names. */
const NAME = 13;
/** Decks nearer in height than this are one level, mm. */
const ONE_LEVEL: Millimetres = 1;

interface Level {
  readonly names: readonly string[];
  readonly height: Millimetres;
  readonly underside: Millimetres;
  readonly ink: Ink;
}

/** px round what is cut: room for the dimensions, as wide as their figures. */
export interface SectionMargins {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export function sectionMargins(look: Omit<SectionLook, "scale">): SectionMargins {
  const levels = levelsOf(look);
  const names = levels.map(({ names: all }) => textWidth(all.join(", "), NAME, "name"));
  const figures = [...levels.map(({ height }) => height), look.section.ceiling].map((mm) =>
    textWidth(lengthText(mm, look.units), SIZE),
  );
  const outer = levels.length > 1 ? nextLine(look, levels) + widest(look, levels) : widest(look, levels);
  return {
    left: WALL_BAND + FIRST + 16 + Math.max(textWidth("ceiling", NAME, "name"), ...names, ...figures),
    right: WALL_BAND + FIRST + outer + 16,
    top: 34,
    bottom: look.close ? 48 : 74,
  };
}

/** Widest figure between decks, px, and from the inner line of dimensions to the outer. */
const widest = ({ section, units }: Pick<SectionLook, "section" | "units">, levels: readonly Level[]): number =>
  Math.max(
    0,
    ...steps(section, levels).map((y, i, all) =>
      i === 0 ? 0 : textWidth(lengthText(y - (all[i - 1] ?? 0), units), SIZE),
    ),
  );
const nextLine = (look: Pick<SectionLook, "section" | "units">, levels: readonly Level[]): number =>
  widest(look, levels) + 16;

/** Railheads and undersides from the floor to the ceiling. */
const steps = ({ ceiling }: SectionLook["section"], levels: readonly Level[]): Millimetres[] =>
  [0, ...levels.flatMap(({ underside, height }) => [underside, height]), ceiling].filter(
    (y, i, all) => i === 0 || y - (all[i - 1] ?? y) > ONE_LEVEL,
  );

export function dimensionLayer(look: SectionLook): SectionLayer {
  const levels = levelsOf(look);
  return {
    name: "dimensions",
    marks: [...heightMarks(look, levels), ...betweenMarks(look, levels), ...widthMarks(look), ...endMarks(look)],
  };
}

/** Levels of the decks that are cut, from the floor up. */
function levelsOf({ plan, section }: Pick<SectionLook, "plan" | "section">): Level[] {
  const levels: Level[] = [];
  const cut = new Set(section.decks.map(({ deck }) => deck));
  const decks = Object.entries(plan.decks)
    .filter(([id]) => cut.has(id))
    .sort(([, a], [, b]) => a.height - b.height || Number(a.kind === "staging") - Number(b.kind === "staging"));
  for (const [id, deck] of decks) {
    const last = levels.at(-1);
    const underside = deck.height - deck.thickness;
    if (last && deck.height - last.height < ONE_LEVEL) {
      levels[levels.length - 1] = {
        ...last,
        names: [...last.names, deck.name],
        underside: Math.min(last.underside, underside),
      };
    } else levels.push({ names: [deck.name], height: deck.height, underside, ink: inkOf(plan, id) });
  }
  return levels;
}

const inkOf = (plan: Plan, deck: string): Ink => `${deckTone(plan, deck)}-ink`;

/** Over the floor: a line with a tick at every railhead, its name and height beside it. */
function heightMarks({ section, scale, units }: SectionLook, levels: readonly Level[]): SectionMark[] {
  const right = -(WALL_BAND + FIRST);
  const at = (y: Millimetres): SectionPlace => ({ x: 0, y, right });
  const all = [...levels.map(({ height }) => height), section.ceiling];
  const marks: SectionMark[] = [thin([at(0), at(section.ceiling)]), tick(at(0)), ...all.map((y) => tick(at(y)))];
  let free = Number.NEGATIVE_INFINITY;
  const label = (y: Millimetres, name: string, ink: Ink): void => {
    marks.push(
      thin([
        { x: 0, y, right: -WALL_BAND - 4 },
        { ...at(y), right: right - TICK },
      ]),
    );
    // Two decks at nearly one height: the upper figure moves up.
    const row = Math.max(y * scale, free);
    free = row + 2 * FIGURE_ROW;
    const down = y * scale - row;
    marks.push(
      {
        kind: "text",
        at: { ...at(y), right: right - 8, down: down - FIGURE_ROW / 2 },
        text: name,
        size: NAME,
        ink,
        face: "name",
        italic: true,
        anchor: "end",
      },
      {
        kind: "text",
        at: { ...at(y), right: right - 8, down: down + FIGURE_ROW / 2 },
        text: lengthText(y, units),
        size: SIZE,
        ink: "ink",
        anchor: "end",
      },
    );
  };
  for (const { names, height, ink } of levels) label(height, names.join(", "), ink);
  label(section.ceiling, "ceiling", "ink3");
  return marks;
}

/** Between the decks: clear from railhead to underside and the structure in the inner line, rail to rail in the outer. */
function betweenMarks({ section, scale, units }: SectionLook, levels: readonly Level[]): SectionMark[] {
  if (levels.length === 0) return [];
  const inner = WALL_BAND + FIRST;
  const marks: SectionMark[] = [];
  marks.push(...heightChain({ scale, units }, section.length, inner, steps(section, levels)));
  if (levels.length > 1)
    marks.push(
      ...heightChain(
        { scale, units },
        section.length,
        inner + nextLine({ section, units }, levels),
        levels.map(({ height }) => height),
        { ink: "ink", bold: true },
      ),
    );
  for (const { height, underside } of levels) {
    for (const y of [height, underside]) {
      marks.push(
        thin([
          { x: section.length, y, right: WALL_BAND + 4 },
          { x: section.length, y, right: inner + TICK },
        ]),
      );
    }
  }
  return marks;
}

/** Along the floor: benches and aisles in the upper line, the room in the lower. */
function widthMarks({ section, scale, units, close }: SectionLook): SectionMark[] {
  const marks: SectionMark[] = [];
  const chain = (down: number, stations: readonly Millimetres[], ink: Ink): void =>
    void marks.push(...widthChain({ scale, units }, 0, { down, clear: WALL_BAND + 4 }, stations, { ink }));
  for (const room of section.room) {
    const inside = section.floor.filter(({ from, to }) => from >= room.from && to <= room.to);
    const stations = [...new Set([room.from, ...inside.flatMap(({ from, to }) => [from, to]), room.to])];
    const sorted = stations.sort((a, b) => a - b);
    if (sorted.length > 2) chain(WALL_BAND + FIRST, sorted, "ink2");
    if (sorted.length === 2) chain(WALL_BAND + FIRST, sorted, "ink");
    else if (!close) chain(WALL_BAND + FIRST + 26, [room.from, room.to], "ink");
  }
  return marks;
}

/** The letters of the cut's ends, as they stand on the sheet. */
function endMarks({ section }: SectionLook): SectionMark[] {
  const letter = (x: Millimetres, text: string): SectionMark => ({
    kind: "text",
    at: { x, y: section.ceiling, down: -(WALL_BAND + 12) },
    text,
    size: 15,
    ink: "ink",
    face: "name",
  });
  return [letter(0, "A"), letter(section.length, "B")];
}
