/** What the File menu exports: made of the plan as it is drawn, in the units that are shown. */
import { heightsCsv, readingsCsv } from "../../exchange/csv.js";
import { drawDxf } from "../../exchange/dxf.js";
import { drawSvg } from "../../exchange/svg/draw.js";
import { drawWebPage } from "../../exchange/web-page.js";
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import type { Reading } from "../../readings/reading.js";
import { takeReadings } from "../../readings/take.js";
import { fileNameFor } from "../files/file-desk.js";
import type { EditorState } from "../store.js";
import type { ExportKind } from "./share-commands.js";

export interface Exported {
  readonly name: string;
  readonly type: string;
  readonly text: string;
}

interface Source {
  readonly layout: Layout;
  readonly readings: () => readonly Reading[];
  readonly theme: EditorState["theme"];
}

interface Maker {
  readonly ending: string;
  readonly type: string;
  readonly make: (source: Source) => string;
}

/** Heights are told about as often as risers stand (common practice, no source), mm. */
const EVERY = { imperial: 6 * 25.4, metric: 150 } as const;

const MAKERS: Readonly<Record<ExportKind, Maker>> = {
  svg: {
    ending: ".svg",
    type: "image/svg+xml",
    make: ({ layout }) => drawSvg(layout.plan, layout, { view: "all" }),
  },
  dxf: { ending: ".dxf", type: "image/vnd.dxf", make: ({ layout }) => drawDxf(layout) },
  readings: {
    ending: "-readings.csv",
    type: "text/csv",
    make: ({ layout, readings }) => readingsCsv(layout.plan, readings()),
  },
  heights: {
    ending: "-heights.csv",
    type: "text/csv",
    make({ layout }) {
      const table = heightsCsv(layout, { every: EVERY[layout.plan.units] });
      if (!table.ok) throw new Error(table.message);
      return table.text;
    },
  },
  html: {
    ending: ".html",
    type: "text/html",
    make: ({ layout, readings, theme }) => drawWebPage(layout, readings(), { theme }),
  },
};

/** Throws where it cannot be made, with the reason. */
export function exported(state: EditorState, kind: ExportKind): Exported {
  const { ending, type, make } = MAKERS[kind];
  // Units of the screen are no part of the plan, but people hand on what they see.
  const plan = { ...state.history.plan, units: state.units };
  const layout = deriveLayout(plan, state.settled);
  const readings = (): readonly Reading[] => takeReadings(plan, layout);
  const name = fileNameFor(plan.title).replace(/\.plan\.json$/, ending);
  return { name, type, text: make({ layout, readings, theme: state.theme }) };
}
