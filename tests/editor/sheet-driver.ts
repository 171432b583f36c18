/**
 * A hand at the sheet, scripted: the same events the page sends, sent to the same store. Points are sheet millimetres.
 * Readings are left out; a test that wants them opens the sheet with `readings`.
 */
import { toScreen } from "../../src/drafting/viewport.js";
import { readAtOnce } from "../../src/editor/reader/here.js";
import type { MakeReader } from "../../src/editor/reader/reader.js";
import { createEditor, type EditorActions, type EditorState, type EditorStore } from "../../src/editor/store.js";
import type { Selected, Stage, Tool } from "../../src/editor/tool.js";
import { TOOLS } from "../../src/editor/tools/index.js";
import type { Id, Plan } from "../../src/plan/schema.js";

export interface Held {
  readonly shift?: boolean;
  readonly alt?: boolean;
  readonly touch?: boolean;
  readonly clicks?: number;
}

export interface OpenOptions {
  readonly readings?: boolean;
  readonly tools?: readonly Tool[];
}

export class SheetDriver {
  private at = { x: 0, y: 0 };
  private held: Held = {};

  constructor(readonly store: EditorStore) {}

  get state(): EditorState & EditorActions {
    return this.store.getState();
  }
  /** The plan of the last commit. */
  get plan(): Plan {
    return this.state.history.plan;
  }

  stage(stage: Stage): this {
    this.state.openStage(stage);
    return this;
  }
  take(tool: string): this {
    this.state.takeTool(tool);
    return this;
  }
  deck(id: Id): this {
    this.state.setDeck(id);
    return this;
  }
  select(...selection: readonly Selected[]): this {
    this.state.select(selection);
    return this;
  }
  selectTrack(id: Id): this {
    return this.select({ kind: "record", collection: "tracks", id });
  }

  pointerMove(x: number, y: number, held: Held = this.held): this {
    return this.pointer("move", x, y, held);
  }
  pointerDown(x: number, y: number, held: Held = {}): this {
    this.held = held;
    return this.pointer("down", x, y, held);
  }
  pointerUp(x = this.at.x, y = this.at.y): this {
    this.pointer("up", x, y, this.held);
    this.held = {};
    return this;
  }
  click(x: number, y: number, held: Held = {}): this {
    return this.pointerMove(x, y, held).pointerDown(x, y, held).pointerUp();
  }
  doubleClick(x: number, y: number, held: Held = {}): this {
    return this.click(x, y, held).click(x, y, { ...held, clicks: 2 });
  }
  drag(from: readonly [number, number], to: readonly [number, number], steps = 4, held: Held = {}): this {
    this.pointerMove(...from, held).pointerDown(...from, held);
    for (let i = 1; i <= steps; i++) {
      this.pointerMove(from[0] + ((to[0] - from[0]) * i) / steps, from[1] + ((to[1] - from[1]) * i) / steps, held);
    }
    return this.pointerUp();
  }

  key(key: string, held: Held = {}): this {
    this.state.dispatch({ type: "key", key, shift: held.shift ?? false, alt: held.alt ?? false });
    return this;
  }
  type(text: string): this {
    for (const letter of text) this.key(letter);
    return this;
  }
  choose(choice: string, value: string): this {
    this.state.dispatch({ type: "choose", choice, value });
    return this;
  }
  cancel(): this {
    this.state.dispatch({ type: "cancel" });
    return this;
  }
  undo(): this {
    this.state.undo();
    return this;
  }
  redo(): this {
    this.state.redo();
    return this;
  }
  /** Until there is nothing left to undo. */
  undoAll(): this {
    this.state.abandon();
    while (this.state.history.past) this.state.undo();
    return this;
  }

  private pointer(type: "down" | "move" | "up", x: number, y: number, held: Held): this {
    this.at = { x, y };
    this.state.dispatch({
      type,
      at: { x, y },
      screen: toScreen(this.state.viewport, { x, y }),
      shift: held.shift ?? false,
      alt: held.alt ?? false,
      touch: held.touch ?? false,
      clicks: held.clicks ?? 1,
    });
    return this;
  }
}

/** Takes none. */
const NEVER: MakeReader = () => ({ read: () => {} });

export function openSheet(plan: Plan, { readings = false, tools = TOOLS }: OpenOptions = {}): SheetDriver {
  return new SheetDriver(createEditor({ plan, tools, reader: readings ? readAtOnce : NEVER }));
}
