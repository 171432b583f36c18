/** The arrow: in hand when nothing else is, and there before the other tools are loaded. */
import type { Tool } from "../tool.js";
import { selectTool } from "./select.js";

/** The store keeps a tool's state for it and never looks inside, so tools of any state stand in one list. */
export const anyTool = <S>(of: Tool<S>): Tool => of as unknown as Tool;

export const ARROW = anyTool(selectTool);
