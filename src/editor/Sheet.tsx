/** The plan on its paper, as large as the desk allows. */
import { useEffect, useMemo, useRef, useState } from "react";
import { drawSvg, type Layout, type Plan, type Reading, type Theme } from "../core/index.js";
import type { View } from "./MarginRail.js";

export interface SheetProps {
  readonly plan: Plan;
  readonly layout: Layout;
  readonly readings: readonly Reading[];
  readonly view: View;
  readonly theme: Theme;
}

/** On a narrower desk the key would leave no room for the plan, px. */
const ROOM_FOR_MARGINS = 760;

export function Sheet({ plan, layout, readings, view, theme }: SheetProps) {
  const desk = useRef<HTMLElement>(null);
  const [fit, setFit] = useState<{ width: number; height: number }>();

  useEffect(() => {
    const box = desk.current;
    if (!box) return;
    const watcher = new ResizeObserver(() => {
      const { width, height } = box.getBoundingClientRect();
      setFit({ width: Math.floor(width), height: Math.floor(height) });
    });
    watcher.observe(box);
    return () => watcher.disconnect();
  }, []);

  const drawing = useMemo(() => {
    if (!fit) return undefined;
    const margins = fit.width >= ROOM_FOR_MARGINS;
    const options = { view: view.see, theme, readings, fit, margins, ...(view.deck ? { deck: view.deck } : {}) };
    return drawSvg(plan, layout, options);
  }, [plan, layout, readings, view, theme, fit]);

  useEffect(() => {
    if (!drawing) return;
    // Parsed as a document of its own, where nothing in it can run, then taken over as elements.
    const parsed = new DOMParser().parseFromString(drawing, "image/svg+xml");
    desk.current?.replaceChildren(document.importNode(parsed.documentElement, true));
  }, [drawing]);

  return <section className="sheet" ref={desk} aria-label="The plan, drawn to scale" />;
}
