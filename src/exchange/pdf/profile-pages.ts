/** Profiles of the climbs between decks, as many to a sheet as find room. */
import { lengthText } from "../../drafting/figures.js";
import type { Layout } from "../../layout/layout.js";
import { findRoute, type Route } from "../../layout/route.js";
import type { Plan } from "../../plan/schema.js";
import { climbEnds } from "../../readings/climb-ends.js";
import { element, type Markup } from "../svg/markup.js";
import { drawProfileSvg } from "../svg/profile.js";
import { fieldOn } from "../svg/profile-sheet.js";
import { px } from "../svg/sheet.js";
import type { Size } from "../svg/sheet-layout.js";
import { FIELD_INSET, framed, insideEdge, pageOf, paperSheet, PRINT } from "./sheet-frame.js";
import type { PdfPage } from "./write-pdf.js";

export interface NamedRoute {
  readonly from: string;
  readonly to: string;
  readonly route: Route;
}

/** From each deck to the next one up that track leads to; the longest track where no track climbs. */
export function climbingRoutes(plan: Plan, layout: Layout): NamedRoute[] {
  const decks = Object.entries(plan.decks).sort(([idA, a], [idB, b]) => a.height - b.height || (idA < idB ? -1 : 1));
  const ends = decks.map(([id]) => climbEnds(layout, id));
  const found: NamedRoute[] = [];
  decks.forEach(([, lower], i) => {
    for (let j = i + 1; j < decks.length; j++) {
      const upper = decks[j]?.[1];
      const route = upper && upper.height > lower.height ? findRoute(layout, ends[i] ?? [], ends[j] ?? []) : undefined;
      if (!upper || !route || route.length === 0) continue;
      found.push({ from: lower.name, to: upper.name, route });
      return;
    }
  });
  return found.length > 0 ? found : longestTrack(plan, layout);
}

function longestTrack(plan: Plan, layout: Layout): NamedRoute[] {
  const tracks = [...layout.lines.values()].filter(({ kind }) => kind === "track");
  const [longest] = tracks.sort((a, b) => b.path.length - a.path.length || (a.key < b.key ? -1 : 1));
  if (!longest) return [];
  const { length } = longest.path;
  const name = plan.tracks[longest.id]?.name ?? longest.id;
  const route = { stretches: [{ line: longest.key, from: 0, to: length }], length };
  return [{ from: name, to: lengthText(length, plan.units), route }];
}

/** Profiles one under another, each to the scales it states. */
export function profilePages(plan: Plan, layout: Layout, size: Size, number: (i: number) => string): PdfPage[] {
  const sheet = paperSheet(plan);
  const inside = insideEdge(size);
  const inset = px(sheet, FIELD_INSET + 8);
  const top = px(sheet, FIELD_INSET + 34);
  const pages: Markup[][] = [];
  let y = Number.POSITIVE_INFINITY;
  for (const { from, to, route } of climbingRoutes(plan, layout)) {
    const svg = drawProfileSvg(plan, layout, route, {
      ends: { from, to },
      palette: PRINT,
      widest: fieldOn(inside.width - 2 * inset),
    });
    const [, width = "0", height = "0"] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
    if (y + Number(height) > inside.height - inset) {
      pages.push([]);
      y = top;
    }
    pages.at(-1)?.push(element("svg", { x: inset, y, width: Number(width), height: Number(height) }, svg));
    y += Number(height) + px(sheet, 20);
  }
  return pages.map((marks, i) =>
    pageOf(size, sheet, [framed(sheet, inside, `${plan.title}: profile`, number(i)), ...marks]),
  );
}
