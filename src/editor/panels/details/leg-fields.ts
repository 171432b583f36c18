/** The numbers of one leg of a track. What is left out follows the track's class, and says so. */
import { limitsOf } from "../../../plan/class-limits.js";
import { amend, type Edit, refused } from "../../../plan/edit.js";
import { type Anchor, type Id, type Leg, PATH_FAMILIES, type Plan } from "../../../plan/schema.js";
import { setLeg } from "../../../plan/track-edits.js";
import { type Field, quantityText } from "./field.js";
import { nameOf, trackName } from "./names.js";
import { choice, number, optional } from "./parts.js";

type LegOf<K extends string> = Extract<Leg, Readonly<Record<K, unknown>>>;

export function legFields(plan: Plan, id: Id, leg: Leg, index: number): Field[] {
  const put = (now: Plan, next: Leg): Edit => setLeg(now, id, index, next);
  const limits = limitsOf(plan, plan.tracks[id]?.class ?? "main");
  const least = `min ${quantityText(limits.radius.value, "length", plan.units)}, ${plan.tracks[id]?.class ?? ""}`;
  const eased = quantityText(limits.easement.value, "length", plan.units);
  if ("straight" in leg) {
    return [
      number({ id: "straight", label: "Length", value: leg.straight }, (now, straight) => put(now, { straight })),
    ];
  }
  if ("curve" in leg) return curveFields(leg, put, least, eased);
  if ("toward" in leg) {
    const { toward } = leg;
    const change = (now: Plan, part: Partial<typeof toward>): Edit => put(now, { ...leg, toward: amend(toward, part) });
    return [
      number({ id: "toward.x", label: "To", note: "from the left", value: toward.x }, (now, x) => change(now, { x })),
      number({ id: "toward.y", label: "and", note: "up the sheet", value: toward.y }, (now, y) => change(now, { y })),
      radiusField(toward.radius, least, (now, radius) => change(now, { radius })),
      optional(
        { id: "easement", label: "Easement", note: "each end", value: toward.easement, without: `${eased}, by class` },
        (now, easement) => put(now, { ...leg, toward: without(toward, "easement", easement) }),
      ),
    ];
  }
  if ("join" in leg) return joinFields(plan, leg, put, least, eased);
  if ("beside" in leg) return besideFields(plan, leg, put);
  return leg.flex.flatMap((point, i) => {
    const label = ["Leaves toward", "Arrives from", "Ends at"][i] ?? "";
    const change = (now: Plan, part: { readonly x?: number; readonly y?: number }): Edit => {
      const [a, b, c] = leg.flex.map((p, j) => (j === i ? amend(p, part) : p));
      return a && b && c ? put(now, { ...leg, flex: [a, b, c] }) : refused("the curve has lost a point");
    };
    return [
      number({ id: `flex.${i}.x`, label, note: "from the left", value: point.x }, (now, x) => change(now, { x })),
      number({ id: `flex.${i}.y`, label: "and", note: "up the sheet", value: point.y }, (now, y) => change(now, { y })),
    ];
  });
}

type Put = (plan: Plan, leg: Leg) => Edit;

const radiusField = (value: number, note: string, set: (plan: Plan, radius: number) => Edit): Field =>
  number({ id: "radius", label: "Radius", note, value }, set);

/** The object with one property set, or taken out where it is undefined. */
function without<T extends object, K extends keyof T>(value: T, key: K, next: T[K] | undefined): T {
  const change: { readonly [P in keyof T]?: T[P] | undefined } = {};
  Reflect.set(change, key, next);
  return amend(value, change);
}

function curveFields(leg: LegOf<"curve">, put: Put, least: string, eased: string): Field[] {
  const { curve } = leg;
  const change = (now: Plan, part: Partial<typeof curve>): Edit => put(now, { ...leg, curve: amend(curve, part) });
  const ease = (now: Plan, easement: (typeof curve)["easement"]): Edit =>
    put(now, { ...leg, curve: without(curve, "easement", easement) });
  const { easement } = curve;
  const easements: Field[] =
    typeof easement === "object"
      ? [
          number({ id: "easement.in", label: "Easement in", value: easement.in }, (now, value) =>
            ease(now, { ...easement, in: value }),
          ),
          number({ id: "easement.out", label: "Easement out", value: easement.out }, (now, value) =>
            ease(now, { ...easement, out: value }),
          ),
        ]
      : [
          optional(
            { id: "easement", label: "Easement", note: "each end", value: easement, without: `${eased}, by class` },
            ease,
          ),
        ];
  return [
    radiusField(curve.radius, least, (now, radius) => change(now, { radius })),
    number(
      { id: "angle", label: "Angle", note: turns(curve.angle), quantity: "angle", value: curve.angle },
      (now, angle) => change(now, { angle }),
    ),
    choice(
      { id: "hand", label: "Hand", value: curve.hand },
      [
        ["left", "left"],
        ["right", "right"],
      ],
      (now, hand) => change(now, { hand }),
    ),
    ...easements,
  ];
}

/** Turns of a helix. */
const turns = (angle: number): string => (angle >= 360 ? `${(angle / 360).toFixed(2)} turns` : "");

const BEST = "best";

function joinFields(plan: Plan, leg: LegOf<"join">, put: Put, least: string, eased: string): Field[] {
  const { join } = leg;
  const change = (now: Plan, part: { readonly [K in keyof typeof join]?: (typeof join)[K] | undefined }): Edit =>
    put(now, { ...leg, join: amend(join, part) });
  return [
    { kind: "fact", id: "to", label: "To", value: anchorName(plan, join.to) },
    radiusField(join.radius, least, (now, radius) => change(now, { radius })),
    optional(
      { id: "easement", label: "Easement", note: "each end", value: join.easement, without: `${eased}, by class` },
      (now, easement) => change(now, { easement }),
    ),
    optional(
      {
        id: "straight",
        label: "Straight",
        note: "between reverse curves",
        value: join.straight,
        without: "none asked",
      },
      (now, straight) => change(now, { straight }),
    ),
    choice(
      { id: "family", label: "Shape", note: "left, straight, right", value: join.family ?? BEST },
      [[BEST, "the shortest"], ...PATH_FAMILIES.map((family) => [family, family] as const)],
      (now, family) => change(now, { family: family === BEST ? undefined : family }),
    ),
  ];
}

function besideFields(plan: Plan, leg: LegOf<"beside">, put: Put): Field[] {
  const { beside } = leg;
  const change = (now: Plan, part: { readonly [K in keyof typeof beside]?: (typeof beside)[K] | undefined }): Edit =>
    put(now, { ...leg, beside: amend(beside, part) });
  return [
    { kind: "fact", id: "to", label: "Beside", value: trackName(plan, beside.track) },
    choice(
      { id: "side", label: "Side", value: beside.side },
      [
        ["left", "left of it"],
        ["right", "right of it"],
      ],
      (now, side) => change(now, { side }),
    ),
    number({ id: "spacing", label: "Spacing", note: "on the straight", value: beside.spacing }, (now, spacing) =>
      change(now, { spacing }),
    ),
    optional(
      { id: "curveSpacing", label: "", note: "on curves", value: beside.curveSpacing, without: "the same" },
      (now, curveSpacing) => change(now, { curveSpacing }),
    ),
    optional({ id: "from", label: "From", note: "along it", value: beside.from, without: "its start" }, (now, from) =>
      change(now, { from }),
    ),
    optional({ id: "to.at", label: "To", note: "along it", value: beside.to, without: "its end" }, (now, to) =>
      change(now, { to }),
    ),
  ];
}

export function anchorName(plan: Plan, anchor: Anchor): string {
  if ("pose" in anchor) return "a place on the sheet";
  if ("turnout" in anchor) return nameOf(plan, { collection: "turnouts", id: anchor.turnout });
  if ("track" in anchor) return `${anchor.end} of ${trackName(plan, anchor.track)}`;
  if ("turntable" in anchor)
    return `stall ${anchor.stall + 1} of ${nameOf(plan, { collection: "turntables", id: anchor.turntable })}`;
  return `beside ${trackName(plan, anchor.beside.track)}`;
}
