/** Salvage of the settings, one by one: a broken one gives way to the scale's own, and the report says so. */
import type * as z from "zod/mini";
import { isObject, own } from "./contents.js";
import type { Desk } from "./desk.js";
import { check, replaced } from "./explain.js";
import { type ClassLimits, classLimitsSchema, type Standards, standardsSchema, TRACK_CLASSES } from "./schema.js";

export function salvageStandards(found: unknown, desk: Desk, presetOf: (body: unknown) => Standards): unknown {
  // Worked out only when something needs it.
  let made: Standards | undefined;
  const preset = (): Standards => (made ??= presetOf(own(found, "body")));
  if (!isObject(found)) {
    const message = found === undefined ? "they are missing" : "expected an object";
    desk.setAsideValue(["standards"], found, [{ path: [], message: `${message}; the scale's own stand in` }]);
    return preset();
  }
  const { classes: _classes, ...settings } = standardsSchema.shape;
  return {
    ...fields(settings, found, ["standards"], desk, preset),
    classes: salvageClasses(found["classes"], desk, preset),
    ...unknownOf(standardsSchema.shape, found),
  };
}

function salvageClasses(found: unknown, desk: Desk, preset: () => Standards): unknown {
  const path = ["standards", "classes"];
  if (!isObject(found)) {
    const message = found === undefined ? "they are missing" : "expected an object of limits by track class";
    desk.setAsideValue(path, found, [{ path: [], message: `${message}; the scale's own stand in` }]);
    return preset().classes;
  }
  const classes: Record<string, unknown> = {};
  for (const name of TRACK_CLASSES) {
    const limits = found[name];
    const standIn = (): ClassLimits => preset().classes[name] ?? preset().classes.main;
    if (isObject(limits)) {
      const { shape } = classLimitsSchema;
      classes[name] = { ...fields(shape, limits, [...path, name], desk, standIn), ...unknownOf(shape, limits) };
    } else if (limits !== undefined || name === "main") {
      const message = limits === undefined ? "they are missing" : "expected an object of limits";
      desk.setAsideValue([...path, name], limits, [{ path: [], message: `${message}; the scale's own stand in` }]);
      classes[name] = standIn();
    }
  }
  return { ...classes, ...unknownOf(standardsSchema.shape.classes.shape, found) };
}

type Shape = Readonly<Record<string, z.ZodMiniType>>;

function fields(
  shape: Shape,
  found: Readonly<Record<string, unknown>>,
  path: readonly string[],
  desk: Desk,
  preset: () => object,
): Record<string, unknown> {
  const kept: Record<string, unknown> = {};
  for (const [key, schema] of Object.entries(shape)) {
    const result = check(schema, found[key]);
    if (result.ok) {
      if (result.value !== undefined) kept[key] = result.value;
      continue;
    }
    const instead = own(preset(), key);
    const note = instead === undefined ? "it is left out" : "the scale's own stands in";
    desk.setAsideValue([...path, key], found[key], replaced(result.faults, note));
    if (instead !== undefined) kept[key] = instead;
  }
  return kept;
}

const unknownOf = (shape: Shape, found: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(Object.entries(found).filter(([key]) => !Object.hasOwn(shape, key)));
