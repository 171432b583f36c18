/** Under a reading: its limit to be changed, further figures, and a reason for living with it. */
import { type KeyboardEvent, useId, useState } from "react";
import { quantityText } from "../../../exchange/readings-text.js";
import { acceptReading, withdrawAcceptance } from "../../../plan/setting-edits.js";
import type { Reading } from "../../../readings/reading.js";
import { readingKey } from "../../../readings/reading.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { LimitRow } from "../LimitRow.js";
import { limitOfReading } from "../limits.js";

export function ReadingLimit({ reading }: { readonly reading: Reading }) {
  const plan = useEditor((state) => state.history.plan);
  const units = useEditor((state) => state.units);
  const path = limitOfReading(plan, reading);
  const figures = Object.entries(reading.figures ?? {});
  return (
    <div className="reading-limit">
      {path ? <LimitRow path={path} /> : <p className="quiet source">{reading.source || "Nothing limits it."}</p>}
      {figures.length > 0 && (
        <dl className="figures">
          {figures.map(([name, { value, unit }]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd className="figure">{quantityText(value, unit, units)}</dd>
            </div>
          ))}
        </dl>
      )}
      {(reading.verdict === "tight" || reading.verdict === "fails" || plan.accepted[readingKey(reading)]) && (
        <Acceptance reading={reading} />
      )}
    </div>
  );
}

function Acceptance({ reading }: { readonly reading: Reading }) {
  const store = useEditorStore();
  const id = useId();
  const key = readingKey(reading);
  const accepted = useEditor((state) => state.history.plan.accepted[key]);
  const [reason, setReason] = useState("");
  const [fault, setFault] = useState("");
  const accept = (): void => {
    const edit = acceptReading(store.getState().history.plan, key, reason.trim());
    if (!edit.ok) return setFault(edit.message);
    setFault("");
    setReason("");
    store.getState().edit(edit);
  };
  if (accepted) {
    return (
      <p className="quiet source">
        Lived with: {accepted.reason}
        <button
          type="button"
          className="link"
          onClick={() => store.getState().edit(withdrawAcceptance(store.getState().history.plan, key))}
        >
          Withdraw
        </button>
      </p>
    );
  }
  return (
    <div className="reason">
      <label htmlFor={id}>Live with it, because</label>
      <input
        id={id}
        type="text"
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        onKeyDown={(event: KeyboardEvent) => {
          event.stopPropagation();
          if (event.key === "Enter") accept();
        }}
      />
      <button type="button" className="button" onClick={accept}>
        Keep
      </button>
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
