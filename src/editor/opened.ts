/** A plan file once opened: its plan with what follows from it, or what is the matter with it. */
import {
  deriveLayout,
  type Layout,
  type Plan,
  type Problem,
  type Reading,
  readPlan,
  takeReadings,
  type Units,
} from "../core/index.js";

export interface OpenedPlan {
  readonly ok: true;
  readonly file: string;
  readonly plan: Plan;
  readonly layout: Layout;
  readonly readings: readonly Reading[];
  readonly problems: readonly Problem[];
}

export type Opened = OpenedPlan | { readonly ok: false; readonly file: string; readonly problems: readonly Problem[] };

/** Reads a plan's text and derives everything shown of it. */
export function openText(text: string, file: string): Opened {
  const result = readPlan(text, file);
  if (!result.ok) return { ok: false, file, problems: result.report.problems };
  const { plan } = result;
  const layout = deriveLayout(plan);
  return { ok: true, file, plan, layout, readings: takeReadings(plan, layout), problems: result.report.problems };
}

/** The same plan shown in other units; lengths in the file stay as they are. */
export const shownIn = (opened: OpenedPlan, units: Units): Plan =>
  opened.plan.units === units ? opened.plan : { ...opened.plan, units };
