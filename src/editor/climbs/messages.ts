/**
 * What page and worker say to one another about a search. A route is sent as what it changes of the plan that was asked
 * about, and once only.
 */
import { type PlanPatch, patched, planPatch } from "../../plan/patch.js";
import type { Plan } from "../../plan/schema.js";
import type { ClimbRequest, ClimbRoute, ClimbStep } from "../../climb/request.js";

/** A search has a number, and so has what is told of it: what still comes of an earlier one is not heard. */
export type Asked =
  | { readonly ask: "search"; readonly search: number; readonly plan: Plan; readonly request: ClimbRequest }
  | { readonly ask: "stop" };

type PackedRoute = Omit<ClimbRoute, "edit"> & { readonly name: string; readonly patch: PlanPatch };
type PackedStep =
  | Exclude<ClimbStep, { readonly kind: "route" | "answer" }>
  | { readonly kind: "route"; readonly route: PackedRoute }
  /** A number is the place of a route among those sent before. */
  | (Omit<Extract<ClimbStep, { readonly kind: "answer" }>, "routes"> & {
      readonly routes: readonly (PackedRoute | number)[];
    });

export interface Told {
  readonly search: number;
  readonly steps: readonly PackedStep[];
}

/** Steps of one search as they are sent; remembers the routes that were. */
export function packer(plan: Plan): (step: ClimbStep) => PackedStep {
  const sent: ClimbRoute[] = [];
  const pack = ({ edit, ...route }: ClimbRoute): PackedRoute => ({
    ...route,
    name: edit.name,
    patch: planPatch(plan, edit.plan),
  });
  return (step) => {
    if (step.kind === "route") {
      sent.push(step.route);
      return { kind: "route", route: pack(step.route) };
    }
    if (step.kind !== "answer") return step;
    const routes = step.routes.map((route) => {
      const place = sent.indexOf(route);
      return place < 0 ? pack(route) : place;
    });
    return { ...step, routes };
  };
}

/** The other way: routes as edits of the page's own plan, whose untouched records stay the objects they are. */
export function unpacker(plan: Plan): (step: PackedStep) => ClimbStep {
  const got: ClimbRoute[] = [];
  const unpack = ({ name, patch, ...route }: PackedRoute): ClimbRoute => ({
    ...route,
    edit: { ok: true, name, plan: patched(plan, patch) },
  });
  return (step) => {
    if (step.kind === "route") {
      const route = unpack(step.route);
      got.push(route);
      return { kind: "route", route };
    }
    if (step.kind !== "answer") return step;
    const routes = step.routes.flatMap((route) => (typeof route === "number" ? (got[route] ?? []) : [unpack(route)]));
    return { ...step, routes };
  };
}
