/** What is typed for a new plan, checked. */
import type { EmptyPlanWishes } from "../../plan/empty-plan.js";
import { parseLength } from "../../plan/parse-length.js";
import type { Plan } from "../../plan/schema.js";
import { BODIES, type Scale, scalesOf } from "../../standards/scales.js";

export interface NewPlanForm {
  readonly title: string;
  readonly width: string;
  readonly depth: string;
  /** `NMRA HO`. */
  readonly scale: string;
  readonly units: Plan["units"];
}

export const scaleKey = ({ body, name }: Scale): string => `${body} ${name}`;
export const ALL_SCALES: readonly Scale[] = BODIES.flatMap((body) => scalesOf(body));

/** A spare room, in round figures of either unit. */
export const newPlanForm = (units: Plan["units"]): NewPlanForm => ({
  title: "",
  width: units === "imperial" ? "14 ft" : "4.2 m",
  depth: units === "imperial" ? "11 ft" : "3.4 m",
  scale: units === "imperial" ? "NMRA HO" : "NEM H0",
  units,
});

/** Rooms smaller than a shelf or larger than a hall are slips of the keyboard, mm. */
const ROOM = { least: 300, most: 200_000 } as const;

export type NewPlanWishes =
  | { readonly ok: true; readonly wishes: EmptyPlanWishes }
  | { readonly ok: false; readonly field: keyof NewPlanForm; readonly message: string };

export function newPlanWishes(form: NewPlanForm): NewPlanWishes {
  const sides = { width: 0, depth: 0 };
  for (const field of ["width", "depth"] as const) {
    const length = parseLength(form[field], form.units);
    if (!length.ok) return { ok: false, field, message: length.message };
    if (length.mm < ROOM.least) return { ok: false, field, message: "a room is larger than that" };
    if (length.mm > ROOM.most) return { ok: false, field, message: "no hall is that large" };
    sides[field] = length.mm;
  }
  const scale = ALL_SCALES.find((one) => scaleKey(one) === form.scale);
  if (!scale) return { ok: false, field: "scale", message: "choose a scale" };
  const title = form.title.trim() || "Untitled plan";
  return { ok: true, wishes: { title, ...sides, scale, units: form.units } };
}
