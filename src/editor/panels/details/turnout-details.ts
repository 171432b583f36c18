/** Details of turnouts, their measured templates, and height pins. */
import type { Layout } from "../../../layout/layout.js";
import { heightOn } from "../../../layout/place-names.js";
import { amendRecord, recordAt, refused } from "../../../plan/edit.js";
import type { Id, Plan, Turnout } from "../../../plan/schema.js";
import { flipTurnout, moveTurnout, setPinHeight, movePin, sizeTurnout } from "../../../plan/turnout-edits.js";
import { consequenceOf } from "./consequence.js";
import { type Details, type Field, quantityText } from "./field.js";
import { nameOf, trackName } from "./names.js";
import { choice, deckChoices, fact, number, optional, optionalName } from "./parts.js";

const BY_NUMBER = "number:";

export function turnoutDetails(plan: Plan, layout: Layout, id: Id): Details | undefined {
  const turnout = recordAt(plan, "turnouts", id);
  if (!turnout) return undefined;
  const placed = layout.turnouts.get(id);
  const size =
    turnout.template !== undefined
      ? nameOf(plan, { collection: "templates", id: turnout.template })
      : turnout.number === undefined
        ? ""
        : `No. ${turnout.number} `;
  const fields: Field[] = [
    optionalName("turnouts", id, turnout.name),
    ...(turnout.hand === "wye" && turnout.at === undefined
      ? []
      : [
          number(
            { id: "at", label: "Points at", note: "along the track", value: turnout.at ?? placed?.at },
            (now, at) => moveTurnout(now, id, { at }),
          ),
        ]),
    ...sizeFields(plan, id, turnout),
    handField(id, turnout),
    choice(
      { id: "facing", label: "Facing", value: turnout.facing },
      [
        ["with", "trains going the track’s way"],
        ["against", "trains coming back along it"],
      ],
      (now, facing) => amendRecord(now, "turnouts", id, { facing }, "Turn turnout round"),
    ),
    ...(placed
      ? [
          fact("radius", "Lead radius", quantityText(placed.radius, "length", plan.units), "follows"),
          fact("frog", "Frog angle", quantityText((placed.angle * 180) / Math.PI, "angle", plan.units), "follows"),
        ]
      : []),
  ];
  const consequence = consequenceOf(plan, { collection: "turnouts", id }, "Moving this turnout");
  return {
    title: turnout.hand === "wye" ? "Wye" : "Turnout",
    about: `${size}${turnout.hand} on ${trackName(plan, turnout.on)}`.trim(),
    sections: [
      { id: "turnout", fields, actions: flips(id, turnout) },
      ...(turnout.template === undefined
        ? []
        : [{ id: "made-to", title: `Made to ${size}`, fields: [], templates: turnout.template }]),
    ],
    ...(consequence !== undefined && { consequence }),
  };
}

function sizeFields(plan: Plan, id: Id, turnout: Turnout): Field[] {
  const templates = Object.entries(plan.templates);
  const byTemplate: Field[] =
    templates.length === 0
      ? []
      : [
          choice(
            { id: "template", label: "Made to", value: turnout.template ?? BY_NUMBER },
            [[BY_NUMBER, "its frog number"], ...templates.map(([key, { name }]) => [key, name] as const)],
            (now, template) =>
              sizeTurnout(now, id, template === BY_NUMBER ? { number: turnout.number ?? 6 } : { template }),
          ),
        ];
  if (turnout.template !== undefined) return byTemplate;
  return [
    ...byTemplate,
    number(
      { id: "number", label: "Number", note: "of the frog", quantity: "number", value: turnout.number },
      (now, value) => sizeTurnout(now, id, { number: value }),
    ),
  ];
}

function handField(id: Id, turnout: Turnout): Field {
  return choice(
    { id: "hand", label: "Hand", note: "seen from the points", value: turnout.hand },
    [
      ["left", "left"],
      ["right", "right"],
      ["wye", "wye"],
    ],
    (now, hand) => amendRecord(now, "turnouts", id, { hand }, "Flip turnout"),
  );
}

const flips = (id: Id, turnout: Turnout) => [
  ...(turnout.hand === "wye"
    ? []
    : [{ id: "hand", name: "Flip hand", do: (now: Plan) => flipTurnout(now, id, "hand") }]),
  { id: "facing", name: "Turn round", do: (now: Plan) => flipTurnout(now, id, "facing") },
];

export function templateDetails(plan: Plan, id: Id): Details | undefined {
  const template = recordAt(plan, "templates", id);
  if (!template) return undefined;
  const change = (now: Plan, part: Partial<typeof template>) => amendRecord(now, "templates", id, part);
  const fields: Field[] = [
    {
      kind: "text",
      id: "name",
      label: "Name",
      value: template.name,
      set: (now, name) =>
        name.trim() === "" ? refused("a measured turnout has a name") : change(now, { name: name.trim() }),
    },
    number({ id: "length", label: "Length", note: "over all", value: template.length }, (now, length) =>
      change(now, { length }),
    ),
    number({ id: "points", label: "Points", note: "from the joint", value: template.points }, (now, points) =>
      change(now, { points }),
    ),
    number({ id: "angle", label: "Angle", quantity: "angle", value: template.angle }, (now, angle) =>
      change(now, { angle }),
    ),
    number({ id: "radius", label: "Radius", value: template.radius }, (now, radius) => change(now, { radius })),
    optional(
      { id: "diverging", label: "Diverging", value: template.diverging, without: "as the through route" },
      (now, diverging) => amendRecord(now, "templates", id, { diverging }),
    ),
  ];
  return { title: "Measured turnout", about: template.name, sections: [{ id: "template", fields, templates: id }] };
}

const OWN_HEIGHT = "own:";

export function pinDetails(plan: Plan, layout: Layout, id: Id): Details | undefined {
  const pin = recordAt(plan, "pins", id);
  if (!pin) return undefined;
  const height = pin.height ?? plan.decks[pin.deck ?? ""]?.height;
  const now = height ?? heightOn(layout, `track:${pin.track}`, pin.at);
  const fields: Field[] = [
    {
      kind: "choice",
      id: "deck",
      label: "Holds",
      value: pin.deck ?? OWN_HEIGHT,
      choices: [{ value: OWN_HEIGHT, name: "a height of its own" }, ...deckChoices(plan)],
      set: (plan, value) =>
        value === OWN_HEIGHT ? setPinHeight(plan, id, { height: now }) : setPinHeight(plan, id, { deck: value }),
    },
    number({ id: "height", label: "Height", note: "railhead above floor", value: height }, (plan, value) =>
      setPinHeight(plan, id, { height: value }),
    ),
    number({ id: "at", label: "At", note: "along the track", value: pin.at }, (plan, at) =>
      at < 0 ? refused("a pin lies on its track") : movePin(plan, id, at),
    ),
  ];
  return {
    title: "Height pin",
    about: `on ${trackName(plan, pin.track)}`,
    sections: [{ id: "pin", fields }],
    consequence: "The track between this pin and the next takes an even grade.",
  };
}
