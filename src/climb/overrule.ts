/** The plan with the limits a request overrules, so that search and readings go by the same. */
import { limitsOf } from "../plan/class-limits.js";
import type { ClassLimits, Plan, Setting } from "../plan/schema.js";
import type { ClimbRequest } from "./request.js";

/** The plan itself where nothing is overruled. A steeper grade may be felt as much steeper. */
export function overruled(plan: Plan, request: Pick<ClimbRequest, "class" | "grade" | "radius">): Plan {
  let next = plan;
  const own = limitsOf(plan, request.class);
  if (request.grade !== undefined || request.radius !== undefined) {
    const grade = request.grade ?? own.grade.value;
    const radius = request.radius ?? own.radius.value;
    const drag = plan.standards.curveDrag.value;
    const more = grade - own.grade.value + (request.radius === undefined ? 0 : drag / radius - drag / own.radius.value);
    const limits: ClassLimits = {
      ...own,
      grade: asked(own.grade, grade),
      radius: asked(own.radius, radius),
      feltGrade: asked(own.feltGrade, Math.max(0.01, own.feltGrade.value + more)),
    };
    const { standards } = plan;
    next = { ...next, standards: { ...standards, classes: { ...standards.classes, [request.class]: limits } } };
  }
  return next;
}

const asked = (setting: Setting<number>, value: number): Setting<number> =>
  value === setting.value ? setting : { value, source: "asked for in the search" };
