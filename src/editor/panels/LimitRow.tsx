/** A limit of the plan: its figure, whose it is, and the owner's own figure with the reason for it. */
import { type KeyboardEvent, useId, useState } from "react";
import type { SettingPath } from "../../plan/setting-edits.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { quantityText } from "./details/field.js";
import { limitNamed } from "../../exchange/limit-names.js";
import { isOverruled, limitSetting, limitValue, presetText, restoreLimit, typedLimit } from "./limits.js";

export function LimitRow({ path }: { readonly path: SettingPath }) {
  const store = useEditorStore();
  const plan = useEditor((state) => state.history.plan);
  const units = useEditor((state) => state.units);
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const [reason, setReason] = useState("");
  const [fault, setFault] = useState("");
  const { name, quantity } = limitNamed(path);
  const value = limitValue(plan, path);
  const setting = limitSetting(plan, path);
  const shown = value === undefined ? "" : quantityText(value, quantity, units);
  const overruled = isOverruled(plan, path);

  const done = (): void => {
    setTyped(undefined);
    setReason("");
    setFault("");
  };
  const commit = (): void => {
    const edit = typedLimit(plan, path, typed ?? shown, reason, units);
    if (!edit) return done();
    if (!edit.ok) return setFault(edit.message);
    if (store.getState().edit(edit)) done();
  };
  const onKey = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (event.key === "Enter") commit();
    if (event.key === "Escape") done();
  };
  const changing = typed !== undefined && typed.trim() !== shown;
  return (
    <div className="limit-row">
      <div className="field">
        <label htmlFor={id}>{name}</label>
        <input
          id={id}
          type="text"
          className="figure"
          autoComplete="off"
          value={typed ?? shown}
          aria-describedby={`${id}-source`}
          aria-invalid={fault !== "" || undefined}
          onChange={(event) => setTyped(event.target.value)}
          onKeyDown={onKey}
        />
        <span className="quiet">{overruled ? "own" : ""}</span>
      </div>
      {changing && (
        <div className="reason">
          <label htmlFor={`${id}-reason`}>Why?</label>
          <input
            id={`${id}-reason`}
            type="text"
            value={reason}
            placeholder="kept in the file for whoever asks later"
            onChange={(event) => setReason(event.target.value)}
            onKeyDown={onKey}
          />
          <button type="button" className="button" onClick={commit}>
            Set
          </button>
          <button type="button" className="button plain" onClick={done}>
            Leave
          </button>
        </div>
      )}
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <p className="quiet source" id={`${id}-source`}>
        {overruled ? `Set by ${setting?.source}: ${setting?.reason ?? ""}` : setting?.source}
        {overruled && presetText(plan, path, units) !== undefined && (
          <button
            type="button"
            className="link"
            onClick={() => store.getState().edit(restoreLimit(store.getState().history.plan, path))}
          >
            Back to {presetText(plan, path, units)}
          </button>
        )}
      </p>
    </div>
  );
}
