/** Every tool, the arrow first: it is in hand when nothing else is. Within a stage they stand in the rail in this order. */
import type { Tool } from "../tool.js";
import { selectTool } from "./select.js";

/** The store keeps a tool's state for it and never looks inside, so tools of any state stand in one list. */
const tool = <S>(of: Tool<S>): Tool => of as unknown as Tool;

export const TOOLS: readonly Tool[] = [tool(selectTool)];
