/** Chooses the route of the profile: a climb, the track in hand, or from one named place to another. */
import { type KeyboardEvent, useId } from "react";
import { climbName, climbsOf } from "../../../exchange/shown-route.js";
import { useEditor } from "../../editor-context.js";
import { namedPlaces, type RouteChoice } from "./route-choice.js";

export interface RouteChooserProps {
  readonly choice: RouteChoice;
  readonly onChoose: (choice: RouteChoice) => void;
}

const keyOf = (choice: RouteChoice): string =>
  choice.kind === "climb" ? `climb ${choice.lower} ${choice.upper}` : choice.kind;

export function RouteChooser({ choice, onChoose }: RouteChooserProps) {
  const plan = useEditor((state) => state.history.plan);
  const readings = useEditor((state) => state.readings);
  const id = useId();
  const climbs = climbsOf(readings);
  const choose = (key: string): void => {
    const climb = climbs.find((one) => keyOf(one) === key);
    onChoose(climb ?? (key === "track" ? { kind: "track" } : { kind: "between", from: "", to: "" }));
  };
  return (
    <span className="route">
      <select aria-label="Route" value={keyOf(choice)} onChange={(event) => choose(event.target.value)}>
        {climbs.map((climb) => (
          <option key={keyOf(climb)} value={keyOf(climb)}>
            {climbName(plan, climb)}
          </option>
        ))}
        <option value="track">Track in hand</option>
        <option value="between">From one place to another</option>
      </select>
      {choice.kind === "between" && (
        <>
          <PlaceName label="From" list={id} value={choice.from} onValue={(from) => onChoose({ ...choice, from })} />
          <PlaceName label="To" list={id} value={choice.to} onValue={(to) => onChoose({ ...choice, to })} />
          <datalist id={id}>
            {namedPlaces(plan).map((name) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </datalist>
        </>
      )}
    </span>
  );
}

interface PlaceNameProps {
  readonly label: string;
  readonly list: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
}

function PlaceName({ label, list, value, onValue }: PlaceNameProps) {
  const id = useId();
  return (
    <>
      <label htmlFor={id} className="quiet">
        {label.toLowerCase()}
      </label>
      <input
        id={id}
        list={list}
        value={value}
        aria-label={`${label}: a place, a deck, a track, or track@mm`}
        onChange={(event) => onValue(event.target.value)}
        onKeyDown={(event: KeyboardEvent) => event.stopPropagation()}
      />
    </>
  );
}
