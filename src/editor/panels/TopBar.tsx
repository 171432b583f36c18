/** The top margin: the plan's title with what is unsaved, units, undo and redo, and the menus. */
import { tally, VERDICTS } from "../../exchange/readings-text.js";
import type { Plan } from "../../plan/schema.js";
import { useEditor } from "../editor-context.js";
import { isUnsaved } from "../files/file-desk.js";
import { type Page, PAGE_COMMANDS, type PageCommand, stepTitle } from "../page-commands.js";
import { SAMPLE_PLANS } from "../sample-plans.js";
import { keyText } from "../sheet/keys.js";
import { SHARE_COMMANDS } from "../share/share-commands.js";
import type { Folds } from "../use-folds.js";
import { IS_MAC } from "../use-page-keys.js";
import { VerdictSign } from "../VerdictSign.js";
import { Menu, type MenuItem } from "./Menu.js";
import { OptionsMenu } from "./options/OptionsMenu.js";

const UNITS: readonly { readonly units: Plan["units"]; readonly short: string; readonly name: string }[] = [
  { units: "imperial", short: "ft in", name: "Feet and inches" },
  { units: "metric", short: "mm", name: "Millimetres" },
];

export interface TopBarProps {
  readonly page: Page;
  readonly folded: Folds["folded"];
}

export function TopBar({ page, folded }: TopBarProps) {
  const title = useEditor((state) => state.history.plan.title);
  const unsaved = useEditor(isUnsaved);
  const units = useEditor((state) => state.units);
  const theme = useEditor((state) => state.theme);
  const fileName = useEditor((state) => state.fileName);
  const { store, files } = page;
  const itemOf = (command: PageCommand): MenuItem => ({
    id: command.id,
    name: command.name,
    ...(command.keys[0] !== undefined && { keys: keyText(command.keys[0], IS_MAC) }),
    do: () => command.run(page),
  });
  const samples = SAMPLE_PLANS.map(
    (sample): MenuItem => ({
      id: sample.file,
      name: sample.name,
      current: sample.file === fileName,
      do: () => void sample.load().then((text) => files.openText(text, sample.file)),
    }),
  );
  return (
    <header className="bar">
      <svg className="mark" viewBox="0 0 28 16" aria-hidden="true">
        <path d="M1 15h26M1 15 27 1" />
        <path className="mark-rise" d="M20 15V5" />
      </svg>
      <h1 title={unsaved ? `${title}: unsaved changes` : title}>
        {title || "Untitled plan"}
        {unsaved && (
          <span className="unsaved" title="Unsaved changes">
            <span className="unseen">, unsaved changes</span>
          </span>
        )}
      </h1>
      <fieldset className="switch">
        <legend className="unseen">Units</legend>
        {UNITS.map(({ units: one, short, name }) => (
          <label key={one} title={name}>
            <input
              type="radio"
              name="units"
              value={one}
              checked={units === one}
              onChange={() => store.getState().setUnits(one)}
              aria-label={name}
            />
            <span>{short}</span>
          </label>
        ))}
      </fieldset>
      <OptionsMenu />
      <Step page={page} id="undo" path="M4 7h7a4 4 0 0 1 0 8H8M7 3.5 3.5 7 7 10.5" />
      <Step page={page} id="redo" path="M14 7H7a4 4 0 0 0 0 8h3M11 3.5 14.5 7 11 10.5" />
      <button
        type="button"
        className="button icon night"
        aria-pressed={theme === "dark"}
        aria-label="Night"
        title="Night workshop"
        onClick={() => store.getState().setTheme(theme === "dark" ? "light" : "dark")}
      >
        <svg viewBox="0 0 18 18" aria-hidden="true">
          <path d="M14.5 11.2A6 6 0 1 1 7.2 3.4a4.8 4.8 0 0 0 7.3 7.8Z" />
        </svg>
      </button>
      <ColumnSwitch page={page} folded={folded.column} />
      <Menu label="Help" groups={[{ items: PAGE_COMMANDS.filter(({ group }) => group === "Help").map(itemOf) }]}>
        Help
      </Menu>
      <Menu
        label="File"
        groups={[
          { items: PAGE_COMMANDS.filter(({ group }) => group === "File").map(itemOf) },
          {
            name: "Share and export",
            items: SHARE_COMMANDS.map(
              (command): MenuItem => ({ id: command.id, name: command.name, do: () => command.run(page) }),
            ),
          },
          { name: "Sample plans", items: samples },
        ]}
      >
        File
      </Menu>
    </header>
  );
}

/** Folds the column away; while it is, the worst of the readings is told here. */
function ColumnSwitch({ page, folded }: { readonly page: Page; readonly folded: boolean }) {
  const readings = useEditor((state) => state.readings);
  const counts = tally(readings);
  const worst = folded ? (["fails", "tight"] as const).find((verdict) => counts[verdict] > 0) : undefined;
  const does = folded ? "Open readings and details" : "Fold readings and details";
  return (
    <button
      type="button"
      className={`button icon column-switch ${worst ?? ""}`}
      aria-expanded={!folded}
      aria-label={worst ? `${does}: ${counts[worst]} ${VERDICTS[worst].word.toLowerCase()}` : does}
      title={`${does} (${keyText("Alt+6", IS_MAC)})`}
      onClick={() => page.fold("column")}
    >
      {worst ? (
        <span>
          <VerdictSign verdict={worst} /> {counts[worst]}
        </span>
      ) : (
        <svg viewBox="0 0 18 18" aria-hidden="true">
          <path
            d={
              folded
                ? "M2.5 3.5h13v11h-13ZM11.5 3.5v11M8.5 6.5 6 9l2.5 2.5"
                : "M2.5 3.5h13v11h-13ZM11.5 3.5v11M5.5 6.5 8 9l-2.5 2.5"
            }
          />
        </svg>
      )}
    </button>
  );
}

interface StepProps {
  readonly page: Page;
  readonly id: "undo" | "redo";
  readonly path: string;
}

const STEP_KEYS = { undo: "Mod+Z", redo: "Mod+Shift+Z" } as const;

function Step({ page, id, path }: StepProps) {
  const title = useEditor((state) => stepTitle(id, state));
  return (
    <button
      type="button"
      className="button icon plain"
      // A button that cannot be used stays findable, and says so.
      aria-disabled={title === undefined}
      aria-label={title ?? `Nothing to ${id}`}
      title={title === undefined ? `Nothing to ${id}` : `${title} (${keyText(STEP_KEYS[id], IS_MAC)})`}
      onClick={() => page.store.getState()[id]()}
    >
      <svg viewBox="0 0 18 18" aria-hidden="true">
        <path d={path} />
      </svg>
    </button>
  );
}
