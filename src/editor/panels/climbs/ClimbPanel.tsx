/** Climb routes in the margin: where the climb leaves and arrives, what is wished for, and the routes as they are found. */
import { useEffect, useId, useMemo, useState } from "react";
import { useStore } from "zustand";
import { NONE_FOUND, shortfallSentences } from "../../../exchange/climb-text.js";
import { climbs, type ClimbSearch, isSearching, order } from "../../climb-store.js";
import { type ClimbDesk, makeClimbDesk } from "../../climbs/desk.js";
import { endSpot } from "../../climbs/ends.js";
import { pageSearcher } from "../../climbs/on-page.js";
import { isStale } from "../../climbs/take-route.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import { sentence } from "../../tools/outcomes.js";
import { EndChoice, Wishes } from "./ClimbWishes.js";
import { RouteCard } from "./RouteCard.js";
import "./climbs.css";

export default function ClimbPanel() {
  const title = useId();
  const desk = useDesk();
  const store = useEditorStore();
  const close = (): void => {
    climbs.setState({ open: false });
    if (store.getState().tool === "climb-routes") store.getState().takeTool("select");
  };
  return (
    <section className="climbs" aria-labelledby={title}>
      <header className="column-head">
        <h2 id={title}>Climb routes</h2>
        <button type="button" className="link" onClick={close}>
          Close
        </button>
      </header>
      <EndChoice which="from" label="Leaves" />
      <EndChoice which="to" label="Arrives" />
      <Wishes />
      <SearchBar />
      <Found desk={desk} />
    </section>
  );
}

function useDesk(): ClimbDesk {
  const store = useEditorStore();
  const [desk] = useState(() => makeClimbDesk(store, climbs, pageSearcher()));
  useEffect(() => desk.attend(), [desk]);
  return desk;
}

/** What the search is at, as it names its stages. */
const STAGE_WORDS: Readonly<Record<string, string>> = {
  turns: "Turns that fit the benches",
  diagonals: "Ways across the benches",
  helices: "Helices that fit",
  ways: "Ways from end to end",
  readings: "Held against the readings",
  "easing grade": "Would a steeper grade do",
  "easing radius": "Would a sharper radius do",
  "easing rise": "Would a lower deck do",
};

function SearchBar() {
  const layout = useEditor((state) => state.settled);
  const wishes = useStore(climbs, (state) => state.wishes);
  const search = useStore(climbs, (state) => state.search);
  const ready = endSpot(layout, wishes.from) !== undefined && endSpot(layout, wishes.to) !== undefined;
  const searching = isSearching({ search });
  return (
    <div className="climb-search" aria-busy={searching}>
      {searching ? (
        <button type="button" className="button" onClick={() => order(climbs, "stop")}>
          Stop
        </button>
      ) : (
        <button
          type="button"
          className="button strong"
          aria-disabled={!ready}
          onClick={() => ready && order(climbs, "search")}
        >
          Search
        </button>
      )}
      <output className="quiet" aria-live="polite">
        {search ? stateText(search) : ready ? "Nothing searched yet." : "Choose both ends first."}
      </output>
    </div>
  );
}

function stateText({ state, progress, routes, refusal }: ClimbSearch): string {
  const found = `${routes.length} ${routes.length === 1 ? "route" : "routes"}`;
  if (refusal !== undefined) return sentence(refusal);
  if (state === "stopped") return `Stopped; ${found} until then.`;
  if (state === "answered")
    return routes.length > 1 ? `${found}, each of another shape.` : routes.length > 0 ? `${found}.` : "None found.";
  const stage = progress ? (STAGE_WORDS[progress.stage] ?? progress.stage) : "Measuring the benches";
  return `${stage} … ${routes.length > 0 ? `${found} so far` : ""}`;
}

function Found({ desk }: { readonly desk: ClimbDesk }) {
  const search = useStore(climbs, (state) => state.search);
  const shown = useStore(climbs, (state) => state.shown);
  const plan = useEditor((state) => state.history.plan);
  const units = useEditor((state) => state.units);
  const searched = search?.layout.plan;
  const stale = useMemo(() => searched !== undefined && isStale(searched, plan), [searched, plan]);
  if (!search) return null;
  const { routes, shortfall, request } = search;
  const upper = searched?.decks[endSpot(search.layout, request.to)?.deck ?? ""]?.name;
  return (
    <div className="climb-found">
      {stale && (
        <p className="climb-stale">
          <span>The plan has changed since: these belong to an older one.</span>
          <button type="button" className="link" onClick={() => order(climbs, "search")}>
            Search again
          </button>
        </p>
      )}
      {request.grade !== undefined || request.radius !== undefined ? (
        <p className="quiet">A route taken brings the limits it was searched with: they are overruled for the class.</p>
      ) : null}
      <ol className="climb-list" aria-label="Routes found">
        {routes.map((route, i) => (
          <RouteCard
            key={`${i + 1}`}
            number={i + 1}
            route={route}
            asked={search.layout}
            desk={desk}
            shown={route === shown}
          />
        ))}
      </ol>
      {shortfall && (
        <div className="climb-none">
          {shortfallSentences(shortfall, units, upper).map((text) => (
            <p key={text}>{text}</p>
          ))}
          <p className="quiet">{NONE_FOUND}</p>
        </div>
      )}
    </div>
  );
}
