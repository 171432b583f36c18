/** The sentence in the margin of an empty sheet, and the caution that goes with the stage. */
import { useEditor } from "../editor-context.js";
import { CAUTIONS, type CautionId } from "./cautions.js";
import type { Stage } from "../tool.js";
import { firstWords } from "./first-words.js";

const BEARING: Readonly<Partial<Record<Stage, CautionId>>> = { survey: "exits", frame: "structure" };

export function FirstWords() {
  const plan = useEditor((state) => state.history.plan);
  const stage = useEditor((state) => state.stage);
  const words = firstWords(plan, stage);
  const caution = BEARING[stage];
  if (words === undefined) return null;
  return (
    <div className="first-words">
      <p>{words}</p>
      {caution && <p className="caution">{CAUTIONS[caution]}</p>}
    </div>
  );
}
