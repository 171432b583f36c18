/** Lengths of a climb as they are told: what is reckoned needs no sixteenths, and what is needed is never rounded down. */
import { INCH } from "../plan/parse-length.js";
import { lengthText, type Units } from "./figures.js";

/** The nearest step in one direction. */
export function stepped(way: "down" | "up", value: number, step: number): number {
  // Free of the crumbs of the division: a whole number of steps is one.
  const steps = Math.round((value / step) * 1e6) / 1e6;
  return (way === "up" ? Math.ceil(steps) : Math.floor(steps)) * step;
}

/** A length of track to a centimetre or an inch: nobody lays a climb to a sixteenth. */
export function runText(run: number, units: Units, way: "down" | "up" = "down"): string {
  const whole = stepped(way, run, units === "metric" ? 10 : INCH);
  return units === "metric" ? `${Number((whole / 1000).toFixed(2))} m` : lengthText(whole, units);
}

/** Lengths that are reckoned, not chosen, are told to a millimetre or an eighth of an inch. */
export const reckonedStep = (units: Units): number => (units === "metric" ? 1 : INCH / 8);

export function reckonedText(mm: number, units: Units): string {
  const step = reckonedStep(units);
  return lengthText(Math.round(mm / step) * step, units);
}
