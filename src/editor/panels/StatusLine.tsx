/** The bottom margin: what to do now, the number being typed, the tool's choices, and what was said last. */
import { useEditor, useEditorStore } from "../editor-context.js";

export function StatusLine() {
  const store = useEditorStore();
  const { hint, entry, choices } = useEditor((state) => state.show);
  const said = useEditor((state) => state.said);
  return (
    <footer className="status-line">
      {entry && (
        <p className="entry" aria-live="polite">
          <span>{entry.label}</span> <b className="figure">{entry.text}</b>
          <span className="caret" aria-hidden="true" />
          {entry.error && <span className="fault"> {entry.error}</span>}
        </p>
      )}
      {choices?.map((choice) => (
        <label key={choice.id} className="choice">
          <span>{choice.label}</span>
          <select
            value={choice.value}
            onChange={(event) => {
              store.getState().dispatch({ type: "choose", choice: choice.id, value: event.target.value });
              // The next key is the sheet's again.
              event.target.blur();
            }}
          >
            {choice.options.map(({ value, label }) => (
              <option key={value} value={value}>
                {label}
              </option>
            ))}
          </select>
        </label>
      ))}
      <p className="hint">{hint}</p>
      <output className="said" aria-live="polite">
        {said}
      </output>
    </footer>
  );
}
