/** The page: one plan, drawn with its readings. Read only: files are opened, looked at, and never changed. */
import { useCallback, useEffect, useState } from "react";
import type { Theme, Units } from "../core/index.js";
import { MarginRail, type View } from "./MarginRail.js";
import { type Opened, openText, shownIn } from "./opened.js";
import { ProblemReport } from "./ProblemReport.js";
import { ReadingsColumn } from "./ReadingsColumn.js";
import { SAMPLE_PLANS, type SamplePlan } from "./sample-plans.js";
import { Sheet } from "./Sheet.js";
import { TopBar } from "./TopBar.js";
import { useDroppedFile } from "./use-dropped-file.js";

/** Larger files are no plans; the core's own bound is in characters. */
const MOST_BYTES = 50_000_000;

const preferredTheme = (): Theme => (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");

export function App() {
  const [opened, setOpened] = useState<Opened>();
  const [units, setUnits] = useState<Units>("metric");
  const [theme, setTheme] = useState<Theme>(preferredTheme);
  const [view, setView] = useState<View>({ see: "see-through" });

  const show = useCallback((next: Opened) => {
    setOpened(next);
    if (next.ok) setUnits(next.plan.units);
    setView({ see: "see-through" });
  }, []);

  const openFile = useCallback(
    async (file: File) => {
      const text = file.size > MOST_BYTES ? "" : await file.text();
      show(openText(text, file.name));
    },
    [show],
  );

  const openSample = useCallback(
    async (sample: SamplePlan) => show(openText(await sample.load(), sample.file)),
    [show],
  );

  useEffect(() => {
    let wanted = true;
    const first = SAMPLE_PLANS[0];
    void first?.load().then((text) => {
      if (wanted) show(openText(text, first.file));
    });
    return () => {
      wanted = false;
    };
  }, [show]);

  useEffect(() => {
    document.documentElement.dataset["theme"] = theme;
  }, [theme]);

  const title = opened?.ok ? opened.plan.title : undefined;
  useEffect(() => {
    document.title = title ? `${title} · Ruling Grade` : "Ruling Grade";
  }, [title]);

  const dropping = useDroppedFile(openFile);
  const plan = opened?.ok ? shownIn(opened, units) : undefined;

  return (
    <div className="page" data-dropping={dropping || undefined}>
      <TopBar
        title={title ?? "Ruling Grade"}
        units={units}
        onUnits={setUnits}
        theme={theme}
        onTheme={setTheme}
        onFile={(file) => void openFile(file)}
      />
      <div className="work">
        <MarginRail
          plan={plan}
          view={view}
          onView={setView}
          file={opened?.file}
          onSample={(sample) => void openSample(sample)}
        />
        <main className="desk">
          {opened?.ok && plan ? (
            <Sheet plan={plan} layout={opened.layout} readings={opened.readings} view={view} theme={theme} />
          ) : (
            <div className="notice">{opened ? <ProblemReport opened={opened} /> : <p>Opening the plan…</p>}</div>
          )}
        </main>
        <ReadingsColumn opened={opened} units={units} />
      </div>
      {dropping && <output className="drop-hint">Let go to open the plan.</output>}
    </div>
  );
}
