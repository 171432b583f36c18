/** The layout the profile is drawn of: that of the plan shown, on a large plan once the hand rests. */
import { useDeferredValue, useEffect, useState } from "react";
import type { Layout } from "../../../layout/layout.js";
import { useEditorStore } from "../../editor-context.js";

/** Up to so many lines a way through the network is found between two frames. */
const LIVE = 300;
/** A pause of the hand, ms. */
const PAUSE = 200;

export function useCalmLayout(): Layout {
  const store = useEditorStore();
  const [layout, setLayout] = useState(() => store.getState().layout);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const follow = ({ layout: now }: { readonly layout: Layout }): void => {
      clearTimeout(timer);
      if (now.lines.size <= LIVE) setLayout(now);
      else timer = setTimeout(() => setLayout(now), PAUSE);
    };
    follow(store.getState());
    const end = store.subscribe((now, before) => {
      if (now.layout !== before.layout) follow(now);
    });
    return () => {
      clearTimeout(timer);
      end();
    };
  }, [store]);
  return useDeferredValue(layout);
}
