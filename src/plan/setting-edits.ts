/** Edits of the plan's own properties: settings and who overrules them, units, title, accepted readings, options. */
import { limitsOf } from "./class-limits.js";
import { amend, done, type Edit, refused } from "./edit.js";
import { check, printFault } from "./explain.js";
import {
  classLimitsSchema,
  type Plan,
  type Setting,
  type Standards,
  standardsSchema,
  TRACK_CLASSES,
  type TrackClass,
  planSchema,
} from "./schema.js";

type ClassSetting = keyof Standards["classes"]["main"] & string;
type PlainSetting = Exclude<keyof Standards & string, "body" | "classes">;
/** Where a setting stands: `aisle`, or by class of track `classes.yard.radius`. */
export type SettingPath = PlainSetting | `classes.${TrackClass}.${ClassSetting}`;

/** Source of a setting the owner overruled. */
export const OWNER = "the owner";

/** The setting at a path, or that of the main where the class follows it; undefined where there is none. */
export function settingAt(standards: Standards, path: SettingPath): Setting<unknown> | undefined {
  const found = path.split(".").reduce<unknown>(step, standards) ?? mainPath(path).reduce<unknown>(step, standards);
  return isSetting(found) ? found : undefined;
}

const isSetting = (found: unknown): found is Setting<unknown> =>
  typeof found === "object" && found !== null && "value" in found && "source" in found;

const step = (value: unknown, key: string): unknown =>
  typeof value === "object" && value !== null && Object.hasOwn(value, key) ? Reflect.get(value, key) : undefined;

const mainPath = (path: SettingPath): string[] =>
  path.split(".").map((key, i, keys) => (i === 1 && keys.length === 3 ? "main" : key));

/** The owner's own figure, with the reason for it. A class without limits of its own first takes those of the main. */
export function overruleSetting(plan: Plan, path: SettingPath, value: unknown, reason: string): Edit {
  if (reason.trim() === "") return refused("a setting is overruled with a reason");
  return putSetting(plan, path, { value, source: OWNER, reason }, "Overrule setting");
}

/** Takes a setting back to that of other standards, as the scale's preset. */
export function restoreSetting(plan: Plan, path: SettingPath, preset: Standards): Edit {
  const setting = settingAt(preset, path);
  return setting === undefined
    ? refused(`there is no setting ${path} to go back to`)
    : putSetting(plan, path, setting, "Restore setting");
}

function putSetting(plan: Plan, path: SettingPath, setting: Setting<unknown>, name: string): Edit {
  const [first, trackClass, limit] = path.split(".");
  const { standards } = plan;
  let next: Standards;
  if (first === "classes") {
    const known = TRACK_CLASSES.find((candidate) => candidate === trackClass);
    if (known === undefined || limit === undefined || !Object.hasOwn(classLimitsSchema.shape, limit))
      return refused(`there is no setting ${path}`);
    const limits = limitsOf(plan, known);
    next = { ...standards, classes: { ...standards.classes, [known]: { ...limits, [limit]: setting } } };
  } else {
    if (first === undefined || first === "body" || !Object.hasOwn(standardsSchema.shape, first))
      return refused(`there is no setting ${path}`);
    next = { ...standards, [first]: setting };
  }
  const checked = check(standardsSchema, next);
  return checked.ok ? done(name, { ...plan, standards: next }) : refused(checked.faults.map(printFault).join("; "));
}

type Property = "title" | "notes" | "units" | "scale" | "accepted" | "option";

function setProperty<K extends Property>(plan: Plan, key: K, value: Plan[K] | undefined, name: string): Edit {
  const checked = check(planSchema.shape[key], value);
  if (!checked.ok) return refused(`${key}: ${checked.faults.map(printFault).join("; ")}`);
  return done(name, amend(plan, { [key]: value }));
}

export const setTitle = (plan: Plan, title: string): Edit => setProperty(plan, "title", title, "Change title");
/** Empty notes are no notes. */
export const setNotes = (plan: Plan, notes: string): Edit =>
  setProperty(plan, "notes", notes === "" ? undefined : notes, "Change notes");
export const setUnits = (plan: Plan, units: Plan["units"]): Edit => setProperty(plan, "units", units, "Change units");
/** Another scale, with its settings; what was overruled before is not kept. */
export function setScale(plan: Plan, scale: Plan["scale"], standards: Standards): Edit {
  const edit = setProperty(plan, "scale", scale, "Change scale");
  return edit.ok ? done(edit.name, { ...edit.plan, standards }) : edit;
}

/** `key` is a reading's: `id` or `id:scope`. */
export function acceptReading(plan: Plan, key: string, reason: string): Edit {
  if (reason.trim() === "") return refused("a reading is accepted with a reason");
  return setProperty(plan, "accepted", { ...plan.accepted, [key]: { reason } }, "Accept reading");
}

export function withdrawAcceptance(plan: Plan, key: string): Edit {
  if (!Object.hasOwn(plan.accepted, key)) return refused(`"${key}" is not accepted`);
  const kept = Object.entries(plan.accepted).filter(([other]) => other !== key);
  return setProperty(plan, "accepted", Object.fromEntries(kept), "Withdraw acceptance");
}

/** The option in hand; undefined for what all options have in common. */
export function chooseOption(plan: Plan, id: string | undefined): Edit {
  if (id !== undefined && !Object.hasOwn(plan.options, id)) return refused(`there is no option "${id}"`);
  return setProperty(plan, "option", id, "Choose option");
}

/** Throws away one of the things a file held that could not be used, by its place in the list. */
export function discardSetAside(plan: Plan, index: number): Edit {
  if (plan.setAside?.[index] === undefined) return refused(`nothing is set aside at place ${index}`);
  const left = plan.setAside.toSpliced(index, 1);
  return done("Discard what was set aside", amend(plan, { setAside: left.length > 0 ? left : undefined }));
}
