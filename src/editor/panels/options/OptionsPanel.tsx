/** The options of the plan: chosen, named, copied, taken for good, removed; and all their readings side by side. */
import { useId, useMemo, useState } from "react";
import { useStore } from "zustand";
import { compare } from "../../../exchange/compare.js";
import { recordsOfOption } from "../../../plan/option-records.js";
import type { Id } from "../../../plan/schema.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { onSecondSheet, sideBySide, toggleSideBySide } from "../../option-store.js";
import * as commands from "../../options/option-commands.js";
import { useCandidates } from "../../options/use-candidates.js";
import { ComparedTable } from "./ComparedTable.js";
import "./options.css";

export default function OptionsPanel() {
  useCandidates();
  const store = useEditorStore();
  const title = useId();
  const units = useEditor((state) => state.units);
  const candidates = useStore(sideBySide, (state) => state.candidates);
  const options = useEditor((state) => state.history.plan.options);
  const [only, setOnly] = useState(true);
  const comparison = useMemo(() => compare(candidates, units), [candidates, units]);
  const ids = Object.keys(options);
  return (
    <section className="options-panel" aria-labelledby={title} aria-busy={candidates.length === 0}>
      <header className="column-head">
        <h2 id={title}>Options</h2>
        <button type="button" className="link" onClick={toggleSideBySide}>
          Close
        </button>
      </header>
      {ids.length === 0 && (
        <p className="quiet">
          An option is one way to build a part of the layout: a climb, no peninsula. What belongs to none is in all of
          them.
        </p>
      )}
      <ul className="option-list">
        {ids.map((id) => (
          <OptionRow key={id} id={id} />
        ))}
        {ids.length > 0 && (
          <li>
            <InHand id={undefined} name="None: what belongs to all" />
          </li>
        )}
      </ul>
      <div className="actions">
        <button type="button" className="button" onClick={() => commands.addNew(store)}>
          New option
        </button>
        <MoveSelection />
        {candidates.length > 1 && (
          <>
            <label className="option-only">
              <input type="checkbox" checked={only} onChange={() => setOnly(!only)} /> Only what differs
            </label>
            <SecondSheet />
          </>
        )}
      </div>
      {candidates.length > 1 && (
        <ComparedTable comparison={comparison} candidates={candidates} onlyDifferences={only} />
      )}
      {ids.length === 1 && <p className="quiet">A second option, or a copy of this one, is set beside it here.</p>}
    </section>
  );
}

function OptionRow({ id }: { readonly id: Id }) {
  const store = useEditorStore();
  const plan = useEditor((state) => state.history.plan);
  const name = plan.options[id]?.name ?? id;
  const own = useMemo(() => recordsOfOption(plan, id).length, [plan, id]);
  return (
    <li>
      <InHand id={id} name={name} />
      <OptionName key={name} id={id} name={name} />
      <span className="quiet figure">{own === 1 ? "1 object" : `${own} objects`}</span>
      <span className="option-actions">
        <button type="button" className="link" onClick={() => commands.duplicate(store, id)}>
          Duplicate<span className="unseen"> {name}</span>
        </button>
        <button
          type="button"
          className="link"
          aria-label={`Take for good: ${name}`}
          title="Its objects belong to the plan; the other options go"
          onClick={() => commands.takeForGood(store, id)}
        >
          Take for good
        </button>
        <button type="button" className="link" onClick={() => commands.remove(store, id)}>
          Remove<span className="unseen"> {name}</span>
        </button>
      </span>
    </li>
  );
}

function InHand({ id, name }: { readonly id: Id | undefined; readonly name: string }) {
  const store = useEditorStore();
  const inHand = useEditor((state) => state.history.plan.option);
  return (
    <label className="option-in-hand">
      <input type="radio" name="option-in-hand" checked={inHand === id} onChange={() => commands.choose(store, id)} />
      <span className={id === undefined ? undefined : "unseen"}>{id === undefined ? name : `${name} in hand`}</span>
    </label>
  );
}

/** Its name, typed over; one that cannot be is said, and goes back. */
function OptionName({ id, name }: { readonly id: Id; readonly name: string }) {
  const store = useEditorStore();
  const [text, setText] = useState(name);
  const done = (): void => {
    if (text.trim() === name) setText(name);
    else if (!commands.rename(store, id, text)) setText(name);
  };
  return (
    <input
      aria-label={`Name of ${name}`}
      value={text}
      onChange={(event) => setText(event.target.value)}
      onBlur={done}
      onKeyDown={(event) => {
        if (event.key === "Enter") done();
        else if (event.key === "Escape") setText(name);
      }}
    />
  );
}

/** In Twin view the second sheet shows another option. */
function SecondSheet() {
  const store = useEditorStore();
  const twin = useEditor((state) => state.deckView === "twin");
  const inHand = useEditor((state) => state.history.plan.option);
  const candidates = useStore(sideBySide, (state) => state.candidates);
  const shown = useStore(sideBySide, (state) => onSecondSheet(state, inHand)?.option);
  if (!twin) {
    return (
      <button type="button" className="link" onClick={() => store.getState().setDeckView("twin")}>
        Two sheets, an option on each
      </button>
    );
  }
  return (
    <label className="option-move">
      On the second sheet
      <select value={shown} onChange={(event) => sideBySide.setState({ beside: event.target.value })}>
        {candidates.flatMap(({ option, name }) =>
          option === undefined || option === inHand
            ? []
            : [
                <option key={option} value={option}>
                  {name}
                </option>,
              ],
        )}
      </select>
    </label>
  );
}

function MoveSelection() {
  const store = useEditorStore();
  const selected = useEditor((state) => state.selection.length);
  const plan = useEditor((state) => state.history.plan);
  const options = Object.entries(plan.options);
  if (selected === 0 || options.length === 0) return null;
  return (
    <label className="option-move">
      Selection to
      <select
        value=""
        onChange={(event) => {
          const to = event.target.value;
          if (to !== "") commands.moveSelection(store, to === ALL ? undefined : to);
        }}
      >
        <option value="">…</option>
        {options.map(([id, { name }]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
        <option value={ALL}>all options</option>
      </select>
    </label>
  );
}

/** No id begins so. */
const ALL = "all:";
