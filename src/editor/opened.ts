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
  const { problems } = result.report;
  try {
    const layout = deriveLayout(plan);
    return { ok: true, file, plan, layout, readings: takeReadings(plan, layout), problems };
  } catch (error) {
    // A fault of the program, not of the file: say so rather than leave the page blank.
    const message = `the program is at fault and could not lay it out: ${error instanceof Error ? error.message : String(error)}`;
    return { ok: false, file, problems: [...problems, { file, record: "", property: "", severity: "error", message }] };
  }
}

/** The same plan shown in other units; lengths in the file stay as they are. */
export const shownIn = (opened: OpenedPlan, units: Units): Plan =>
  opened.plan.units === units ? opened.plan : { ...opened.plan, units };
