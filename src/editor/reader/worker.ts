/** The worker: keeps its own copy of plan and layout, and takes the readings of every plan it is sent. */
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import { patched } from "../../plan/patch.js";
import type { Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { takeReadings } from "../../readings/take.js";
import { type Answered, type Asked, pack } from "./messages.js";

/** Takes the readings of plan after plan. */
export function answering(): (asked: Asked) => Answered {
  let plan: Plan | undefined;
  let layout: Layout | undefined;
  let readings: readonly Reading[] = [];
  return (asked) => {
    if ("plan" in asked) plan = asked.plan;
    else if (plan) plan = patched(plan, asked.patch);
    else throw new Error("a patch came before a plan");
    layout = deriveLayout(plan, layout);
    const { kept, sent } = pack(takeReadings(plan, layout), readings);
    readings = kept;
    return sent;
  };
}
