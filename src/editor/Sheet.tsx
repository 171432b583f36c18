/** The plan on its paper, as large as the desk allows. */
import { useEffect, useMemo, useRef, useState } from "react";
import { drawSvg } from "../exchange/svg/draw.js";
import { useEditor } from "./editor-context.js";

/** On a narrower desk the key would leave no room for the plan, px. */
const ROOM_FOR_MARGINS = 760;

export function Sheet() {
  const plan = useEditor((state) => state.plan);
  const layout = useEditor((state) => state.layout);
  const readings = useEditor((state) => state.readings);
  const view = useEditor((state) => state.deckView);
  const deck = useEditor((state) => state.deck);
  const theme = useEditor((state) => state.theme);
  const units = useEditor((state) => state.units);
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
    return drawSvg({ ...plan, units }, layout, {
      view: view === "one" ? "deck" : "see-through",
      theme,
      readings,
      fit,
      margins,
      deck,
    });
  }, [plan, layout, readings, view, theme, fit, units, deck]);

  useEffect(() => {
    if (!drawing) return;
    // Parsed as a document of its own, where nothing in it can run, then taken over as elements.
    const parsed = new DOMParser().parseFromString(drawing, "image/svg+xml");
    desk.current?.replaceChildren(document.importNode(parsed.documentElement, true));
  }, [drawing]);

  return <section className="sheet" ref={desk} aria-label="The plan, drawn to scale" />;
}
