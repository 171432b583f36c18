/** Drawing sheets and full-size templates as PDF: paper, scale or tracks, in a slip beside the sheet. */
import { type FormEvent, useEffect, useId, useRef, useState } from "react";
import { CUSTOMARY, scaleText } from "../../drafting/drawing-scale.js";
import { PAPERS } from "../../exchange/pdf/papers.js";
import { TRACK_CLASSES } from "../../plan/schema.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { download } from "../files/disk.js";
import { fileNameFor } from "../files/file-desk.js";
import { useEscape } from "../use-escape.js";
import { chosenTracks, type PrintForm, printForm, printPlan } from "./print-plan.js";
import { askForPrint, type PrintKind } from "./printing.js";

interface Choice {
  readonly value: string;
  readonly name: string;
}

const HEADINGS: Readonly<Record<PrintKind, string>> = { drawings: "Drawing sheets", templates: "Full-size templates" };
const close = (): void => askForPrint(undefined);

export default function PrintSlip({ kind }: { readonly kind: PrintKind }) {
  const store = useEditorStore();
  const units = useEditor((state) => state.units);
  const plan = useEditor((state) => state.history.plan);
  const [form, setForm] = useState<PrintForm>(() => ({
    ...printForm(units),
    tracks: chosenTracks(store.getState()).length > 0 ? "selected" : "all",
  }));
  const [fault, setFault] = useState<{ readonly field: keyof PrintForm; readonly message: string }>();
  const [busy, setBusy] = useState(false);
  const slip = useRef<HTMLFormElement>(null);
  const first = useRef<HTMLSelectElement>(null);
  const id = useId();
  useEffect(() => first.current?.focus(), []);
  useEscape(slip, close);
  const put = (part: Partial<PrintForm>): void => {
    setFault(undefined);
    setForm({ ...form, ...part });
  };
  const make = (event: FormEvent): void => {
    event.preventDefault();
    setBusy(true);
    void printPlan(store.getState(), kind, form, new Date())
      .then((made) => {
        if (!made.ok) return setFault(made);
        const name = fileNameFor(plan.title).replace(/\.plan\.json$/, kind === "drawings" ? ".pdf" : "-templates.pdf");
        download(name, new Uint8Array(made.bytes), "application/pdf");
        store.getState().say(`Downloaded as ${name}: ${made.pages} ${made.pages === 1 ? "sheet" : "sheets"}.`);
        return close();
      })
      .catch((error: unknown) => {
        const reason = error instanceof Error ? error.message : "the browser does not say why";
        setFault({ field: "paper", message: `Not printed: ${reason}.` });
      })
      .finally(() => setBusy(false));
  };
  const field = (name: keyof PrintForm, label: string, note: string, choices?: readonly Choice[]) => (
    <div className="field">
      <label htmlFor={`${id}-${name}`}>{label}</label>
      {choices ? (
        <select
          id={`${id}-${name}`}
          ref={name === "paper" ? first : undefined}
          value={form[name]}
          aria-invalid={fault?.field === name || undefined}
          onChange={(event) => put({ [name]: event.target.value })}
        >
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.name}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={`${id}-${name}`}
          type="text"
          className="figure"
          autoComplete="off"
          value={form[name]}
          aria-invalid={fault?.field === name || undefined}
          onChange={(event) => put({ [name]: event.target.value })}
        />
      )}
      <span className="quiet">{note}</span>
      {fault?.field === name && (
        <p className="fault" role="alert">
          {fault.message}
        </p>
      )}
    </div>
  );
  const papers = [...PAPERS.map(({ name }) => ({ value: name, name })), { value: "roll", name: "a roll" }];
  const scales = [
    { value: "", name: "the largest that fits" },
    ...CUSTOMARY[units].map((scale) => ({ value: String(scale), name: scaleText(scale, units) })),
  ];
  const chosen = chosenTracks(store.getState()).length;
  const tracks = [
    { value: "all", name: "all tracks" },
    ...(chosen > 0
      ? [{ value: "selected", name: chosen === 1 ? "the chosen track" : `the ${chosen} chosen tracks` }]
      : []),
    ...Object.entries(plan.decks).map(([deck, { name }]) => ({ value: `deck:${deck}`, name: `on ${name}` })),
    ...TRACK_CLASSES.map((name) => ({ value: `class:${name}`, name: `of class ${name}` })),
  ];
  return (
    <form className="slip" aria-labelledby={`${id}-heading`} onSubmit={make} ref={slip}>
      <h2 id={`${id}-heading`}>{HEADINGS[kind]}</h2>
      {field("paper", "Paper", "", papers)}
      {form.paper === "roll" && field("roll", "Width", "of the roll")}
      {kind === "drawings" && field("scale", "Scale", "of all decks", scales)}
      {kind === "templates" && field("tracks", "Print", "with their turnouts", tracks)}
      {kind === "templates" && field("risers", "Risers", "marks of height, apart")}
      <p className="quiet">
        {kind === "drawings"
          ? "A sheet for each deck, then profile, readings and schedules."
          : "Print at 100 %, and measure the check scale on each sheet before you cut."}
      </p>
      <p className="actions">
        <button type="submit" className="button strong" disabled={busy}>
          {busy ? "Drawing…" : "Make the PDF"}
        </button>
        <button type="button" className="button" onClick={close}>
          Cancel
        </button>
      </p>
    </form>
  );
}
