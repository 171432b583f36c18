/** The words a scene is written in: inks by name, batches of like things, and how one looks at the plan. */
import type { Box } from "../geometry/bounds.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Id, Plan } from "../plan/schema.js";
import type { DeckTone } from "./decks.js";
import type { Outline } from "./line-shapes.js";

/** An ink of the sheet by its name; themes say its colour. */
export type Ink =
  | "paper"
  | "ink"
  | "ink2"
  | "ink3"
  | "strongRule"
  | "wall"
  | "survey"
  | "carmine"
  | "tight"
  | "fails"
  | `${DeckTone}-${"tint" | "edge" | "ink"}`;

/** Like things: one ink, one weight. Weights and dashes in px, shapes in sheet millimetres. */
export interface Batch {
  readonly key: string;
  readonly shapes: readonly Outline[];
  readonly fill?: Ink | "hatch";
  readonly stroke?: Ink | "hatch";
  readonly weight?: number;
  readonly dash?: readonly number[];
  /** Takes away what was drawn before on the same layer. */
  readonly erases?: boolean;
}

export interface Look {
  readonly deck: Id;
  /** `alone`: nothing of the other decks. `through`: the others pale over it. `outline`: the others as a bare outline. */
  readonly others: "alone" | "through" | "outline";
  /** px per mm. */
  readonly scale: number;
  readonly visible: Box;
  /** Units of the marks on the floor. */
  readonly units: Plan["units"];
  /** Only these lines of the layout, with what stands on them; all where left out. */
  readonly lines?: ReadonlyMap<LineKey, Line>;
}
