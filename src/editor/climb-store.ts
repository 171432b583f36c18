/**
 * The search for climb routes beside the sheet: what is wished for, how far it has come, and which route is looked at.
 * It is no part of the plan, of no file and of no undo.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { ClimbEnd, ClimbRequest, ClimbRoute, ClimbStep, Shortfall } from "../climb/request.js";
import type { Layout } from "../layout/layout.js";
import type { Route } from "../layout/route.js";
import { amend } from "../plan/edit.js";

/** Everything of a request; the ends may be picked in either order. */
export interface ClimbWishes extends Omit<ClimbRequest, "from" | "to"> {
  readonly from?: ClimbEnd;
  readonly to?: ClimbEnd;
}

/** A search that has been begun. */
export interface ClimbSearch {
  /** Of the plan that was asked about; routes are edits of that plan. */
  readonly layout: Layout;
  readonly request: ClimbRequest;
  /** stopped: given up before its answer. */
  readonly state: "searching" | "answered" | "stopped";
  readonly progress: Extract<ClimbStep, { readonly kind: "progress" }> | undefined;
  /** As they came; best first once answered. */
  readonly routes: readonly ClimbRoute[];
  readonly shortfall: Shortfall | undefined;
  /** Why there is nothing to search. */
  readonly refusal: string | undefined;
}

/** A route that is looked at: the plan as it would be, and the way along it. */
export interface Proposed {
  readonly name: string;
  readonly layout: Layout;
  readonly route: Route;
}

export interface ClimbsState {
  /** The panel is shown. */
  readonly open: boolean;
  readonly wishes: ClimbWishes;
  /** What the tool wants done; every order is an object of its own. */
  readonly order: { readonly do: "search" | "stop" } | undefined;
  readonly search: ClimbSearch | undefined;
  /** The route looked at, of those found. */
  readonly shown: ClimbRoute | undefined;
  readonly proposed: Proposed | undefined;
}

export type ClimbStore = StoreApi<ClimbsState>;

const NOTHING: ClimbsState = {
  open: false,
  wishes: { class: "main" },
  order: undefined,
  search: undefined,
  shown: undefined,
  proposed: undefined,
};

export const createClimbs = (): ClimbStore => createStore<ClimbsState>()(() => NOTHING);

/** The page's own. */
export const climbs = createClimbs();

/** Wishes changed; one given as undefined is wished no longer. */
export const wish = (
  store: ClimbStore,
  change: { readonly [K in keyof ClimbWishes]?: ClimbWishes[K] | undefined },
): void => store.setState(({ wishes }) => ({ wishes: amend<ClimbWishes>(wishes, change) }));

export const order = (store: ClimbStore, what: "search" | "stop"): void => store.setState({ order: { do: what } });

export const isSearching = ({ search }: Pick<ClimbsState, "search">): boolean => search?.state === "searching";
