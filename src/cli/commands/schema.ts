/** `schema`: the plan file's JSON Schema. */
import { Command } from "commander";
import { planJsonSchemaText } from "../../core/index.js";
import { writeOut } from "../files.js";
import { forceOption, type OutputOptions, outputOption } from "../options.js";

export const schemaCommand = (): Command =>
  new Command("schema")
    .description("print the plan file's JSON Schema")
    .addOption(outputOption())
    .addOption(forceOption())
    .action((options: OutputOptions) => writeOut(planJsonSchemaText(), options.output, options.force === true));
