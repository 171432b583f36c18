/** The key to the lines in use on the sheet: classes by weight, hidden track, the other decks. */
import { useMemo } from "react";
import { type DeckTone, deckTone, decksInOrder, levelWith } from "../../drafting/decks.js";
import { TRACK_WEIGHTS } from "../../drafting/line-weights.js";
import { TRACK_CLASSES } from "../../plan/schema.js";
import { useEditor } from "../editor-context.js";

interface Row {
  readonly name: string;
  readonly weight: number;
  readonly style?: "hidden" | "pale" | "fascia" | "unreached";
  /** Of the other deck shown. */
  readonly tone?: DeckTone;
}

export function LineKey() {
  const layout = useEditor((state) => state.settled);
  const deck = useEditor((state) => state.deck);
  const view = useEditor((state) => state.deckView);
  const rows = useMemo((): Row[] => {
    const level = new Set(levelWith(layout.plan, deck));
    const lines = [...layout.lines.values()].filter((line) => level.has(line.deck));
    const used = new Set(lines.map((line) => line.class));
    const byWeight = new Map<number, string[]>();
    for (const name of TRACK_CLASSES) {
      if (!used.has(name)) continue;
      const { line } = TRACK_WEIGHTS[name];
      byWeight.set(line, [...(byWeight.get(line) ?? []), name]);
    }
    const keys = new Set(lines.map((line) => line.key));
    // The nearest above speaks for the others, as it lies over the deck in hand.
    const beyond = view === "see-through" ? decksInOrder(layout.plan).filter((id) => !level.has(id)) : [];
    const height = layout.plan.decks[deck]?.height ?? 0;
    const other = beyond.find((id) => (layout.plan.decks[id]?.height ?? 0) > height) ?? beyond.at(-1);
    const tone = other === undefined ? undefined : deckTone(layout.plan, other);
    return [
      ...[...byWeight].map(([weight, names]) => ({ name: names.join(", "), weight })),
      ...(layout.hidden.some(({ line }) => keys.has(line))
        ? [{ name: "hidden", weight: 1, style: "hidden" as const }]
        : []),
      ...(tone !== undefined
        ? [
            { name: "track of another deck", weight: 0.9, style: "pale" as const, tone },
            { name: "its fascia", weight: 0.9, style: "fascia" as const, tone },
          ]
        : []),
      ...(layout.findings.some(({ target }) => target)
        ? [{ name: "does not get there", weight: 1.2, style: "unreached" as const }]
        : []),
    ];
  }, [layout, deck, view]);
  return (
    <ul className="line-key" aria-label="Key to the lines">
      {rows.map(({ name, weight, style, tone }) => (
        <li key={name}>
          <svg width="34" height="8" aria-hidden="true">
            <path className={[style, tone].filter(Boolean).join(" ")} d="M0 4H34" strokeWidth={weight} />
          </svg>
          {name}
        </li>
      ))}
    </ul>
  );
}
