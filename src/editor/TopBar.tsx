/** The top margin: the plan's title, units, theme, and a file to open. */
import { useId } from "react";
import type { Theme, Units } from "../core/index.js";

export interface TopBarProps {
  readonly title: string;
  readonly units: Units;
  readonly onUnits: (units: Units) => void;
  readonly theme: Theme;
  readonly onTheme: (theme: Theme) => void;
  readonly onFile: (file: File) => void;
}

const UNITS: readonly { readonly units: Units; readonly short: string; readonly name: string }[] = [
  { units: "imperial", short: "ft in", name: "Feet and inches" },
  { units: "metric", short: "mm", name: "Millimetres" },
];

export function TopBar(props: TopBarProps) {
  const field = useId();
  return (
    <header className="bar">
      <svg className="mark" viewBox="0 0 28 16" aria-hidden="true">
        <path d="M1 15h26M1 15 27 1" />
        <path className="mark-rise" d="M20 15V5" />
      </svg>
      <h1>{props.title}</h1>
      <fieldset className="switch">
        <legend className="unseen">Units</legend>
        {UNITS.map(({ units, short, name }) => (
          <label key={units} title={name}>
            <input
              type="radio"
              name="units"
              value={units}
              checked={props.units === units}
              onChange={() => props.onUnits(units)}
              aria-label={name}
            />
            <span>{short}</span>
          </label>
        ))}
      </fieldset>
      <button
        type="button"
        className="button"
        aria-pressed={props.theme === "dark"}
        onClick={() => props.onTheme(props.theme === "dark" ? "light" : "dark")}
      >
        Night
      </button>
      <div className="button open">
        <label htmlFor={field}>Open plan…</label>
        <input
          id={field}
          type="file"
          accept=".json,application/json"
          onChange={(event) => {
            const file = event.target.files?.[0];
            // The same file may be chosen again after it was changed.
            event.target.value = "";
            if (file) props.onFile(file);
          }}
        />
      </div>
    </header>
  );
}
