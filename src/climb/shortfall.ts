/** What is missing where no route fits, and what would have to give: each said only after a search with it found one. */
import { limitsOf } from "../plan/class-limits.js";
import type { Millimetres } from "../geometry/units.js";
import { deriveLayout } from "../layout/derive.js";
import type { Plan } from "../plan/schema.js";
import { type ClimbEnd, type ClimbRoute, type ClimbStep, isTurnoutPlace } from "./request.js";
import type { Relaxation, Shortfall } from "./request.js";
import { overruled } from "./overrule.js";
import { type Search, searchOnce } from "./search-once.js";
import { reuse, setUp } from "./setup.js";
import { riseOver, runFor } from "./task.js";

/** Steps tried, gentlest first, and how often the last is halved. */
const STEEPER = [1.15, 1.4, 1.8, 2.4];
const SHARPER = [0.9, 0.8, 0.65];
const LOWER: readonly Millimetres[] = [15, 40, 80, 130];
const HALVINGS = { grade: 2, radius: 1, rise: 2 } as const;

/** Searches a plan eased to a value as far as its first route. */
type Trial = (value: number) => Generator<ClimbStep, ClimbRoute | undefined, void>;

export function* shortfallOf(search: Search, longest: Millimetres | undefined): Generator<ClimbStep, Shortfall, void> {
  const { layout, request, limits, ends } = search;
  const { plan } = layout;
  const own = limitsOf(plan, request.class);
  const rise = { low: ends.low, rise: ends.high - ends.low, level: request.level?.length ?? 0 };
  const [from, to] = [ends.from[0], ends.to[0]];
  const rooms = from && to ? ([from.room, to.room] as const) : undefined;
  const needed = rooms ? runFor(limits, { ...rise, rooms }, limits.usualGrade) : Number.POSITIVE_INFINITY;
  const fits: Relaxation[] = [];

  const graded: Trial = function* (value) {
    const eased = yield* quietly(reuse(search, overruled(plan, { ...request, grade: value }), layout), "grade");
    return yield* firstRoute(eased, "grade");
  };
  // A route found at one grade tells the grade it needs itself: limits of both kinds were raised alike.
  const enough = ({ figures }: ClimbRoute): number =>
    Math.ceil(100 * Math.max(figures.ruling, figures.felt - own.feltGrade.value + own.grade.value) - 1e-6) / 100;
  const steeper = STEEPER.map((by) => Math.round(own.grade.value * by * 100) / 100);
  const grade = yield* leastThatFits(own.grade.value, steeper, HALVINGS.grade, 0.01, graded, enough);
  if (grade !== undefined) fits.push({ what: "grade", value: grade, unit: "percent" });

  const sharper: Trial = function* (value) {
    const eased = overruled(plan, { ...request, radius: value });
    const { ground } = search.passes[0]?.prepared ?? {};
    // The wider curves that were searched with already have no route.
    const searched = search.passes.map((pass) => pass.limits.radius);
    const asked = { ...request, radius: value };
    const trial = yield* quietly(setUp(eased, asked, deriveLayout(eased, layout), ground, searched), "radius");
    return yield* firstRoute(trial, "radius");
  };
  const radii = SHARPER.map((by) => Math.round(own.radius.value * by));
  const radius = yield* leastThatFits(own.radius.value, radii, HALVINGS.radius, 1, sharper);
  if (radius !== undefined) fits.push({ what: "radius", value: radius, unit: "mm" });

  const lower: Trial = function* (value) {
    const eased = lowered(plan, request.to, value);
    if (!eased) return undefined;
    return yield* firstRoute(yield* quietly(reuse(search, eased, layout), "rise"), "rise");
  };
  // What the longest way gains at the best; the upper deck must come down by the rest, and by more where that way is no route.
  const bests =
    rooms && longest !== undefined
      ? [Number.POSITIVE_INFINITY, 1.25 * limits.radius, limits.radius].map((sharpest) =>
          Math.max(1, Math.ceil(rise.rise - riseOver(limits, { ...rise, rooms }, longest, limits.gradeOn(sharpest)))),
        )
      : [];
  const last = Math.max(0, ...bests);
  const steps = [...new Set([...bests, ...LOWER.map((by) => last + by)])];
  const less = yield* leastThatFits(Math.max(0, (steps[0] ?? 1) - 1), steps, HALVINGS.rise, 1, lower);
  if (less !== undefined) fits.push({ what: "rise", value: less, unit: "mm" });
  return { needed, grade: 100 * limits.usualGrade, longest, fits };
}

function* firstRoute(
  search: Search | { readonly why: string },
  what: string,
): Generator<ClimbStep, ClimbRoute | undefined, void> {
  if ("why" in search) return undefined;
  const { routes } = yield* quietly(searchOnce(search, true), what);
  return routes[0];
}

/**
 * The first step that fits, brought nearer to the last that does not by halving; what is told has been found to fit.
 * `enough`: what a route that was found would have needed, which may be less than what it was found with.
 */
function* leastThatFits(
  limit: number,
  steps: readonly number[],
  halvings: number,
  unit: number,
  trial: Trial,
  enough?: (route: ClimbRoute) => number,
): Generator<ClimbStep, number | undefined, void> {
  let short = limit;
  for (const step of steps) {
    const found = yield* trial(step);
    if (!found) {
      short = step;
      continue;
    }
    let route: ClimbRoute = found;
    let fit = step;
    for (let i = 0; i < halvings && Math.abs(fit - short) > unit; i++) {
      const asked: number | undefined = enough?.(route);
      if (asked !== undefined && asked < fit && asked > short) {
        const again: ClimbRoute | undefined = yield* trial(asked);
        if (again) [fit, route] = [asked, again];
      }
      const between = Math.round(Math.round((short + fit) / 2 / unit) * unit * 1e6) / 1e6;
      const nearer = between !== fit && between !== short ? yield* trial(between) : undefined;
      if (nearer) [fit, route] = [between, nearer];
      else short = between;
    }
    return Math.round(fit * 1e6) / 1e6;
  }
  return undefined;
}

/** Routes of a trial are not the plan's: only that it goes on is passed on. */
function* quietly<T>(steps: Generator<ClimbStep, T, void>, what: string): Generator<ClimbStep, T, void> {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (step.value.kind === "progress") yield { ...step.value, stage: `easing ${what}` };
  }
}

/** The plan with the deck of the upper end lower by so much; undefined where the end lies on no deck of its own. */
function lowered(plan: Plan, to: ClimbEnd, by: Millimetres): Plan | undefined {
  const track = isTurnoutPlace(to) || "track" in to ? to.track : plan.turnouts[to.turnout]?.on;
  const id = track === undefined ? undefined : plan.tracks[track]?.deck;
  const deck = id === undefined ? undefined : plan.decks[id];
  if (id === undefined || !deck || deck.height <= by) return undefined;
  return { ...plan, decks: { ...plan.decks, [id]: { ...deck, height: deck.height - by } } };
}
