/** The plan's limits and settings as people see and change them: names, quantities, and the edit a typed figure makes. */
import { type Edit, refused } from "../../plan/edit.js";
import { type Plan, type Setting, type TrackClass, TRACK_CLASSES } from "../../plan/schema.js";
import { overruleSetting, restoreSetting, OWNER, type SettingPath, settingAt } from "../../plan/setting-edits.js";
import type { Reading } from "../../readings/reading.js";
import { usualStandards } from "../../plan/settings.js";
import {
  CLASS_LIMITS,
  type ClassLimit,
  limitNamed,
  PLAIN_LIMITS,
  type PlainLimit,
} from "../../exchange/limit-names.js";
import { type NumberField, quantityText, typedEdit } from "./details/field.js";

const classLimit = (trackClass: string | undefined, limit: ClassLimit): SettingPath | undefined => {
  const found = TRACK_CLASSES.find((known) => known === trackClass);
  return found && `classes.${found}.${limit}`;
};

const BY_CLASS: Readonly<Partial<Record<Reading["id"], ClassLimit>>> = {
  radius: "radius",
  easement: "easement",
  grade: "grade",
  "felt-grade": "feltGrade",
  "reverse-curve": "reverseStraight",
  "track-spacing": "centres",
  "turnout-size": "turnout",
};

/** By what an aisle is held to; places behind gates and duckunders are held to no setting. */
const AISLE: Readonly<Record<string, SettingPath>> = {
  "": "aisle",
  work: "aisleWork",
  pass: "aislePass",
  back: "aisleBackToBack",
  entrance: "aisleBackToBack",
};

/** The setting a reading is held to; undefined where nothing limits it, or the limit is another reading's. */
export function limitOfReading(plan: Plan, reading: Reading): SettingPath | undefined {
  const byClass = BY_CLASS[reading.id];
  if (byClass) return classLimit(reading.scope, byClass);
  if (reading.id === "vertical-curve") return "verticalCurve";
  if (reading.id === "over-track") return "overTrack";
  if (reading.id === "siding") return "train";
  if (reading.id === "staging") return "trains";
  if (reading.id === "runaround") return "engine";
  if (reading.id === "edge") return reading.scope === "bench" ? "benchEdge" : "wall";
  if (reading.id === "gate") return "gateDead";
  if (reading.id === "aisle") return AISLE[reading.scope ?? ""];
  if (reading.id !== "deck-separation") return undefined;
  const staging = reading.scope?.split("/").some((deck) => plan.decks[deck]?.kind === "staging");
  return staging === true ? "stagingSeparation" : "deckSeparation";
}

const isKey = <T extends object>(table: T, key: string): key is Extract<keyof T, string> => Object.hasOwn(table, key);

/** Limits of one class of track. */
export const limitsOfClass = (trackClass: TrackClass): SettingPath[] =>
  Object.keys(CLASS_LIMITS).flatMap((limit) =>
    isKey(CLASS_LIMITS, limit) ? (classLimit(trackClass, limit) ?? []) : [],
  );

/** The settings that hold for every class, those the plan has or its scale begins with. */
export const plainLimits = (plan: Plan): SettingPath[] =>
  Object.keys(PLAIN_LIMITS).flatMap((key) =>
    isKey(PLAIN_LIMITS, key) && limitSetting(plan, key) ? [key as PlainLimit] : [],
  );

/** A limit's number; undefined where the plan has none. */
export function limitValue(plan: Plan, path: SettingPath): number | undefined {
  const value = limitSetting(plan, path)?.value;
  return typeof value === "number" ? value : undefined;
}

/** The plan's own setting, or what its scale begins with where an older plan lacks it. */
export const limitSetting = (plan: Plan, path: SettingPath): Setting<unknown> | undefined =>
  settingAt(plan.standards, path) ?? settingAt(usualStandards(plan), path);

export const isOverruled = (plan: Plan, path: SettingPath): boolean =>
  settingAt(plan.standards, path)?.source === OWNER;

/** The figure typed, with the owner's reason; undefined where nothing was changed. */
export function typedLimit(
  plan: Plan,
  path: SettingPath,
  typed: string,
  reason: string,
  units: Plan["units"],
): Edit | undefined {
  const { name, quantity } = limitNamed(path);
  const field: NumberField = {
    kind: "number",
    id: path,
    label: name,
    quantity,
    value: limitValue(plan, path),
    set: (now, value) =>
      value === undefined ? refused("a limit is missing") : overruleSetting(now, path, value, reason.trim()),
  };
  return typedEdit(field, typed, plan, units);
}

export const restoreLimit = (plan: Plan, path: SettingPath): Edit => restoreSetting(plan, path, usualStandards(plan));

/** What the limit goes back to, in words. */
export function presetText(plan: Plan, path: SettingPath, units: Plan["units"]): string | undefined {
  const value = settingAt(usualStandards(plan), path)?.value;
  return typeof value === "number" ? quantityText(value, limitNamed(path).quantity, units) : undefined;
}
