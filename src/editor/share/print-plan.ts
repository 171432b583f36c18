/** From what is typed into the print slip to a PDF of the plan as it is drawn, in the units that are shown. */
import { parseScale } from "../../drafting/drawing-scale.js";
import { type PdfResult, drawingSetPdf } from "../../exchange/pdf/drawing-set.js";
import { parsePaper } from "../../exchange/pdf/papers.js";
import { templatesPdf } from "../../exchange/pdf/templates.js";
import type { TrackChoice } from "../../exchange/pdf/template-track.js";
import { deriveLayout } from "../../layout/derive.js";
import { parseLength } from "../../plan/parse-length.js";
import { type Plan, TRACK_CLASSES } from "../../plan/schema.js";
import { takeReadings } from "../../readings/take.js";
import type { EditorState } from "../store.js";
import type { PrintKind } from "./printing.js";

export interface PrintForm {
  /** A paper's name, or `roll` with the width typed beside it. */
  readonly paper: string;
  readonly roll: string;
  /** Empty for the largest that fits. */
  readonly scale: string;
  /** `all`, `selected`, `class:main`, `deck:lower`. */
  readonly tracks: string;
  readonly risers: string;
}

export const printForm = (units: Plan["units"]): PrintForm => ({
  paper: units === "imperial" ? "Letter" : "A4",
  roll: units === "imperial" ? "24 in" : "610 mm",
  scale: "",
  tracks: "all",
  risers: units === "imperial" ? "16 in" : "400 mm",
});

export type PrintResult =
  | { readonly ok: true; readonly bytes: Uint8Array; readonly pages: number }
  | { readonly ok: false; readonly field: keyof PrintForm; readonly message: string };

/** Ids of tracks that are chosen on the sheet. */
export const chosenTracks = ({ selection, history }: Pick<EditorState, "selection" | "history">): string[] =>
  selection.flatMap((thing) =>
    thing.kind === "record" && thing.collection === "tracks" && history.plan.tracks[thing.id] ? [thing.id] : [],
  );

function choiceOf(state: EditorState, tracks: string): TrackChoice {
  const [what = "", which = ""] = tracks.split(/:(.*)/s);
  if (what === "selected") return { tracks: chosenTracks(state) };
  if (what === "deck") return { deck: which };
  return what === "class" ? { classes: TRACK_CLASSES.filter((name) => name === which) } : {};
}

/** What cannot be printed is told with the field to change. */
export async function printPlan(
  state: EditorState,
  kind: PrintKind,
  form: PrintForm,
  date: Date,
): Promise<PrintResult> {
  const plan = { ...state.history.plan, units: state.units };
  const paper = parsePaper(form.paper === "roll" ? `roll ${form.roll}` : form.paper, plan.units);
  if (!paper.ok) return { ...paper, field: form.paper === "roll" ? "roll" : "paper" };
  const refused = (made: PdfResult, field: keyof PrintForm): PrintResult => (made.ok ? made : { ...made, field });
  const layout = deriveLayout(plan, state.settled);
  if (kind === "drawings") {
    const scale = form.scale === "" ? undefined : parseScale(form.scale);
    if (scale && !scale.ok) return { ...scale, field: "scale" };
    const readings = takeReadings(plan, layout);
    const options = { paper: paper.paper, readings, date, ...(scale && { scale: scale.scale }) };
    return refused(await drawingSetPdf(plan, layout, options), "scale");
  }
  const every = parseLength(form.risers, plan.units);
  if (!every.ok) return { ...every, field: "risers" };
  const made = await templatesPdf(layout, {
    paper: paper.paper,
    date,
    riserEvery: every.mm,
    ...choiceOf(state, form.tracks),
  });
  return refused(made, made.ok || made.message.includes("risers") ? "risers" : "tracks");
}
