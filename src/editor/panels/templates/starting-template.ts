/** What a measured turnout begins with: a number 6 of the table, to be typed over by what is measured. */
import { toDegrees } from "../../../geometry/units.js";
import { tableTurnout } from "../../../layout/turnout-shape.js";
import type { Plan, Template } from "../../../plan/schema.js";

const NUMBER = 6;
/** Nobody measures finer than that, mm and degrees. */
const round = (value: number): number => Math.round(value * 100) / 100;

export function startingTemplate({ scale }: Pick<Plan, "scale">): Template {
  const { joint, heel, angle, radius } = tableTurnout(scale.gauge, NUMBER);
  return {
    name: "Measured",
    length: round(heel - joint),
    points: round(-joint),
    angle: round(toDegrees(angle)),
    radius: round(radius),
  };
}
