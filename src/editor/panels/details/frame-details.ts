/** Details of decks and what stands on them: benches, gates, backdrops, labels. */
import { amend, amendRecord, type Edit, recordAt, refused } from "../../../plan/edit.js";
import type { Bench, Id, Plan } from "../../../plan/schema.js";
import { CAUTIONS } from "../../help/cautions.js";
import { consequenceOf } from "./consequence.js";
import { type Details, type Field, quantityText } from "./field.js";
import { nameOf, wallName } from "./names.js";
import { choice, deckChoices, deckField, number, optional, optionalName } from "./parts.js";
import { cornerFields } from "./room-details.js";
import { hingeFields } from "./trackwork-details.js";

export function deckDetails(plan: Plan, id: Id): Details | undefined {
  const deck = recordAt(plan, "decks", id);
  if (!deck) return undefined;
  const fields: Field[] = [
    {
      kind: "text",
      id: "name",
      label: "Name",
      value: deck.name,
      set: (now, name) => amendRecord(now, "decks", id, { name: name.trim() }),
    },
    number({ id: "height", label: "Height", note: "railhead above floor", value: deck.height }, (now, height) =>
      amendRecord(now, "decks", id, { height }, "Change deck height"),
    ),
    number(
      { id: "thickness", label: "Structure", note: "below the railhead", value: deck.thickness },
      (now, thickness) => amendRecord(now, "decks", id, { thickness }, "Change deck structure"),
    ),
    choice(
      { id: "kind", label: "Kind", value: deck.kind },
      [
        ["scenic", "scenic"],
        ["staging", "staging, hidden"],
      ],
      (now, kind) => amendRecord(now, "decks", id, { kind }),
    ),
    ...clearAbove(plan, id),
  ];
  const consequence = consequenceOf(plan, { collection: "decks", id }, "Changing this deck’s height");
  return {
    title: "Deck",
    about: deck.name,
    sections: [{ id: "deck", fields }],
    ...(consequence !== undefined && { consequence }),
    caution: CAUTIONS.structure,
  };
}

/** What is left between this railhead and the structure of the deck over it. */
function clearAbove(plan: Plan, id: Id): Field[] {
  const height = plan.decks[id]?.height ?? 0;
  const [above] = Object.values(plan.decks)
    .filter((deck) => deck.height > height)
    .sort((a, b) => a.height - b.height);
  if (!above) return [];
  const value = quantityText(above.height - above.thickness - height, "length", plan.units);
  return [{ kind: "fact", id: "clear", label: "Clear above", note: `under ${above.name}`, value }];
}

export function benchDetails(plan: Plan, id: Id): Details | undefined {
  const bench = recordAt(plan, "benches", id);
  if (!bench) return undefined;
  const { shape } = bench;
  const title = "shelf" in shape ? "Shelf" : "disc" in shape ? "Round bench" : "Bench";
  return {
    title,
    about: nameOf(plan, { collection: "benches", id }),
    sections: [
      {
        id: "bench",
        fields: [
          optionalName("benches", id, bench.name),
          deckField("benches", id, plan),
          ...shapeFields(plan, id, shape),
        ],
      },
    ],
    caution: CAUTIONS.structure,
  };
}

function shapeFields(plan: Plan, id: Id, shape: Bench["shape"]): Field[] {
  const put = (now: Plan, next: Bench["shape"]): Edit =>
    amendRecord(now, "benches", id, { shape: next }, "Change bench");
  if ("disc" in shape) {
    const { disc } = shape;
    const move = (now: Plan, part: { x?: number; y?: number }): Edit =>
      put(now, { ...shape, disc: { ...disc, centre: amend(disc.centre, part) } });
    return [
      number({ id: "radius", label: "Radius", value: disc.radius }, (now, radius) =>
        put(now, { ...shape, disc: amend(disc, { radius }) }),
      ),
      number({ id: "centre.x", label: "Centre", note: "from the left", value: disc.centre.x }, (now, x) =>
        move(now, { x }),
      ),
      number({ id: "centre.y", label: "and", note: "up the sheet", value: disc.centre.y }, (now, y) =>
        move(now, { y }),
      ),
    ];
  }
  if ("shelf" in shape) {
    const { shelf } = shape;
    const end = (key: "from" | "to", label: string): Field[] => [
      {
        kind: "choice",
        id: `${key}.wall`,
        label,
        value: String(shelf[key].wall),
        choices: plan.room.outline.map((_, i) => ({ value: String(i), name: wallName(plan, i) })),
        set: (now, wall) =>
          put(now, { ...shape, shelf: { ...shelf, [key]: amend(shelf[key], { wall: Number(wall) }) } }),
      },
      number({ id: `${key}.at`, label: "at", note: "from its first corner", value: shelf[key].at }, (now, at) =>
        put(now, { ...shape, shelf: { ...shelf, [key]: amend(shelf[key], { at }) } }),
      ),
    ];
    return [
      number({ id: "depth", label: "Depth", note: "from the wall", value: shelf.depth }, (now, depth) =>
        put(now, { ...shape, shelf: amend(shelf, { depth }) }),
      ),
      optional(
        { id: "round", label: "Corners", note: "inner radius", value: shelf.round, without: "square" },
        (now, round) => {
          const change: { round?: number | undefined } = { round };
          return put(now, { ...shape, shelf: amend<typeof shelf>(shelf, change) });
        },
      ),
      ...end("from", "From"),
      ...end("to", "To"),
    ];
  }
  return cornerFields(shape.outline, (now, outline) => put(now, { ...shape, outline: [...outline] }));
}

export function gateDetails(plan: Plan, id: Id): Details | undefined {
  const gate = recordAt(plan, "gates", id);
  if (!gate) return undefined;
  const fields: Field[] = [
    optionalName("gates", id, gate.name),
    choice(
      { id: "kind", label: "Kind", value: gate.kind },
      [
        ["lift-out", "lifts out"],
        ["lift", "lifts up"],
        ["swing", "swings"],
        ["drop", "drops down"],
      ],
      (now, kind) => amendRecord(now, "gates", id, { kind, ...(kind === "lift-out" && { hinge: undefined }) }),
    ),
    ...hingeFields(plan, id),
    deckField("gates", id, plan),
    ...cornerFields(gate.outline, (now, outline) => amendRecord(now, "gates", id, { outline: [...outline] })),
  ];
  const about = nameOf(plan, { collection: "gates", id });
  return {
    title: "Gate",
    about,
    sections: [{ id: "gate", fields }],
    caution: `${CAUTIONS.exits} ${CAUTIONS.duckunders}`,
  };
}

export function backdropDetails(plan: Plan, id: Id): Details | undefined {
  const backdrop = recordAt(plan, "backdrops", id);
  if (!backdrop) return undefined;
  const fields: Field[] = [
    optionalName("backdrops", id, backdrop.name),
    deckField("backdrops", id, plan),
    number({ id: "height", label: "Height", note: "above the railhead", value: backdrop.height }, (now, height) =>
      amendRecord(now, "backdrops", id, { height }),
    ),
    ...cornerFields(backdrop.line, (now, line) => amendRecord(now, "backdrops", id, { line: [...line] })),
  ];
  const about = nameOf(plan, { collection: "backdrops", id });
  return { title: "Backdrop", about, sections: [{ id: "backdrop", fields }] };
}

const NO_DECK = "every:";

export function labelDetails(plan: Plan, id: Id): Details | undefined {
  const label = recordAt(plan, "labels", id);
  if (!label) return undefined;
  const move = (now: Plan, part: { x?: number; y?: number }): Edit =>
    amendRecord(now, "labels", id, { at: amend(label.at, part) }, "Move label");
  const fields: Field[] = [
    {
      kind: "text",
      id: "text",
      label: "Text",
      value: label.text,
      set: (now, text) =>
        text.trim() === "" ? refused("a label says something") : amendRecord(now, "labels", id, { text: text.trim() }),
    },
    {
      kind: "choice",
      id: "deck",
      label: "Deck",
      value: label.deck ?? NO_DECK,
      choices: [{ value: NO_DECK, name: "every deck" }, ...deckChoices(plan)],
      set: (now, deck) => amendRecord(now, "labels", id, { deck: deck === NO_DECK ? undefined : deck }),
    },
    number({ id: "at.x", label: "At", note: "from the left", value: label.at.x }, (now, x) => move(now, { x })),
    number({ id: "at.y", label: "and", note: "up the sheet", value: label.at.y }, (now, y) => move(now, { y })),
    optional(
      {
        id: "heading",
        label: "Reads",
        note: "anticlockwise",
        quantity: "angle",
        value: label.heading,
        without: "level",
      },
      (now, heading) => amendRecord(now, "labels", id, { heading }),
    ),
  ];
  return { title: "Label", about: label.text, sections: [{ id: "label", fields }] };
}
