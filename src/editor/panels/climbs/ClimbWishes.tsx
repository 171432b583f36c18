/** Where a climb leaves and arrives, by list as well as on the sheet, and what is wished of it. */
import { type KeyboardEvent, useId, useState } from "react";
import { useStore } from "zustand";
import { type ClimbEnd, isTurnoutPlace } from "../../../climb/request.js";
import { decksInOrder } from "../../../drafting/decks.js";
import { lengthText } from "../../../drafting/figures.js";
import { limitsOf } from "../../../plan/class-limits.js";
import { formatLength } from "../../../plan/format-length.js";
import { formatGrade, parseCount, parseGrade } from "../../../plan/grade-text.js";
import { parseLength } from "../../../plan/parse-length.js";
import type { Plan } from "../../../plan/schema.js";
import { type ClimbWishes, climbs, wish } from "../../climb-store.js";
import { climbEnds, endKey, endSpot } from "../../climbs/ends.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { asRanking, rankingChoice } from "../../tools/climb-routes.js";
import { asClass, classChoice } from "../../tools/lay-show.js";
import type { Choice } from "../../tool.js";

export function EndChoice({ which, label }: { readonly which: "from" | "to"; readonly label: string }) {
  const id = useId();
  const layout = useEditor((state) => state.settled);
  const units = useEditor((state) => state.units);
  const chosen = useStore(climbs, (state) => state.wishes[which]);
  const spot = endSpot(layout, chosen);
  const ends = climbEnds(layout);
  const { decks } = layout.plan;
  const onTrack = spot && isTurnoutPlace(spot.end) ? spot.end : undefined;
  const choose = (key: string): void => {
    const end: ClimbEnd | undefined = ends.find((one) => endKey(one.end) === key)?.end;
    if (end || key === "") wish(climbs, { [which]: end });
  };
  return (
    <div className="climb-end">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={spot ? endKey(spot.end) : ""} onChange={(event) => choose(event.target.value)}>
        <option value="">{chosen && !spot ? "no longer free: pick another" : "pick on the sheet, or here"}</option>
        {spot && onTrack && (
          <option value={endKey(onTrack)}>
            {spot.word}, {lengthText(onTrack.at, units)} along, with a turnout
          </option>
        )}
        {decksInOrder(layout.plan).map((deck) => {
          const here = ends.filter((one) => one.deck === deck);
          if (here.length === 0) return null;
          return (
            <optgroup key={deck} label={decks[deck]?.name ?? deck}>
              {here.map((one) => (
                <option key={endKey(one.end)} value={endKey(one.end)}>
                  {one.word}, {lengthText(one.height, units)} high
                </option>
              ))}
            </optgroup>
          );
        })}
      </select>
    </div>
  );
}

export function Wishes() {
  const plan = useEditor((state) => state.plan);
  const units = useEditor((state) => state.units);
  const wishes = useStore(climbs, (state) => state.wishes);
  const own = limitsOf(plan, wishes.class);
  return (
    <details className="section climb-wishes">
      <summary>
        Limits and wishes<span className="quiet">{wishesText(wishes, units)}</span>
      </summary>
      <ChoiceRow
        choice={classChoice(wishes.class)}
        onChoose={(value) => wish(climbs, { class: asClass(value) ?? "main" })}
      />
      <ChoiceRow
        choice={{ ...rankingChoice(wishes.rankBy), label: "First in the list" }}
        onChoose={(value) => wish(climbs, { rankBy: asRanking(value) })}
      />
      <FigureRow
        label="Grade at most"
        value={wishes.grade}
        usual={formatGrade(own.grade.value)}
        read={parseGrade}
        write={formatGrade}
        onSet={(grade) => wish(climbs, { grade })}
      />
      <FigureRow
        label="Radius at least"
        value={wishes.radius}
        usual={formatLength(own.radius.value, units)}
        read={lengthIn(units)}
        write={(mm) => formatLength(mm, units)}
        onSet={(radius) => wish(climbs, { radius })}
      />
      <FigureRow
        label="Level on the way"
        value={wishes.level?.length}
        usual="none"
        read={lengthIn(units)}
        write={(mm) => formatLength(mm, units)}
        onSet={(length) => wish(climbs, { level: length === undefined ? undefined : { length } })}
      />
      <FigureRow
        label="Cars on the level"
        value={wishes.engineCars}
        usual="not known"
        read={parseCount}
        write={String}
        onSet={(engineCars) => wish(climbs, { engineCars })}
      />
      <Ground wishes={wishes} />
    </details>
  );
}

/** What differs from what the plan says anyway. */
function wishesText(
  { grade, radius, level, allow = [], class: trackClass }: ClimbWishes,
  units: Plan["units"],
): string {
  const said = [
    trackClass === "main" ? "" : trackClass,
    grade === undefined ? "" : `≤ ${formatGrade(grade)}`,
    radius === undefined ? "" : `R ≥ ${lengthText(radius, units)}`,
    level === undefined ? "" : `${lengthText(level.length, units)} level`,
    allow.length === 0 ? "" : groundText(allow.length),
  ].filter(Boolean);
  return said.join(" · ");
}

const groundText = (areas: number): string => (areas === 1 ? "1 area to build on" : `${areas} areas to build on`);

function Ground({ wishes: { allow = [] } }: { readonly wishes: ClimbWishes }) {
  const store = useEditorStore();
  const draw = (): void => {
    if (store.getState().tool !== "climb-routes") store.getState().takeTool("climb-routes");
    store.getState().dispatch({ type: "choose", choice: "pick", value: "ground" });
  };
  return (
    <div className="field">
      <span className="field-name">New benches</span>
      <span className="quiet">{allow.length === 0 ? "none; the benches there are" : groundText(allow.length)}</span>
      <span>
        <button
          type="button"
          className="link"
          title="Draw ground on the sheet that the climb may be built on"
          onClick={draw}
        >
          Draw
        </button>
        {allow.length > 0 && (
          <button type="button" className="link" onClick={() => wish(climbs, { allow: undefined })}>
            Clear
          </button>
        )}
      </span>
    </div>
  );
}

function ChoiceRow({ choice, onChoose }: { readonly choice: Choice; readonly onChoose: (value: string) => void }) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{choice.label}</label>
      <select id={id} value={choice.value} onChange={(event) => onChoose(event.target.value)}>
        {choice.options.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    </div>
  );
}

type Read = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly message: string };

const lengthIn =
  (units: Plan["units"]) =>
  (text: string): Read => {
    const read = parseLength(text, units);
    return read.ok ? { ok: true, value: read.mm } : read;
  };

interface FigureRowProps {
  readonly label: string;
  readonly value: number | undefined;
  /** What holds while nothing is typed. */
  readonly usual: string;
  readonly read: (text: string) => Read;
  readonly write: (value: number) => string;
  readonly onSet: (value: number | undefined) => void;
}

function FigureRow({ label, value, usual, read, write, onSet }: FigureRowProps) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const [fault, setFault] = useState("");
  const commit = (): void => {
    if (typed === undefined) return;
    if (typed.trim() === "") onSet(undefined);
    else {
      const figure = read(typed);
      if (!figure.ok || !(figure.value > 0))
        return setFault(figure.ok ? "that must be more than nothing" : figure.message);
      onSet(figure.value);
    }
    setTyped(undefined);
    setFault("");
  };
  const onKey = (event: KeyboardEvent): void => {
    // What is typed here is no command.
    event.stopPropagation();
    if (event.key === "Enter") commit();
    if (event.key !== "Escape") return;
    setTyped(undefined);
    setFault("");
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className="figure"
        placeholder={usual}
        value={typed ?? (value === undefined ? "" : write(value))}
        aria-invalid={fault !== ""}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={commit}
        onKeyDown={onKey}
      />
      {fault && (
        <span id={`${id}-fault`} className="fault" role="alert">
          {fault}
        </span>
      )}
    </div>
  );
}
