/** A new plan from a room's size, a scale and whose standards: a slip beside the sheet, in nobody's way. */
import { type FormEvent, useEffect, useId, useRef, useState } from "react";
import { scaleName } from "../panels/details/plan-details.js";
import { useEscape } from "../use-escape.js";
import type { FileDesk } from "./file-desk.js";
import { ALL_SCALES, newPlanForm, newPlanWishes, type NewPlanForm, scaleKey } from "./new-plan.js";
import type { Plan } from "../../plan/schema.js";

export interface NewPlanProps {
  readonly files: FileDesk;
  readonly units: Plan["units"];
  readonly onClose: () => void;
}

export function NewPlan({ files, units, onClose }: NewPlanProps) {
  const [form, setForm] = useState<NewPlanForm>(() => newPlanForm(units));
  const [fault, setFault] = useState<{ readonly field: keyof NewPlanForm; readonly message: string }>();
  const first = useRef<HTMLInputElement>(null);
  const id = useId();
  const slip = useRef<HTMLFormElement>(null);
  useEffect(() => first.current?.focus(), []);
  useEscape(slip, onClose);
  const put = (part: Partial<NewPlanForm>): void => {
    setFault(undefined);
    setForm({ ...form, ...part });
  };
  const make = (event: FormEvent): void => {
    event.preventDefault();
    const checked = newPlanWishes(form);
    if (!checked.ok) return setFault(checked);
    files.newPlan(checked.wishes);
    onClose();
  };
  const text = (field: "title" | "width" | "depth", label: string, note: string) => (
    <div className="field">
      <label htmlFor={`${id}-${field}`}>{label}</label>
      <input
        id={`${id}-${field}`}
        ref={field === "title" ? first : undefined}
        type="text"
        className={field === "title" ? undefined : "figure"}
        autoComplete="off"
        placeholder={field === "title" ? "Untitled plan" : undefined}
        value={form[field]}
        aria-invalid={fault?.field === field || undefined}
        aria-describedby={`${id}-${field}-note`}
        onChange={(event) => put({ [field]: event.target.value })}
      />
      <span className="quiet" id={`${id}-${field}-note`}>
        {note}
      </span>
      {fault?.field === field && (
        <p className="fault" role="alert">
          {fault.message}
        </p>
      )}
    </div>
  );
  return (
    <form className="slip" aria-labelledby={`${id}-heading`} onSubmit={make} ref={slip}>
      <h2 id={`${id}-heading`}>New plan</h2>
      {text("title", "Title", "")}
      {text("width", "Room", "left to right")}
      {text("depth", "by", "up the sheet")}
      <div className="field">
        <label htmlFor={`${id}-units`}>Units</label>
        <select
          id={`${id}-units`}
          value={form.units}
          onChange={(event) => put({ units: event.target.value === "metric" ? "metric" : "imperial" })}
        >
          <option value="imperial">feet and inches</option>
          <option value="metric">millimetres</option>
        </select>
        <span className="quiet">where none is typed</span>
      </div>
      <div className="field">
        <label htmlFor={`${id}-scale`}>Scale</label>
        <select id={`${id}-scale`} value={form.scale} onChange={(event) => put({ scale: event.target.value })}>
          {ALL_SCALES.map((scale) => (
            <option key={scaleKey(scale)} value={scaleKey(scale)}>
              {scaleName(scale)}
            </option>
          ))}
        </select>
        <span className="quiet">sets the limits</span>
      </div>
      <p className="quiet">A room of another shape is drawn next, wall by wall, with its doors and windows.</p>
      <p className="actions">
        <button type="submit" className="button strong">
          Make it
        </button>
        <button type="button" className="button" onClick={onClose}>
          Cancel
        </button>
      </p>
    </form>
  );
}
