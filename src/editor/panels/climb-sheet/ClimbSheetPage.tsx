/**
 * The climb sheet: a calculator for the first evening, laid over the sheet and closed by Esc. Loaded only when it is asked
 * for. It begins with the plan's own limits and changes nothing in the plan.
 */
import { type KeyboardEvent, type RefObject, useEffect, useId, useMemo, useRef } from "react";
import { useStore } from "zustand";
import type { ClimbSheet } from "../../../climb/climb-sheet.js";
import { runText } from "../../../drafting/climb-figures.js";
import { deckTable, gradeTable, sheetFacts, sheetSentences } from "../../../exchange/climb-sheet-text.js";
import { drawClimbSheetSvg } from "../../../exchange/svg/climb-sheet.js";
import type { Plan } from "../../../plan/schema.js";
import { reckoned, type SheetWishes } from "../../climb-sheet-store.js";
import { useEditor } from "../../editor-context.js";
import { download } from "../../files/disk.js";
import { CAUTIONS } from "../../help/cautions.js";
import { SheetFields } from "./SheetFields.js";
import { SheetPicture } from "./SheetPicture.js";
import { CostTable, FactTable } from "./SheetTables.js";
import { firstWishes, groundOf, sheetFor } from "./sheet-wishes.js";
import "./climb-sheet.css";

const close = (): void => reckoned.setState({ open: false });

const onKey = (event: KeyboardEvent): void => {
  event.stopPropagation();
  if (event.key === "Escape") close();
};

export default function ClimbSheetPage() {
  const title = useId();
  const page = useRef<HTMLElement>(null);
  const plan = useEditor((state) => state.plan);
  const asked = useStore(reckoned, (state) => state.wishes);
  const wishes = useMemo(() => asked ?? firstWishes(plan), [asked, plan]);
  const ground = useMemo(() => groundOf(plan, wishes.scale), [plan, wishes.scale]);
  const result = useMemo(() => sheetFor(plan, wishes), [plan, wishes]);
  useFocus(page);
  return (
    // Keys pressed here are none of the sheet's beneath; Esc closes.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <section className="climb-sheet" ref={page} tabIndex={-1} aria-labelledby={title} onKeyDown={onKey}>
      <header>
        <h2 id={title}>Climb sheet</h2>
        <p className="quiet">What a climb takes, before anything is drawn. Nothing here changes the plan.</p>
        {result.ok && <SaveButton ground={ground} sheet={result.sheet} />}
        <button type="button" className="button" onClick={close}>
          Back to the sheet
        </button>
      </header>
      {result.ok ? (
        <Reckoned ground={ground} sheet={result.sheet} wishes={wishes} />
      ) : (
        <>
          <SheetFields wishes={wishes} />
          <p className="fault" role="alert">
            {result.message}
          </p>
        </>
      )}
    </section>
  );
}

/** To the first figure when it opens, and back to where it was when it closes. */
function useFocus(page: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const before = document.activeElement;
    page.current?.querySelector("input")?.focus();
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, [page]);
}

interface Reckoning {
  readonly ground: Plan;
  readonly sheet: ClimbSheet;
}

function SaveButton({ ground, sheet }: Reckoning) {
  const units = useEditor((state) => state.units);
  const theme = useEditor((state) => state.theme);
  return (
    <button
      type="button"
      className="button"
      onClick={() => download("climb-sheet.svg", drawClimbSheetSvg(ground, sheet, { units, theme }), "image/svg+xml")}
    >
      Save picture
    </button>
  );
}

function Reckoned({ ground, sheet, wishes }: Reckoning & { readonly wishes: SheetWishes }) {
  const units = useEditor((state) => state.units);
  const grades = useMemo(() => gradeTable(ground, sheet.class, sheet.sums, units), [ground, sheet, units]);
  const decks = useMemo(() => deckTable(ground, sheet.sums, units), [ground, sheet, units]);
  const take = (change: Partial<SheetWishes>): void => reckoned.setState({ wishes: { ...wishes, ...change } });
  const fails = sheet.checks.filter(({ verdict }) => verdict === "fails").length;
  return (
    <>
      <div className="sheet-asked">
        <SheetFields wishes={wishes} />
        <FactTable facts={sheetFacts(sheet, units)} />
        <ul className="sheet-sentences">
          {sheetSentences(ground, sheet, units).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        <p className="unseen" role="status">
          {`${runText(sheet.sums.run, units, "up")} of run, ${sheet.sums.turns.toFixed(1)} turns, `}
          {fails === 0 ? "every limit kept" : `${fails} beyond the limit`}
        </p>
      </div>
      <SheetPicture ground={ground} sheet={sheet} />
      <CostTable
        table={grades}
        take="Take a grade of"
        onTake={(row) => take({ grade: grades.rows[row]?.value ?? 0 })}
      />
      <CostTable table={decks} take="Take a rise of" onTake={(row) => take({ rise: decks.rows[row]?.value ?? 0 })} />
      <footer>
        <p className="caution">{CAUTIONS.structure}</p>
        {sheet.sums.gap !== undefined && (
          <p className="caution">
            One gets into a helix from below, and stays there while mending. {CAUTIONS.duckunders}
          </p>
        )}
      </footer>
    </>
  );
}
