/**
 * The options laid out and read beside the sheet, while they are looked at side by side: again after every edit, when the
 * hand rests, each from its own layout before.
 */
import { useEffect } from "react";
import { type Candidate, optionsOf } from "../../exchange/compare.js";
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import type { Reading } from "../../readings/reading.js";
import { useEditorStore } from "../editor-context.js";
import { sideBySide } from "../option-store.js";
import { readInSlices } from "../reader/here.js";
import type { EditorStore } from "../store.js";

/** A pause of the hand, ms. */
const PAUSE = 150;

export function useCandidates(): void {
  const store = useEditorStore();
  useEffect(() => keepCandidates(store), [store]);
}

/** Keeps them until what it gives back is called. */
export function keepCandidates(store: EditorStore): () => void {
  const layouts = new Map<string, Layout>();
  let round = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const begin = async (mine: number): Promise<void> => {
    const { history, settled } = store.getState();
    const found: Candidate[] = [];
    for (const { option, name, plan } of optionsOf(history.plan)) {
      const key = option ?? "";
      const layout = plan === history.plan ? settled : deriveLayout(plan, layouts.get(key) ?? settled);
      layouts.set(key, layout);
      const readings = await readingsOf(layout);
      if (mine !== round) return;
      found.push({ option, name, plan, layout, readings });
    }
    sideBySide.setState({ candidates: found });
  };
  const again = (): void => {
    round++;
    clearTimeout(timer);
    timer = setTimeout(() => void begin(round), PAUSE);
  };
  void begin(round);
  const end = store.subscribe((now, before) => {
    if (now.history.plan !== before.history.plan) again();
  });
  return () => {
    round++;
    clearTimeout(timer);
    end();
    sideBySide.setState({ candidates: [] });
  };
}

/** In slices that give way to the hand. */
const readingsOf = (layout: Layout): Promise<readonly Reading[]> =>
  new Promise((resolve) => {
    const read = readInSlices((work) => setTimeout(work));
    read((readings) => resolve(readings)).read(layout.plan, layout);
  });
