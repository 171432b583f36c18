/** The page: the sheet with its margins. Top bar, stages, sheet, profile, readings and details, status line. */
import { lazy, Suspense, useEffect, useMemo, useState } from "react";
import { useStore } from "zustand";
import { reckoned } from "./climb-sheet-store.js";
import { climbs } from "./climb-store.js";
import { EditorContext, useEditor, useEditorStore } from "./editor-context.js";
import { NewPlan } from "./files/NewPlan.js";
import { Notices } from "./files/Notices.js";
import { isUnsaved } from "./files/file-desk.js";
import { keptView } from "./files/kept-store.js";
import { followLinks, openLink, takeLink } from "./share/follow-links.js";
import { printing } from "./share/printing.js";
import { useDroppedFile, useSafeLeaving } from "./files/use-file-desk.js";
import { FirstWords } from "./help/FirstWords.js";
import type { HelpTopic } from "./help/HelpPage.js";
import type { PageParts } from "./page.js";
import type { Page } from "./page-commands.js";
import { Profile } from "./panels/Profile.js";
import { ProfileEdge, useProfileHeight } from "./panels/ProfileEdge.js";
import { ReadingsPanel } from "./panels/ReadingsPanel.js";
import { StageRail } from "./panels/StageRail.js";
import { StatusLine } from "./panels/StatusLine.js";
import { TopBar } from "./panels/TopBar.js";
import { UnderlayPanel } from "./panels/UnderlayPanel.js";
import { OPEN_AGAIN, offline } from "./offline/offline-store.js";
import { sideBySide } from "./option-store.js";
import { SAMPLE_PLANS } from "./sample-plans.js";
import { ObjectList } from "./sheet/ObjectList.js";
import { Sheet } from "./sheet/Sheet.js";
import { MARGINS, useFolds } from "./use-folds.js";
import { sections } from "./section-store.js";
import { usePageKeys } from "./use-page-keys.js";

const ClimbPanel = lazy(() => import("./panels/climbs/ClimbPanel.js"));
const ClimbSheetPage = lazy(() => import("./panels/climb-sheet/ClimbSheetPage.js"));
const HelpPage = lazy(() => import("./help/HelpPage.js"));
const OptionsPanel = lazy(() => import("./panels/options/OptionsPanel.js"));
const DetailsPanel = lazy(() => import("./panels/DetailsPanel.js"));
const ShelfPage = lazy(() => import("./files/ShelfPage.js"));
const VersionsPanel = lazy(() => import("./panels/versions/VersionsPanel.js"));
const PrintSlip = lazy(() => import("./share/PrintSlip.js"));
const SectionStrip = lazy(() => import("./panels/SectionStrip.js"));

export function App({ store, files }: PageParts) {
  return (
    <EditorContext value={store}>
      <Work files={files} />
    </EditorContext>
  );
}

function Work({ files }: Pick<PageParts, "files">) {
  const store = useEditorStore();
  const [help, setHelp] = useState<HelpTopic>();
  const [making, setMaking] = useState(false);
  const { folded, fold } = useFolds();
  const page = useMemo(
    (): Page => ({ store, files, openHelp: setHelp, openNewPlan: () => setMaking(true), fold }),
    [store, files, fold],
  );
  const twin = useEditor((state) => state.deckView === "twin");
  const units = useEditor((state) => state.units);
  const tools = useEditor((state) => state.tools);
  // The section takes the profile's place while it is looked at.
  const cutting = useStore(sections, (state) => state.open);
  const [height, setHeight] = useProfileHeight(cutting);
  const profileFolded = folded.profile && !cutting;
  // Climb routes stand in the column while they are looked for.
  const climbing = useStore(climbs, (state) => state.open);
  const reckoning = useStore(reckoned, (state) => state.open);
  // And options side by side, in the readings' place.
  const comparing = useStore(sideBySide, (state) => state.open);
  const shelf = useStore(keptView, (state) => state.shelf);
  const print = useStore(printing);
  const versions = useStore(keptView, (state) => state.versions !== "closed");
  const isFolded = (margin: (typeof MARGINS)[number]): boolean =>
    folded[margin] && !((climbing || comparing || versions) && margin === "column");
  const dropping = useDroppedFile(files);
  usePageKeys(page);
  useSafeLeaving(files, store);
  useTitle();
  useFirstPlan(page);

  return (
    <div
      className="page"
      data-twin={twin || undefined}
      data-dropping={dropping || undefined}
      data-side-by-side={comparing || undefined}
      data-folded={MARGINS.filter(isFolded).join(" ")}
    >
      <TopBar page={page} folded={folded} />
      <StageRail tools={tools} />
      <main className="desk">
        <Notices files={files} />
        <div className="sheet-place">
          <Sheet />
          <FirstWords />
          {making && <NewPlan files={files} units={units} onClose={() => setMaking(false)} />}
          {print && (
            <Suspense fallback={null}>
              <PrintSlip key={print} kind={print} />
            </Suspense>
          )}
        </div>
        {!profileFolded && <ProfileEdge height={height} onHeight={setHeight} />}
      </main>
      <div className="profile-place" style={profileFolded ? undefined : { height }}>
        {cutting ? (
          <Suspense fallback={null}>
            <SectionStrip />
          </Suspense>
        ) : (
          <Profile folded={folded.profile} onFold={() => fold("profile")} />
        )}
      </div>
      <aside className="column" aria-label="Readings and details" hidden={isFolded("column")}>
        {comparing ? (
          <Suspense fallback={null}>
            <OptionsPanel />
          </Suspense>
        ) : (
          <ReadingsPanel />
        )}
        {climbing && (
          <Suspense fallback={null}>
            <ClimbPanel />
          </Suspense>
        )}
        {versions && (
          <Suspense fallback={null}>
            <VersionsPanel files={files} />
          </Suspense>
        )}
        <div className="details-place" hidden={climbing || versions}>
          <UnderlayPanel />
          <Suspense fallback={null}>
            <DetailsPanel />
          </Suspense>
          <ObjectList />
        </div>
      </aside>
      <StatusLine />
      {shelf && (
        <Suspense fallback={null}>
          <ShelfPage files={files} />
        </Suspense>
      )}
      {reckoning && (
        <Suspense fallback={null}>
          <ClimbSheetPage />
        </Suspense>
      )}
      {help && (
        <Suspense fallback={null}>
          <HelpPage topic={help} tools={tools} onTopic={setHelp} />
        </Suspense>
      )}
      {dropping && <output className="drop-hint">Let go to open the plan.</output>}
    </div>
  );
}

/** The browser tab says which plan it is, and whether it is saved. */
function useTitle(): void {
  const title = useEditor((state) => state.history.plan.title);
  const unsaved = useEditor(isUnsaved);
  const theme = useEditor((state) => state.theme);
  useEffect(() => {
    document.title = title ? `${unsaved ? "• " : ""}${title} · Ruling Grade` : "Ruling Grade";
  }, [title, unsaved]);
  useEffect(() => {
    document.documentElement.dataset["theme"] = theme;
  }, [theme]);
}

/** ms after which nothing of the first view is still to be fetched, as good as always. */
const SETTLED = 1500;

/** The plan that was open when the page was loaded anew for a new version of it, else a sample. */
async function openFirst(files: Page["files"]): Promise<void> {
  const link = takeLink();
  const again = readAgain();
  if (link === undefined && again !== undefined && (await files.openKept(again))) return;
  const [first] = SAMPLE_PLANS;
  const { id } = files.state.getState().document;
  if (link !== undefined && (await openLink(files, link))) return;
  const refused = files.state.getState().report;
  const text = await first?.load();
  // Someone may have been quicker.
  if (first && text !== undefined && files.state.getState().document.id === id) files.openText(text, first.file);
  // What was wrong with a link is still told beside the sample.
  if (link !== undefined) files.state.setState({ report: refused });
}

function readAgain(): string | undefined {
  try {
    const id = sessionStorage.getItem(OPEN_AGAIN) ?? undefined;
    sessionStorage.removeItem(OPEN_AGAIN);
    return id;
  } catch {
    return undefined;
  }
}

/** A sample plan to look at, and what was left behind last time. */
function useFirstPlan({ files }: Page): void {
  useEffect(() => {
    void openFirst(files).then(() => files.lookBehind());
    const leave = followLinks(files);
    if (import.meta.env.PROD) {
      // When the page has done all it has to.
      const timer = setTimeout(() => {
        void import("./offline/register.js").then(({ keepOffline }) => keepOffline(files, offline));
      }, SETTLED);
      return () => {
        clearTimeout(timer);
        leave();
      };
    }
    return leave;
  }, [files]);
}
