/** The sheet: one paper with its key and title block, or two papers side by side that pan and zoom together. */
import { useEffect, useLayoutEffect, useRef, useState } from "react";
import { useStore } from "zustand";
import { partnerDeck } from "../../drafting/decks.js";
import { makeScenes } from "../../drafting/scene.js";
import type { Id, Plan } from "../../plan/schema.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { onSecondSheet, sideBySide } from "../option-store.js";
import { Paper } from "./Paper.js";
import { makePointerSpot } from "./pointer-spot.js";
import { COMMANDS } from "./commands.js";
import { type Focus, pressKey } from "./keys.js";
import { LineKey } from "./LineKey.js";
import { DeckChoice, ViewChoice, ZoomButtons } from "./SheetMargin.js";
import { DeckName, TitleBlock } from "./TitleBlock.js";
import "./sheet.css";

/** A sheet at least so wide has a margin at the right for key and title, px. */
const WIDE = 760;
const MARGIN = 188;
/** What the margin takes besides its rows of decks and views: frame, title block, heads, px. */
const BESIDE_ROWS = 234;
/** A row by pointer and by finger, px. */
const ROW = { fine: 32, coarse: 48 } as const;
const VIEWS = 3;

/** Lower than this the margin would not hold the decks and views, px. */
const leastHeight = (decks: Plan["decks"]): number =>
  BESIDE_ROWS + ROW[matchMedia("(pointer: coarse)").matches ? "coarse" : "fine"] * (Object.keys(decks).length + VIEWS);

export function Sheet() {
  const deck = useEditor((state) => state.deck);
  const deckView = useEditor((state) => state.deckView);
  const decks = useEditor((state) => state.plan.decks);
  const [scenes] = useState(makeScenes);
  const [spot] = useState(makePointerSpot);
  const desk = useRef<HTMLElement>(null);
  const [size, setSize] = useState({ width: 0, height: 0 });
  const pair = usePair(decks, deck);
  useKeys();

  useLayoutEffect(() => {
    const box = desk.current;
    if (!box) return;
    const measure = (): void => {
      const { width, height } = box.getBoundingClientRect();
      setSize({ width, height });
    };
    const watcher = new ResizeObserver(measure);
    watcher.observe(box);
    measure();
    return () => watcher.disconnect();
  }, []);

  const inHand = useEditor((state) => state.history.plan.option);
  const second = useStore(sideBySide, (state) => onSecondSheet(state, inHand));
  const nameInHand = useEditor(({ history: { plan } }) =>
    plan.option === undefined ? "All options" : plan.options[plan.option]?.name,
  );
  const [otherScenes] = useState(makeScenes);
  // Side by side, a pair of sheets shows one deck in two options.
  const other = deckView === "twin" ? second : undefined;
  const twin = deckView === "twin" && (other !== undefined || pair.length === 2);
  const margin = !twin && size.width >= WIDE && size.height >= leastHeight(decks);
  const shown = other ? [deck, deck] : twin ? pair : [deck];
  const others = twin ? "outline" : deckView === "one" ? "alone" : "through";
  return (
    <section className="sheet" ref={desk} aria-label="The plan" data-view={twin ? "twin" : deckView}>
      <div className="papers">
        {size.width > 0 &&
          shown.map((id, i) => (
            <Paper
              key={i === 0 ? "first" : "second"}
              deck={id}
              others={others}
              scenes={other && i === 1 ? otherScenes : scenes}
              other={i === 1 ? other : undefined}
              spot={spot}
              measures={i === 0}
              margin={margin ? MARGIN : 0}
            >
              {margin && (
                <div className="sheet-margin">
                  <div className="sheet-choices">
                    <DeckChoice />
                    <div className="sheet-views">
                      <ViewChoice />
                      <ZoomButtons />
                    </div>
                    <LineKey />
                  </div>
                  <TitleBlock />
                </div>
              )}
              {twin && <DeckName deck={id} option={other && (i === 1 ? other.name : nameInHand)} />}
            </Paper>
          ))}
      </div>
      {!margin && (
        <div className="sheet-foot">
          {(!twin || other) && <DeckChoice />}
          <ViewChoice />
          <ZoomButtons />
        </div>
      )}
    </section>
  );
}

/** The decks of a pair of sheets, the lower one first; the pair stays while the deck in hand is one of them. */
function usePair(decks: Plan["decks"], deck: Id): readonly Id[] {
  const [pair, setPair] = useState<readonly Id[]>([]);
  if (pair.includes(deck) && pair.length === 2 && pair.every((id) => Object.hasOwn(decks, id))) return pair;
  const partner = partnerDeck({ decks }, deck);
  const height = (id: Id): number => decks[id]?.height ?? 0;
  const next = partner === undefined ? [deck] : [deck, partner].sort((a, b) => height(a) - height(b));
  if (next.length !== pair.length || next.some((id, i) => id !== pair[i])) setPair(next);
  return next;
}

/** Keys are heard wherever the focus is, but where something is typed. */
function useKeys(): void {
  const store = useEditorStore();
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing) return;
      const press = {
        key: event.key,
        code: event.code,
        mod: event.ctrlKey || event.metaKey,
        shift: event.shiftKey,
        // AltGr types characters of its own.
        alt: event.altKey && !event.getModifierState("AltGraph"),
      };
      const table = { tools: store.getState().tools, commands: COMMANDS, focus: focusOf(event.target) };
      if (pressKey(store, press, table)) event.preventDefault();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, [store]);
}

const TYPED_INTO = "input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]";
/** What keeps its keys to itself while it is open. */
const ON_ITS_OWN = "dialog, [role=dialog], [role=menu]";

function focusOf(target: EventTarget | null): Focus {
  if (!(target instanceof Element) || target.closest(`${TYPED_INTO}, ${ON_ITS_OWN}`)) return "field";
  return target === document.body || target.classList.contains("sheet-window") ? "sheet" : "control";
}
