/**
 * Where the search for climb routes comes together: orders of tool and panel are carried out, routes found are kept, the
 * one looked at is laid over the sheet, the one taken becomes part of the plan.
 *
 * Always holds: nothing here changes the plan but `take`, by one edit; what a search that was given up still says is not
 * heard.
 */
import type { ClimbRequest, ClimbRoute, ClimbStep } from "../../climb/request.js";
import { poseAt } from "../../geometry/path.js";
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import type { LineKey, LinePlace } from "../../layout/line.js";
import { optionName } from "../../plan/option-records.js";
import type { Plan } from "../../plan/schema.js";
import {
  type ClimbSearch,
  type ClimbStore,
  type ClimbWishes,
  isSearching,
  type Proposed,
  wish,
} from "../climb-store.js";
import type { EditorStore } from "../store.js";
import type { Overlay } from "../tool.js";
import { sentence } from "../tools/outcomes.js";
import { endSpot } from "./ends.js";
import type { Searcher } from "./searcher.js";
import { type TakeAs, takeRoute } from "./take-route.js";

export interface ClimbDesk {
  /** Looks at a route of those found, or at none. */
  readonly show: (route: ClimbRoute | undefined) => void;
  /** Takes one into the plan; a refusal is said. Returns whether it was taken. */
  readonly take: (route: ClimbRoute, as: TakeAs) => boolean;
  /** Begins to hear orders. The function given back ends it: a search is given up, and nothing lies over the sheet. */
  readonly attend: () => () => void;
}

export function makeClimbDesk(editor: EditorStore, climbs: ClimbStore, searcher: Searcher): ClimbDesk {
  const amend = (change: Partial<ClimbSearch>): void =>
    climbs.setState(({ search }) => (search ? { search: { ...search, ...change } } : {}));

  const show = (route: ClimbRoute | undefined): void => {
    const { search, shown } = climbs.getState();
    if (route === shown) return;
    const proposed = search && route && proposedBy(search, route);
    climbs.setState({ shown: route, proposed });
    layOver();
  };

  /** The route looked at, and on it the place that is pointed at in its profile. */
  const layOver = (): void => {
    const { search, shown, proposed } = climbs.getState();
    const { hover, laidOver, setLaidOver } = editor.getState();
    const overlay = search && shown && proposed ? overlayOf(search, shown, proposed, hover) : [];
    if (overlay.length > 0 || laidOver.length > 0) setLaidOver(overlay);
  };

  const hear = (step: ClimbStep): void => {
    const { search, shown } = climbs.getState();
    if (!search) return;
    if (step.kind === "progress") return amend({ progress: step });
    if (step.kind === "refused") return amend({ state: "answered", refusal: step.why });
    if (step.kind === "route") {
      amend({ routes: [...search.routes, step.route] });
      if (!shown) show(step.route);
      return;
    }
    amend({ state: "answered", routes: step.routes, shortfall: step.shortfall });
    if (!shown || !step.routes.includes(shown)) show(step.routes[0]);
  };

  const search = (): void => {
    const { settled: layout } = editor.getState();
    const request = requestOf(layout, climbs.getState().wishes);
    show(undefined);
    const begun = { layout, progress: undefined, routes: [], shortfall: undefined };
    if ("why" in request) {
      searcher.stop();
      // Nothing was asked: the wishes as they are stand for the request.
      climbs.setState({ search: undefined });
      editor.getState().say(request.why);
      return;
    }
    climbs.setState({ search: { ...begun, request, state: "searching", refusal: undefined } });
    searcher.search({ layout, request }, hear);
  };

  const stop = (): void => {
    searcher.stop();
    if (isSearching(climbs.getState())) amend({ state: "stopped" });
  };

  /** The tool says what can be done now. It may be what changed it: it is asked once it is done. */
  const refreshTool = (): void =>
    queueMicrotask(() => {
      const { tool, dispatch } = editor.getState();
      if (tool === "climb-routes") dispatch({ type: "choose", choice: "", value: "" });
    });

  const obey = ({ order }: Pick<ReturnType<ClimbStore["getState"]>, "order">): void => {
    if (order?.do === "search") search();
    else if (order?.do === "stop") stop();
  };
  const attend = (): (() => void) => {
    const endOrders = climbs.subscribe((now, before) => {
      if (now.order !== before.order) obey(now);
      if (now.wishes !== before.wishes || now.search?.state !== before.search?.state) refreshTool();
    });
    // A history that begins is another plan: what was found for the last one is of no use to it.
    const endEditor = editor.subscribe(({ history: now, hover }, { history: before, hover: hadHover }) => {
      if (hover !== hadHover && climbs.getState().shown) layOver();
      if (now.plan === before.plan || now.past || now.future) return;
      stop();
      show(undefined);
      climbs.setState({ search: undefined });
      wish(climbs, { from: undefined, to: undefined, allow: undefined });
    });
    // The tool may have been quicker than the panel that opens this desk.
    const early = climbs.getState().order;
    climbs.setState({ order: undefined });
    if (early) obey({ order: early });
    return () => {
      stop();
      endOrders();
      endEditor();
      show(undefined);
      climbs.setState({ search: undefined, order: undefined });
    };
  };

  return {
    show,
    take(route, as) {
      const { settled, history, edit, select, say } = editor.getState();
      const { search: done } = climbs.getState();
      if (!done) return false;
      const taken = takeRoute(settled, done.layout.plan, done.request.class, route, as);
      if (!taken.edit.ok) {
        say(sentence(taken.edit.message));
        return false;
      }
      if (!edit(taken.edit)) return false;
      show(undefined);
      select([{ kind: "record", collection: "tracks", id: taken.track }]);
      say(as === "option" ? `Taken as the option ${taken.name}.` : `Taken into ${belonging(history.plan)}.`);
      return true;
    },
    attend,
  };
}

/** Where what is drawn now belongs. */
export const belonging = (plan: Plan): string =>
  plan.option === undefined ? "the plan" : optionName(plan, plan.option);

/** The ends in order of their height. */
function requestOf(layout: Layout, { from, to, ...wishes }: ClimbWishes): ClimbRequest | { readonly why: string } {
  const [a, b] = [endSpot(layout, from), endSpot(layout, to)];
  if (!a || !b) return { why: "Choose where the climb leaves the lower deck and where it arrives." };
  const [low, high] = a.height <= b.height ? [a, b] : [b, a];
  return { ...wishes, from: low.end, to: high.end };
}

const laid = new WeakMap<ClimbRoute, Layout>();

/** The plan that was asked about with a route in it. */
export function layoutWith(asked: Layout, route: ClimbRoute): Layout {
  let known = laid.get(route);
  if (!known) laid.set(route, (known = deriveLayout(route.edit.plan, asked)));
  return known;
}

function proposedBy(search: ClimbSearch, route: ClimbRoute): Proposed | undefined {
  const layout = layoutWith(search.layout, route);
  const line: LineKey = `track:${route.track}`;
  const length = layout.lines.get(line)?.path.length;
  if (length === undefined) return undefined;
  const name = `Route ${search.routes.indexOf(route) + 1}`;
  return { name, layout, route: { stretches: [{ line, from: 0, to: length }], length } };
}

/** The outlines of benches it brings, the route's line, and the place on it that is pointed at. */
function overlayOf(
  { layout: asked }: ClimbSearch,
  route: ClimbRoute,
  { layout }: Proposed,
  hover: LinePlace | undefined,
): Overlay[] {
  const path = layout.lines.get(`track:${route.track}`)?.path;
  const overlay: Overlay[] = path ? [{ kind: "path", path, style: "selected" }] : [];
  for (const [id, { shape }] of Object.entries(layout.plan.benches)) {
    if (Object.hasOwn(asked.plan.benches, id) || !("outline" in shape)) continue;
    overlay.unshift({ kind: "line", points: shape.outline, closed: true, style: "guide" });
  }
  if (path && hover?.line === `track:${route.track}`) {
    overlay.push({ kind: "handle", at: poseAt(path, hover.s), shape: "ring", name: "", hot: true });
  }
  return overlay;
}
