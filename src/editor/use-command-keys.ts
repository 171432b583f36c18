/** The keyboard from anywhere on the page: commands, stages and tools, where nothing is being typed. */
import { useEffect } from "react";
import { commandFor, type Page, stageFor, toolFor } from "./commands.js";
import type { Tool } from "./tool.js";

export const IS_MAC = /mac|iphone|ipad/i.test(navigator.platform);

const TYPED_INTO = "input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]";

export const isTypedInto = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest(TYPED_INTO) !== null;

export function useCommandKeys(page: Page, tools: readonly Tool[]): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing) return;
      const typing = isTypedInto(event.target);
      const state = page.store.getState();
      // In a field only what no field uses is a command.
      if (typing && !((event.ctrlKey || event.metaKey) && ["s", "o"].includes(event.key.toLowerCase()))) return;
      // While a tool takes a number, bare digits and signs are its own.
      if (state.show.entry && !event.ctrlKey && !event.metaKey && event.key.length === 1) return;
      const command = commandFor(event, state);
      if (command) {
        event.preventDefault();
        return command.do(page);
      }
      const stage = stageFor(event);
      if (stage) {
        event.preventDefault();
        return state.openStage(stage);
      }
      const tool = toolFor(event, tools, state);
      if (tool) {
        event.preventDefault();
        state.takeTool(tool.id);
      }
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, [page, tools]);
}
