/**
 * What a tool is: a small state machine of its own, without page or store. It is told what the hand does and answers
 * with its next state and what it wants done; what it shows is drawn by others. The same code runs under the sheet and
 * under the scripted driver of the tests.
 */
import type { Thing as Selected } from "../drafting/thing.js";
import type { UnderlayPlacement } from "../drafting/underlay.js";
import type { ScreenPoint, SheetPoint, Viewport } from "../drafting/viewport.js";
import type { Path } from "../geometry/path.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Edit } from "../plan/edit.js";
import type { Id, Plan } from "../plan/schema.js";

/** The stages of the work that have tools, in order. */
export const STAGES = ["survey", "frame", "lay", "grade"] as const;
export type Stage = (typeof STAGES)[number];

export type { Thing as Selected } from "../drafting/thing.js";

/** What a tool may look at. `plan` and `layout` are those of the last commit, without any preview. */
export interface ToolInput {
  readonly plan: Plan;
  readonly layout: Layout;
  /** Layout of the plan as it is shown: the preview's while there is one. */
  readonly shown: Layout;
  /** The deck in hand. */
  readonly deck: Id;
  readonly selection: readonly Selected[];
  /** Units that bare numbers are typed in. */
  readonly units: Plan["units"];
  readonly viewport: Viewport;
  /** How near the pointer must come to something to mean it, mm on the sheet (8 px, 22 by touch). */
  readonly reach: Millimetres;
  /** The picture under the sheet, where there is one. */
  readonly underlay?: UnderlayPlacement;
}

export type ToolEvent =
  | {
      readonly type: "down" | "move" | "up";
      readonly at: SheetPoint;
      readonly screen: ScreenPoint;
      readonly shift: boolean;
      readonly alt: boolean;
      readonly touch: boolean;
      /** 2 for a double click. */
      readonly clicks: number;
    }
  /** A key by its name, as KeyboardEvent.key gives it: "a", "Enter", "Backspace", "Tab", "ArrowLeft". Esc is `cancel`. */
  | { readonly type: "key"; readonly key: string; readonly shift: boolean; readonly alt: boolean }
  /** One of the tool's choices is set otherwise. */
  | { readonly type: "choose"; readonly choice: string; readonly value: string }
  | { readonly type: "cancel" };

export type Effect =
  /** Shown, and taken back by the next preview, commit or abandon. A refused edit is said in the status line. */
  | { readonly do: "preview"; readonly edit: Edit }
  /** One step of undo. Commits with the same key that follow one another are one step. */
  | { readonly do: "commit"; readonly edit: Edit; readonly key?: string }
  | { readonly do: "abandon" }
  | { readonly do: "select"; readonly selection: readonly Selected[] }
  | { readonly do: "say"; readonly text: string }
  | { readonly do: "tool"; readonly tool: string }
  | { readonly do: "deck"; readonly deck: Id }
  /** The picture under the sheet lies otherwise, or is taken away. It is no part of the plan, and of no undo. */
  | { readonly do: "underlay"; readonly placement: UnderlayPlacement | undefined };

export interface Outcome<S> {
  readonly state: S;
  readonly effects?: readonly Effect[];
}

/** draft: what would be laid. refused: what stops it. selected: in hand. hover: under the pointer. guide: tangents, centres, reaches. */
export type OverlayStyle = "draft" | "refused" | "selected" | "hover" | "guide";

/** What a tool lays over the sheet. Everything in sheet millimetres; weights and sizes are the painter's. */
export type Overlay =
  | { readonly kind: "path"; readonly path: Path; readonly style: OverlayStyle }
  | {
      readonly kind: "line";
      readonly points: readonly Point[];
      readonly closed?: boolean;
      readonly style: OverlayStyle;
    }
  | {
      readonly kind: "handle";
      readonly at: Point;
      readonly shape: "square" | "ring";
      readonly name: string;
      readonly hot?: boolean;
    }
  /** Where the pointer has been caught, and by what. */
  | { readonly kind: "snap"; readonly at: Point; readonly to: string }
  | { readonly kind: "label"; readonly at: Point; readonly text: string; readonly style?: "draft" | "refused" };

/** Something to choose from while a tool is in hand, as the class of track it lays. */
export interface Choice {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
}

export interface ToolShow {
  readonly overlay: readonly Overlay[];
  /** The status line: what to do now, and which keys do what. */
  readonly hint: string;
  /** A number being typed: what it will set, and what has been typed so far. */
  readonly entry?: {
    readonly label: string;
    readonly text: string;
    readonly error?: string;
    /** A name is being typed: letters belong to it, and shortcuts are silent. */
    readonly letters?: boolean;
  };
  readonly choices?: readonly Choice[];
  readonly cursor?: "default" | "crosshair" | "move" | "grab" | "not-allowed";
}

export interface Tool<S = unknown> {
  readonly id: string;
  readonly stage: Stage | "any";
  /** Its name in the rail. The trade's word or plain English. */
  readonly name: string;
  /** One key that takes it in hand while its stage is open. */
  readonly key: string;
  begin(input: ToolInput): S;
  handle(state: S, event: ToolEvent, input: ToolInput): Outcome<S>;
  show(state: S, input: ToolInput): ToolShow;
}
