/** The plan's objects as a list: stands in for the drawing for who does not see it, and for the keyboard. */
import { type KeyboardEvent, useDeferredValue, useEffect, useId, useMemo, useRef, useState } from "react";
import { objectsOf, type PlanObject } from "../../drafting/objects.js";
import { sameObject, thingKey } from "../../drafting/thing.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { choose } from "./next-object.js";

/** Rows in the page at once; a list of thousands is told its size, not written out. */
const ROWS = 200;

export function ObjectList() {
  const [open, setOpen] = useState(false);
  const count = useEditor((state) => objectsOf(state.settled, state.units).length);
  return (
    <details className="objects" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        Objects <span className="quiet">{count}</span>
      </summary>
      {open && <Objects />}
    </details>
  );
}

function Objects() {
  const store = useEditorStore();
  const layout = useDeferredValue(useEditor((state) => state.settled));
  const units = useEditor((state) => state.units);
  const selection = useEditor((state) => state.selection);
  const objects = useMemo(() => objectsOf(layout, units), [layout, units]);
  const chosen = selection.at(-1);
  const found = chosen ? objects.findIndex(({ thing }) => sameObject(thing, chosen)) : -1;
  const at = Math.max(found, 0);
  const base = useId();
  const active = useRef<HTMLLIElement>(null);
  useEffect(() => {
    active.current?.scrollIntoView({ block: "nearest" });
  }, [at]);

  if (objects.length === 0) return <p className="quiet">Nothing drawn yet.</p>;
  const from = Math.max(0, Math.min(at - ROWS / 2, objects.length - ROWS));
  const shown = objects.slice(from, from + ROWS);
  const go = (to: number): void => {
    const object = objects[Math.min(Math.max(to, 0), objects.length - 1)];
    if (object) choose(store, object.thing);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    go(found === -1 ? 0 : Number.isFinite(step) ? at + step : step > 0 ? objects.length - 1 : 0);
  };
  return (
    <ul
      className="object-list"
      role="listbox"
      aria-label="Objects of the plan"
      aria-multiselectable="true"
      tabIndex={0}
      aria-activedescendant={found === -1 ? undefined : `${base}-${thingId(objects[found])}`}
      onKeyDown={onKeyDown}
      onClick={(event) => {
        const row = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-at]") : null;
        if (row) go(Number(row.dataset["at"]));
      }}
    >
      {shown.map((object, i) => {
        const selected = selection.some((thing) => sameObject(thing, object.thing));
        return (
          <li
            key={thingKey(object.thing)}
            id={`${base}-${thingId(object)}`}
            ref={from + i === found ? active : undefined}
            role="option"
            aria-selected={selected}
            aria-setsize={objects.length}
            aria-posinset={from + i + 1}
            data-at={from + i}
          >
            <span>{object.name}</span> <span className="quiet">{object.facts}</span>
          </li>
        );
      })}
    </ul>
  );
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowDown: 1,
  ArrowUp: -1,
  PageDown: 10,
  PageUp: -10,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

const thingId = (object: PlanObject | undefined): string => (object ? thingKey(object.thing).replaceAll(".", "-") : "");
