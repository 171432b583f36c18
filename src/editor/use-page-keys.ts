/** The keys of the page's own commands, heard wherever nothing is being typed; files can be saved from a field too. */
import { useEffect } from "react";
import { type Page, PAGE_COMMANDS } from "./page-commands.js";
import { pressName } from "./sheet/keys.js";

export const IS_MAC = /mac|iphone|ipad/i.test(navigator.platform);

const TYPED_INTO = "input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]";

export function usePageKeys(page: Page): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.isComposing) return;
      const mod = event.ctrlKey || event.metaKey;
      const typing = event.target instanceof Element && event.target.closest(TYPED_INTO) !== null;
      if (!mod && (typing || page.store.getState().show.entry?.letters)) return;
      const alt = event.altKey && !event.getModifierState("AltGraph");
      const name = pressName({ key: event.key, code: event.code, mod, shift: event.shiftKey, alt });
      const command = PAGE_COMMANDS.find(({ keys }) => keys.includes(name));
      if (!command) return;
      event.preventDefault();
      // What is being typed counts before the plan is saved or another one is opened.
      if (typing && document.activeElement instanceof HTMLElement) document.activeElement.blur();
      command.run(page);
    };
    // Before the sheet, which takes any key it can type.
    addEventListener("keydown", onKey, true);
    return () => removeEventListener("keydown", onKey, true);
  }, [page]);
}
