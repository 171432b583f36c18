/** Copies a link that carries the plan; where it would not arrive whole, says so and offers the file. */
import { linkFragment } from "../../exchange/share-link.js";
import type { EditorStore } from "../store.js";
import { forgetLink, linkNotice } from "./link-notice.js";

export interface Clipboard {
  /** Rejects where the browser does not let it. */
  write(text: string): Promise<void>;
}

/** `page` is the address of the planner without any part after a `#`. */
export async function copyLink(store: EditorStore, page: string, clipboard: Clipboard): Promise<void> {
  const { history, say } = store.getState();
  const link = linkFragment(history.plan, page);
  forgetLink();
  if (!link.ok) {
    const message = `${link.message.charAt(0).toUpperCase()}${link.message.slice(1)}.`;
    linkNotice.setState({ kind: "too-long", message }, true);
    return;
  }
  const address = `${page}#${link.fragment}`;
  try {
    await clipboard.write(address);
    say("A link to this plan is copied. It holds the plan as it is now; no server sees it.");
  } catch {
    linkNotice.setState({ kind: "by-hand", address }, true);
  }
}

export const pageClipboard: Clipboard = {
  // Undefined on pages that did not come over a safe way.
  write: async (text) => {
    const clipboard = navigator.clipboard as typeof navigator.clipboard | undefined;
    if (!clipboard) throw new Error("there is no clipboard");
    await clipboard.writeText(text);
  },
};
