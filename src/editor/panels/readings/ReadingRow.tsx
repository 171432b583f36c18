/** One reading. Choosing it flies through its places; its limit opens to be changed, or the reading to be lived with. */
import { memo, useState } from "react";
import { VERDICTS } from "../../../exchange/readings-text.js";
import type { Reading } from "../../../readings/reading.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { VerdictSign } from "../../VerdictSign.js";
import { nameOf } from "../details/names.js";
import { showPlace, thingNamed } from "../fly-to.js";
import { ReadingLimit } from "./ReadingLimit.js";
import { nextPlace, rowText } from "./reading-rows.js";

/** Written anew only for a reading that is another: they all come again with every move of a hand that drags. */
export const ReadingRow = memo(({ reading }: { readonly reading: Reading }) => {
  const store = useEditorStore();
  const units = useEditor((state) => state.units);
  const [open, setOpen] = useState(false);
  const [at, setAt] = useState<number>();
  const text = rowText(reading, units);
  const { places, verdict } = reading;
  const fly = (): void => {
    const next = nextPlace(reading, at);
    const place = places[next];
    if (!place) return store.getState().say(`${reading.label}: there is no one place to look at.`);
    setAt(next);
    showPlace(store, place);
    store.getState().say(placeText(store.getState().plan, reading, next));
  };
  return (
    <>
      <tr className={`reading ${verdict}`} data-open={open || undefined}>
        <td className="verdict">
          <VerdictSign verdict={verdict} /> <span>{text.word}</span>
          {verdict === "none" && <span className="unseen">{VERDICTS.none.word}</span>}
        </td>
        <th scope="row">
          <button type="button" className="what" onClick={fly}>
            {reading.label}
          </button>
        </th>
        <td className="value figure">{text.value}</td>
        <td className="limit">
          <button
            type="button"
            className="figure"
            aria-expanded={open}
            onClick={() => setOpen(!open)}
            title="Limit, source and reasons"
          >
            {text.limit}
          </button>
        </td>
      </tr>
      {open && (
        <tr className={`reading-more ${verdict}`}>
          <td colSpan={4}>
            <ReadingLimit reading={reading} />
          </td>
        </tr>
      )}
    </>
  );
});

function placeText(plan: Parameters<typeof nameOf>[0], reading: Reading, index: number): string {
  const place = reading.places[index];
  const thing = place && thingNamed(place.thing);
  const where = thing?.kind === "record" ? nameOf(plan, thing) : "";
  const many = reading.places.length > 1 ? `place ${index + 1} of ${reading.places.length}` : "";
  return [reading.label, where, place?.note ?? "", many].filter(Boolean).join(" · ");
}
