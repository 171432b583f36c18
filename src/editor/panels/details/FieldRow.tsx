/** One field: its label, what stands there and may be typed over, and a note; why a figure was refused, beside it. */
import { type KeyboardEvent, useId, useRef, useState } from "react";
import { useEditorStore } from "../../editor-context.js";
import { type Field, fieldText, typedEdit } from "./field.js";

export interface FieldRowProps {
  readonly field: Field;
}

export function FieldRow({ field }: FieldRowProps) {
  const store = useEditorStore();
  const id = useId();
  const [fault, setFault] = useState("");
  const shown = fieldText(field, store.getState().units);
  const [typed, setTyped] = useState<string>();
  const [before, setBefore] = useState(shown);
  // What was typed for another value of the field is typed for nothing.
  if (before !== shown) {
    setBefore(shown);
    setTyped(undefined);
  }
  const box = useRef<HTMLInputElement & HTMLTextAreaElement>(null);

  const commit = (text: string): boolean => {
    const { history, units } = store.getState();
    const edit = typedEdit(field, text, history.plan, units);
    if (!edit) return true;
    if (!edit.ok) {
      setFault(edit.message);
      return false;
    }
    setFault("");
    return store.getState().edit(edit);
  };
  const leave = (): void => {
    if (typed !== undefined && commit(typed)) setTyped(undefined);
  };
  const onKey = (event: KeyboardEvent): void => {
    // What is typed here is no command.
    event.stopPropagation();
    if (event.key === "Enter" && !(field.kind === "text" && field.long)) {
      leave();
      requestAnimationFrame(() => box.current?.select());
    } else if (event.key === "Escape") {
      setTyped(undefined);
      setFault("");
      box.current?.blur();
    }
  };

  const described = [field.note ? `${id}-note` : "", fault ? `${id}-fault` : ""].filter(Boolean).join(" ");
  const shared = {
    id,
    "aria-describedby": described || undefined,
    "aria-invalid": fault !== "" || undefined,
  };
  return (
    <div className={field.kind === "text" && field.long ? "field long" : "field"}>
      {field.kind === "fact" ? <span className="field-name">{field.label}</span> : <Label id={id} field={field} />}
      {field.kind === "fact" ? (
        <output className="field-fact">{field.value}</output>
      ) : field.kind === "choice" ? (
        <select {...shared} value={field.value} onChange={(event) => commit(event.target.value)} onKeyDown={stop}>
          {field.value === "" && <option value="">–</option>}
          {field.choices.map(({ value, name }) => (
            <option key={value} value={value}>
              {name}
            </option>
          ))}
        </select>
      ) : field.kind === "text" && field.long ? (
        <textarea
          {...shared}
          ref={box}
          rows={3}
          value={typed ?? shown}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={leave}
          onKeyDown={onKey}
        />
      ) : (
        <input
          {...shared}
          ref={box}
          type="text"
          inputMode={field.kind === "number" ? "text" : undefined}
          className={field.kind === "number" ? "figure" : undefined}
          autoComplete="off"
          spellCheck={field.kind === "text"}
          placeholder={field.kind === "number" ? field.without : undefined}
          value={typed ?? shown}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={leave}
          onKeyDown={onKey}
        />
      )}
      {field.note && (
        <span className="quiet" id={`${id}-note`}>
          {field.note}
        </span>
      )}
      {fault && (
        <p className="fault" id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}

const stop = (event: KeyboardEvent): void => event.stopPropagation();

/** A label that says "and" is heard with the one before it. */
function Label({ id, field }: { readonly id: string; readonly field: Field }) {
  const unseen = field.label === "" || field.label === "and" || field.label === "at";
  return (
    <label htmlFor={id}>
      {field.label}
      {unseen && <span className="unseen"> {field.note}</span>}
    </label>
  );
}
