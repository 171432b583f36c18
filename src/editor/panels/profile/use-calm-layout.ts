/** The layout the profile is drawn of: that of the plan shown, on a large plan once what is dragged is let go. */
import { useDeferredValue, useEffect, useState } from "react";
import type { Layout } from "../../../layout/layout.js";
import { useEditorStore } from "../../editor-context.js";
import { isLarge } from "../../large-plan.js";
import type { EditorState } from "../../store.js";

/** A pause of the hand, ms. */
const PAUSE = 200;

/** `live`: what is dragged is dragged in the profile itself, which follows then whatever it costs. */
export function useCalmLayout(live: boolean): Layout {
  const store = useEditorStore();
  const [layout, setLayout] = useState(() => store.getState().layout);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const follow = ({ layout: now, history }: Pick<EditorState, "layout" | "history">): void => {
      clearTimeout(timer);
      if (live || !isLarge(now)) setLayout(now);
      else if (!history.preview) timer = setTimeout(() => setLayout(now), PAUSE);
    };
    follow(store.getState());
    const end = store.subscribe((now, before) => {
      if (now.layout !== before.layout || now.history !== before.history) follow(now);
    });
    return () => {
      clearTimeout(timer);
      end();
    };
  }, [store, live]);
  return useDeferredValue(layout);
}
