/** The plan file's schema as JSON Schema, for other programs and for editors that check while one types. */
import * as z from "zod/mini";
import { planSchema } from "./schema.js";

/** JSON Schema, draft 2020-12. The shapes of anchors, legs and benches exclude each other, hence `oneOf`. */
export function planJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(planSchema, {
    io: "input",
    override: ({ jsonSchema }) => {
      if (jsonSchema.anyOf === undefined) return;
      jsonSchema.oneOf = jsonSchema.anyOf;
      delete jsonSchema.anyOf;
    },
  });
  return {
    ...schema,
    title: "Ruling Grade plan",
    description: "Millimetres, degrees, percent; headings anticlockwise from +x.",
  };
}

/** As published in `plan.schema.json`. */
export const planJsonSchemaText = (): string => `${JSON.stringify(planJsonSchema(), null, 2)}\n`;
