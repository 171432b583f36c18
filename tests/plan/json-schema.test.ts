import { expect, test } from "vitest";
import { planJsonSchema, planJsonSchemaText } from "../../src/plan/json-schema.js";
import { goldenContents } from "./golden-plan.js";

// After a change of the schema: npx vitest run tests/plan/json-schema.test.ts --update
test("the published schema is that of the code", async () => {
  await expect(planJsonSchemaText()).toMatchFileSnapshot("../../plan.schema.json");
});

type Node = Readonly<Record<string, unknown>>;
const isNode = (value: unknown): value is Node => typeof value === "object" && value !== null && !Array.isArray(value);
const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);

/** Names of the properties a schema gives, by the place of the object that has them. */
function properties(schema: unknown, place: string): string[] {
  if (!isNode(schema)) return [];
  const own = isNode(schema["properties"]) ? Object.entries(schema["properties"]) : [];
  const inside = [
    ...own.flatMap(([key, value]) => [`${place}.${key}`, ...properties(value, `${place}.${key}`)]),
    ...listOf(schema["oneOf"]).flatMap((option) => properties(option, place)),
    ...listOf(schema["prefixItems"]).flatMap((item) => properties(item, `${place}.*`)),
    ...properties(schema["items"], `${place}.*`),
  ];
  return schema["propertyNames"] === undefined
    ? inside
    : [...inside, ...properties(schema["additionalProperties"], `${place}.*`)];
}

/** Places of a value, ids and numbers of items written as stars where `known` does so. */
function places(value: unknown, place: string, known: ReadonlySet<string>): string[] {
  if (Array.isArray(value)) return [place, ...value.flatMap((item) => places(item, `${place}.*`, known))];
  if (!isNode(value)) return [place];
  return [
    place,
    ...Object.entries(value).flatMap(([key, item]) =>
      places(item, known.has(`${place}.${key}`) ? `${place}.${key}` : `${place}.*`, known),
    ),
  ];
}

/** The reason of a setting is spoiled often enough with that of the train. */
const isReason = (place: string): boolean => /^plan\.standards\..*\.reason$/.test(place);

// A new property of the schema goes into the golden file of the version that is to be released.
test("the golden file has every property of the schema", () => {
  const wanted = new Set(properties(planJsonSchema(), "plan"));
  expect(wanted.size).toBeGreaterThan(200);
  const found = new Set(places(goldenContents(), "plan", wanted));
  expect([...wanted].filter((place) => !found.has(place) && !isReason(place))).toEqual([]);
});
