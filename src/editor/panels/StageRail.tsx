/** The stages of the work on a stationing line; the stage in hand shows its few tools. */
import { openClimbSheet } from "../climb-sheet-store.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { focusSheet } from "../sheet/focus-sheet.js";
import { STAGES, type Stage, type Tool } from "../tool.js";
import { ToolIcon } from "./ToolIcon.js";

const STAGE_NAMES: Readonly<Record<Stage, { readonly name: string; readonly about: string }>> = {
  survey: { name: "Survey", about: "The room" },
  frame: { name: "Frame", about: "Decks and benches" },
  lay: { name: "Lay", about: "Track" },
  grade: { name: "Grade", about: "Heights" },
};

export function StageRail({ tools }: { readonly tools: readonly Tool[] }) {
  const store = useEditorStore();
  const stage = useEditor((state) => state.stage);
  const stages = STAGES.filter((one) => tools.some((tool) => tool.stage === one));
  return (
    <nav className="rail" aria-label="Stages of the work">
      <ol className="stages">
        {stages.map((one) => (
          <li key={one} className={one === stage ? "stage in-hand" : "stage"}>
            <button
              type="button"
              aria-current={one === stage ? "step" : undefined}
              title={STAGE_NAMES[one].about}
              onClick={() => store.getState().openStage(one)}
            >
              <span className="station" aria-hidden="true" />
              <span className="stage-name">{STAGE_NAMES[one].name}</span>
            </button>
            {one === stage && <ToolList tools={tools} stage={one} />}
          </li>
        ))}
      </ol>
    </nav>
  );
}

function ToolList({ tools, stage }: { readonly tools: readonly Tool[]; readonly stage: Stage }) {
  const store = useEditorStore();
  const inHand = useEditor((state) => state.tool);
  const shown = tools.filter((tool) => tool.stage === "any" || tool.stage === stage);
  return (
    <ul className="tools" aria-label={`Tools of ${STAGE_NAMES[stage].name}`}>
      {shown.map((tool) => (
        <li key={tool.id}>
          <button
            type="button"
            aria-pressed={tool.id === inHand}
            aria-keyshortcuts={tool.key}
            title={`${tool.name} (${tool.key.toUpperCase()})`}
            onClick={(event) => {
              store.getState().takeTool(tool.id);
              // Taken with the hand, not by key: numbers and Enter are for the tool, not for its button.
              if (event.detail > 0) focusSheet(store.getState().deck);
            }}
          >
            <ToolIcon tool={tool.id} />
            <span className="tool-name">{tool.name}</span>
            <kbd aria-hidden="true">{tool.key.toUpperCase()}</kbd>
          </button>
        </li>
      ))}
      {stage === "grade" && <ClimbSheetButton />}
    </ul>
  );
}

/** No tool of the sheet: a calculator beside it. */
const ClimbSheetButton = () => (
  <li>
    <button type="button" title="What a climb takes, before it is drawn" onClick={openClimbSheet}>
      <ToolIcon tool="climb-sheet" />
      <span className="tool-name">Climb sheet</span>
    </button>
  </li>
);
