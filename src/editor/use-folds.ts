/**
 * Which margins are folded away, so that the sheet gets their room: the profile, and the column of readings and details.
 * What someone chose is remembered in this browser; until then a low tablet folds the profile, but in Grade, where the
 * climb is in hand.
 */
import { useCallback, useMemo, useState } from "react";
import { useEditor } from "./editor-context.js";

export const MARGINS = ["profile", "column"] as const;
export type Margin = (typeof MARGINS)[number];

/** As chosen; what nobody chose is left out. */
type Choice = Readonly<Partial<Record<Margin, boolean>>>;

export interface Folds {
  readonly folded: Readonly<Record<Margin, boolean>>;
  readonly fold: (margin: Margin) => void;
}

const KEY = "ruling-grade.folded";
/** Where the page lays its margins out for a tablet held sideways, as tablet.css does, with no height to spare. */
const LOW_TABLET =
  "(max-width: 1100px) and (max-height: 820px) and (min-aspect-ratio: 1), (pointer: coarse) and (max-width: 1400px) and (max-height: 820px) and (min-aspect-ratio: 1)";

export function useFolds(): Folds {
  const grade = useEditor((state) => state.stage === "grade");
  const [chosen, setChosen] = useState(remembered);
  const low = useMemo(() => matchMedia(LOW_TABLET).matches, []);
  const profile = chosen.profile ?? (low && !grade);
  const column = chosen.column ?? false;
  const fold = useCallback(
    (margin: Margin) => {
      const now = { profile, column };
      const next = { ...chosen, [margin]: !now[margin] };
      remember(next);
      setChosen(next);
    },
    [chosen, profile, column],
  );
  return useMemo(() => ({ folded: { profile, column }, fold }), [profile, column, fold]);
}

function remembered(): Choice {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    if (typeof kept !== "object" || kept === null) return {};
    const entries = new Map<string, unknown>(Object.entries(kept));
    return Object.fromEntries(
      MARGINS.flatMap((margin) => {
        const value = entries.get(margin);
        return typeof value === "boolean" ? [[margin, value]] : [];
      }),
    );
  } catch {
    // No storage, or something else in it: as if nothing had been chosen.
    return {};
  }
}

function remember(chosen: Choice): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(chosen));
  } catch {
    // A browser that keeps nothing folds for this visit only.
  }
}
