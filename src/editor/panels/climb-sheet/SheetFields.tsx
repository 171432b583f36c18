/** What is asked of the climb sheet: rise, grade and radius as typed, the class of track, and whose limits. */
import { type KeyboardEvent, useId, useState } from "react";
import { TRACK_CLASSES, type TrackClass } from "../../../plan/schema.js";
import { reckoned, type SheetWishes } from "../../climb-sheet-store.js";
import { useEditor } from "../../editor-context.js";
import { ALL_SCALES, scaleKey } from "../../files/new-plan.js";
import { scaleName } from "../details/plan-details.js";
import { figureText, firstWishes, nudged, type ReadFigure, type SheetField, withTyped } from "./sheet-wishes.js";

const FIELDS: readonly { readonly field: SheetField; readonly label: string; readonly note: string }[] = [
  { field: "rise", label: "Rise", note: "railhead to railhead" },
  { field: "grade", label: "Grade", note: "2.2, or 1 in 45" },
  { field: "radius", label: "Radius", note: "of the helix, or the sharpest curve" },
];

const put = (wishes: SheetWishes): void => reckoned.setState({ wishes });

export function SheetFields({ wishes }: { readonly wishes: SheetWishes }) {
  const id = useId();
  const plan = useEditor((state) => state.plan);
  return (
    <form className="sheet-fields" aria-label="The climb" onSubmit={(event) => event.preventDefault()}>
      {FIELDS.map((one) => (
        <Figure key={one.field} wishes={wishes} {...one} />
      ))}
      <div className="field">
        <label htmlFor={`${id}-class`}>Class</label>
        <select
          id={`${id}-class`}
          value={wishes.class}
          onChange={(event) => put({ ...wishes, class: asClass(event.target.value) })}
        >
          {TRACK_CLASSES.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
        <span className="quiet">of track</span>
      </div>
      <div className="field">
        <label htmlFor={`${id}-scale`}>Limits</label>
        <select
          id={`${id}-scale`}
          value={wishes.scale ?? ""}
          // The figures of one scale say nothing in another; the height between the decks stays.
          onChange={(event) =>
            put({ ...firstWishes(plan, event.target.value || undefined, wishes.class), rise: wishes.rise })
          }
        >
          <option value="">{`${plan.scale.name}, this plan’s own`}</option>
          {ALL_SCALES.map((scale) => (
            <option key={scaleKey(scale)} value={scaleKey(scale)}>
              {scaleName(scale)}
            </option>
          ))}
        </select>
        <span className="quiet">whose they are</span>
      </div>
    </form>
  );
}

const asClass = (value: string): TrackClass => TRACK_CLASSES.find((one) => one === value) ?? "main";

interface FigureProps {
  readonly wishes: SheetWishes;
  readonly field: SheetField;
  readonly label: string;
  readonly note: string;
}

/** A figure as typed; everything on the sheet follows while it is, as long as it can be understood. */
function Figure({ wishes, field, label, note }: FigureProps) {
  const id = useId();
  const plan = useEditor((state) => state.plan);
  const units = useEditor((state) => state.units);
  const [typed, setTyped] = useState<string>();
  const [fault, setFault] = useState("");
  const take = (read: ReadFigure): void => {
    setFault(read.ok ? "" : read.message);
    if (read.ok) put(read.wishes);
  };
  const settle = (): void => {
    setTyped(undefined);
    setFault("");
  };
  const onKey = (event: KeyboardEvent): void => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key] as 1 | -1 | undefined;
    if (way !== undefined) {
      event.preventDefault();
      setTyped(undefined);
      take(nudged(plan, wishes, field, way, units));
    } else if (event.key === "Enter") settle();
    else if (event.key === "Escape" && typed !== undefined) {
      // The first Esc gives up what is typed, the next one closes the sheet.
      event.stopPropagation();
      settle();
    }
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className="figure"
        autoComplete="off"
        title="Arrow up and down step it"
        value={typed ?? figureText(field, wishes, units)}
        aria-invalid={fault !== "" || undefined}
        aria-describedby={`${id}-note`}
        onChange={(event) => {
          setTyped(event.target.value);
          take(withTyped(plan, wishes, field, event.target.value, units));
        }}
        onBlur={settle}
        onKeyDown={onKey}
      />
      <span className="quiet" id={`${id}-note`}>
        {note}
      </span>
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
