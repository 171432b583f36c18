/**
 * The editor's state and all that changes it, without page or React: the plan's history and what follows from it, what
 * is in hand, and where one looks. Panels and sheet read it and call it; the tests drive it.
 *
 * Always holds: the plan changes through an `Edit` only, and every change is one step of undo; previews leave no trace;
 * `layout` and `readings` follow from the plan that is shown (readings a moment later, as the reader takes them).
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { UnderlayPlacement } from "../drafting/underlay.js";
import { fit, sheetLength, type Viewport } from "../drafting/viewport.js";
import type { Box } from "../geometry/bounds.js";
import { deriveLayout } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import type { LinePlace } from "../layout/line.js";
import { optionOf } from "../plan/option-records.js";
import { asOption, changedForAllText } from "../plan/option-in-hand.js";
import type { Edit } from "../plan/edit.js";
import * as past from "../plan/history.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Reading } from "../readings/reading.js";
import type { MakeReader } from "./reader/reader.js";
import { ROOM_MARGIN, roomBox } from "./room-box.js";
import type { Effect, Overlay, Selected, Stage, Tool, ToolEvent, ToolInput, ToolShow } from "./tool.js";

export type DeckView = "one" | "see-through" | "twin";
export type Theme = "light" | "dark";

/** How near the pointer must come, px (LOOK: track is hit within 8 px, by touch within 22). */
const REACH = { pointer: 8, touch: 22 } as const;

export interface EditorState {
  readonly history: past.History;
  /** The plan shown: the preview's while there is one. */
  readonly plan: Plan;
  /** Layout of the plan shown, and of the last commit. */
  readonly layout: Layout;
  readonly settled: Layout;
  readonly readings: readonly Reading[];
  /** Readings of an earlier plan, while new ones are on their way. */
  readonly readingsLate: boolean;
  /** The plan as it stands in its file; another identity means unsaved changes. */
  readonly saved: Plan | undefined;
  readonly fileName: string;
  readonly stage: Stage;
  /** Every tool there is, the one in hand when nothing else is first. */
  readonly tools: readonly Tool[];
  readonly tool: string;
  readonly show: ToolShow;
  readonly deck: Id;
  readonly deckView: DeckView;
  readonly viewport: Viewport;
  readonly selection: readonly Selected[];
  readonly units: Plan["units"];
  readonly theme: Theme;
  readonly touch: boolean;
  /** Said in the status line until the next thing happens. */
  readonly said: string;
  /** The place on the track under the pointer, on the sheet or in the profile; shown on both. */
  readonly hover: LinePlace | undefined;
  /** A picture under the sheet: where it can be loaded from, and how it lies. No part of the plan. */
  readonly underlay: Underlay | undefined;
  /** What a panel lays over the sheet beside what the tool shows, as a route that is looked at. */
  readonly laidOver: readonly Overlay[];
  /** Why the plan can only be read now; said when something would change it. */
  readonly locked: string | undefined;
}

export interface Underlay {
  readonly url: string;
  readonly placement: UnderlayPlacement;
}

export interface EditorActions {
  readonly open: (plan: Plan, fileName: string, saved: boolean) => void;
  /** The plan has been written to its file; the one named, where more has been done since. */
  readonly markSaved: (fileName?: string, plan?: Plan) => void;
  /** Applies an edit as one step, what it adds belonging to the option in hand; a refused one is said. Returns whether it was done. */
  readonly edit: (edit: Edit, key?: string) => boolean;
  /** Shows an edit without making it, as while something is dragged in a panel; a refused one is said. */
  readonly preview: (edit: Edit) => void;
  /** Gives the preview up. */
  readonly abandon: () => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly dispatch: (event: ToolEvent) => void;
  readonly takeTool: (id: string) => void;
  /** Tools that came later, in their order; the first stays what it is. */
  readonly setTools: (tools: readonly Tool[]) => void;
  readonly openStage: (stage: Stage) => void;
  readonly select: (selection: readonly Selected[]) => void;
  readonly setDeck: (deck: Id) => void;
  readonly setDeckView: (view: DeckView) => void;
  readonly setViewport: (viewport: Viewport) => void;
  readonly setUnits: (units: Plan["units"]) => void;
  readonly setTheme: (theme: Theme) => void;
  readonly say: (text: string) => void;
  readonly setHover: (place: LinePlace | undefined) => void;
  readonly setUnderlay: (underlay: Underlay | undefined) => void;
  readonly setLaidOver: (laidOver: readonly Overlay[]) => void;
  /** Nothing changes the plan any more, for the reason given; undefined ends it. Meanwhile another plan may be shown. */
  readonly lock: (why: string | undefined, shown?: { readonly name: string; readonly plan: Plan }) => void;
  readonly zoomToFit: () => void;
  readonly zoomToBox: (box: Box) => void;
}

export type EditorStore = StoreApi<EditorState & EditorActions>;

export interface EditorOptions {
  readonly plan: Plan;
  readonly fileName?: string;
  readonly tools: readonly Tool[];
  /** Who takes the readings. */
  readonly reader: MakeReader;
  readonly size?: { readonly width: number; readonly height: number };
  readonly theme?: Theme;
}

const NO_SHOW: ToolShow = { overlay: [], hint: "" };

export function createEditor(options: EditorOptions): EditorStore {
  const first = options.tools[0];
  if (!first) throw new Error("an editor needs at least one tool");
  let tool: Tool = first;
  let toolState: unknown;

  let begin = (): void => {};

  const store = createStore<EditorState & EditorActions>()((set, get) => {
    const inputOf = (touch = get().touch): ToolInput => {
      const { history, settled, layout: shown, deck, selection, units, viewport, underlay } = get();
      const reach = sheetLength(viewport, touch ? REACH.touch : REACH.pointer);
      const base = { plan: history.plan, layout: settled, shown, deck, selection, units, viewport, reach };
      return underlay ? { ...base, underlay: underlay.placement } : base;
    };
    const refreshShow = (): void => {
      // The first tool begins when it is first looked at: before that there is no state to begin from.
      toolState ??= tool.begin(inputOf());
      set({ show: tool.show(toolState, inputOf()) });
    };

    const reader = options.reader((readings, of) => {
      set({ readings, readingsLate: of !== get().plan });
    });
    const readAgain = (): void => {
      const { plan, layout } = get();
      set({ readingsLate: true });
      reader.read(plan, layout);
    };

    /** Everything that follows from another history. */
    const adopt = (history: past.History, extra: Partial<EditorState> = {}): void => {
      const before = get();
      const plan = past.shownPlan(history);
      const layout = plan === before.plan ? before.layout : deriveLayout(plan, before.layout);
      const settled =
        history.plan === before.history.plan
          ? before.settled
          : history.plan === plan
            ? layout
            : deriveLayout(history.plan, before.settled);
      const deck = Object.hasOwn(plan.decks, before.deck) ? before.deck : (Object.keys(plan.decks)[0] ?? "");
      const selection = before.selection.filter((item) => stillThere(plan, item));
      const kept = selection.length === before.selection.length ? before.selection : selection;
      set({ history, plan, layout, settled, deck, selection: kept, ...extra });
      if (layout !== before.layout || plan !== before.plan) readAgain();
    };

    /** Says why, where nothing may change. */
    const refusedNow = (): boolean => {
      const { locked } = get();
      if (locked !== undefined) set({ said: locked });
      return locked !== undefined;
    };

    const layUnderlay = (placement: UnderlayPlacement | undefined): void => {
      const { underlay } = get();
      if (underlay) set({ underlay: placement && { ...underlay, placement } });
    };

    const apply = (effects: readonly Effect[]): void => {
      for (const effect of effects) {
        if (effect.do === "preview") get().preview(effect.edit);
        else if (effect.do === "commit") get().edit(effect.edit, effect.key);
        else if (effect.do === "abandon") get().abandon();
        else if (effect.do === "select") set({ selection: effect.selection });
        else if (effect.do === "say") set({ said: effect.text });
        else if (effect.do === "deck") get().setDeck(effect.deck);
        else if (effect.do === "underlay") layUnderlay(effect.placement);
        else get().takeTool(effect.tool);
      }
    };

    const plan = options.plan;
    const layout = deriveLayout(plan);
    const size = options.size ?? { width: 1000, height: 700 };
    const window: Viewport = { centre: { x: 0, y: 0 }, scale: 0.1, ...size };
    begin = readAgain;
    return {
      history: past.startHistory(plan),
      plan,
      layout,
      settled: layout,
      readings: [],
      readingsLate: true,
      saved: plan,
      fileName: options.fileName ?? "",
      stage: "lay",
      tools: options.tools,
      tool: tool.id,
      show: NO_SHOW,
      deck: firstDeck(plan),
      deckView: "see-through",
      viewport: fit(window, roomBox(plan), ROOM_MARGIN),
      selection: [],
      units: plan.units,
      theme: options.theme ?? "light",
      touch: false,
      said: "",
      hover: undefined,
      underlay: undefined,
      laidOver: [],
      locked: undefined,

      open(next, fileName, saved) {
        const fresh = deriveLayout(next);
        set({
          history: past.startHistory(next),
          plan: next,
          layout: fresh,
          settled: fresh,
          saved: saved ? next : undefined,
          fileName,
          deck: firstDeck(next),
          selection: [],
          units: next.units,
          said: "",
          hover: undefined,
          underlay: undefined,
          laidOver: [],
          locked: undefined,
          viewport: fit(get().viewport, roomBox(next), ROOM_MARGIN),
        });
        toolState = tool.begin(inputOf());
        readAgain();
        refreshShow();
      },
      markSaved(fileName, plan) {
        set({ saved: plan ?? get().history.plan, ...(fileName !== undefined && { fileName }) });
      },
      edit(wanted, key) {
        if (refusedNow()) return false;
        const before = get().history.plan;
        const edit = asOption(wanted, before, before.option);
        if (!edit.ok) {
          adopt(past.abandon(get().history), { said: edit.message });
          return false;
        }
        const said = before.option === undefined ? "" : changedForAllText(before, edit.plan);
        adopt(past.commit(get().history, edit.name, edit.plan, key), { said });
        refreshShow();
        return true;
      },
      preview(wanted) {
        if (refusedNow()) return;
        const { plan: before } = get().history;
        const edit = asOption(wanted, before, before.option);
        if (edit.ok) adopt(past.preview(get().history, edit.name, edit.plan));
        else set({ said: edit.message });
      },
      abandon() {
        if (get().locked === undefined) adopt(past.abandon(get().history));
      },
      undo() {
        if (refusedNow()) return;
        adopt(past.undo(get().history));
        toolState = tool.begin(inputOf());
        refreshShow();
      },
      redo() {
        if (refusedNow()) return;
        adopt(past.redo(get().history));
        toolState = tool.begin(inputOf());
        refreshShow();
      },
      dispatch(event) {
        const touch = "touch" in event ? event.touch : get().touch;
        if (touch !== get().touch) set({ touch });
        if (event.type === "down" && get().said !== "") set({ said: "" });
        toolState ??= tool.begin(inputOf());
        const used = tool;
        const { state, effects = [] } = tool.handle(toolState, event, inputOf(touch));
        toolState = state;
        apply(effects);
        // A tool that handed over to another must not overwrite the other's state.
        if (used === tool) refreshShow();
      },
      takeTool(id) {
        const next = get().tools.find((one) => one.id === id);
        if (!next) return;
        if (get().history.preview) get().abandon();
        tool = next;
        const stage = next.stage === "any" ? get().stage : next.stage;
        set({ tool: id, stage, said: "" });
        toolState = tool.begin(inputOf());
        refreshShow();
      },
      setTools: (tools) => set({ tools }),
      openStage(stage) {
        set({ stage });
        if (tool.stage !== "any" && tool.stage !== stage) get().takeTool(first.id);
      },
      select(selection) {
        set({ selection });
        refreshShow();
      },
      setDeck(deck) {
        if (!Object.hasOwn(get().plan.decks, deck)) return;
        set({ deck });
        refreshShow();
      },
      setDeckView: (deckView) => set({ deckView }),
      setViewport(viewport) {
        set({ viewport });
        refreshShow();
      },
      setUnits(units) {
        set({ units });
        refreshShow();
      },
      setTheme: (theme) => set({ theme }),
      say: (said) => set({ said }),
      setHover(hover) {
        const before = get().hover;
        if (hover?.line !== before?.line || hover?.s !== before?.s) set({ hover });
      },
      setUnderlay(underlay) {
        set({ underlay });
        refreshShow();
      },
      setLaidOver: (laidOver) => set({ laidOver }),
      lock(locked, shown) {
        const free = past.abandon(get().history);
        adopt(shown ? past.preview(free, shown.name, shown.plan) : free, { locked });
        toolState = tool.begin(inputOf());
        refreshShow();
      },
      zoomToFit() {
        get().setViewport(fit(get().viewport, roomBox(get().plan), ROOM_MARGIN));
      },
      zoomToBox(box) {
        get().setViewport(fit(get().viewport, box, ROOM_MARGIN));
      },
    };
  });
  begin();
  return store;
}

/** The lowest scenic deck. */
function firstDeck(plan: Plan): Id {
  const decks = Object.entries(plan.decks).sort(([, a], [, b]) => a.height - b.height);
  return (decks.find(([, deck]) => deck.kind === "scenic") ?? decks[0])?.[0] ?? "";
}

function stillThere(plan: Plan, item: Selected): boolean {
  if (item.kind === "record") {
    if (!Object.hasOwn(plan[item.collection], item.id)) return false;
    if (![undefined, plan.option].includes(optionOf(plan, item))) return false;
    return item.leg === undefined || item.leg < (plan.tracks[item.id]?.legs.length ?? 0);
  }
  if (item.kind === "wall") return item.wall < plan.room.outline.length;
  return Object.hasOwn(item.kind === "opening" ? plan.room.openings : plan.room.obstacles, item.id);
}
