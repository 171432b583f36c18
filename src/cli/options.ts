/** Options that several commands share, read from what was typed. */
import { InvalidArgumentError, Option } from "commander";
import type { Units } from "../core/index.js";

export const unitsOption = (): Option =>
  new Option("--units <units>", "show lengths as imperial or metric (the plan's own where left out)").choices([
    "imperial",
    "metric",
  ]);

export const outputOption = (): Option => new Option("-o, --output <file>", "write to a file (stdout where left out)");

export const forceOption = (): Option => new Option("--force", "write over a file that exists");

export interface OutputOptions {
  readonly output?: string;
  readonly force?: boolean;
}

export interface UnitsOptions {
  readonly units?: Units;
}

/** `1:20`, `1/20` or `20`: how many millimetres of room one of paper stands for. */
export function drawingScale(text: string): number {
  const match = /^\s*(?:1\s*[:/]\s*)?(\d+(?:\.\d+)?)\s*$/.exec(text);
  const scale = Number(match?.[1]);
  if (!match || scale < 1 || scale > 1000) throw new InvalidArgumentError("Expected a scale from 1:1 to 1:1000.");
  return scale;
}
