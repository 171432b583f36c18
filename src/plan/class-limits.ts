/** The limits of a class of track. */
import type { ClassLimits, Plan, TrackClass } from "./schema.js";

/** A class without limits of its own follows the main. */
export const limitsOf = ({ standards: { classes } }: Pick<Plan, "standards">, trackClass: TrackClass): ClassLimits =>
  classes[trackClass] ?? classes.main;
