/** What is missing where no route fits, and what would have to give: each said only after a search with it found one. */
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";
import { limitsOf } from "../readings/rule.js";
import { overruled } from "./overrule.js";
import type { ClimbRequest, ClimbStep, Relaxation, Shortfall } from "./request.js";
import { type PlainAnswer, searchOnce } from "./search-once.js";

/** Steps tried, gentlest first; the least that finds a route is told. */
const STEEPER = [1.1, 1.2, 1.35, 1.5, 1.75, 2, 2.4];
const SHARPER = [0.94, 0.88, 0.8, 0.72, 0.64];
const LOWER: readonly Millimetres[] = [15, 30, 50, 75, 100, 140, 180];

export function* shortfallOf(
  plan: Plan,
  request: ClimbRequest,
  { needed, grade, longest }: PlainAnswer,
): Generator<ClimbStep, Shortfall, void> {
  const own = limitsOf(plan, request.class);
  const fits: Relaxation[] = [];
  const trials: readonly (readonly [Relaxation["what"], readonly number[]])[] = [
    ["grade", STEEPER.map((by) => Math.round(own.grade.value * by * 100) / 100)],
    ["radius", SHARPER.map((by) => Math.round(own.radius.value * by))],
    ["rise", LOWER],
  ];
  for (const [what, values] of trials) {
    for (const value of values) {
      const eased = what === "rise" ? lowered(plan, request, value) : overruled(plan, { ...request, [what]: value });
      if (!eased) break;
      const answer = yield* quietly(searchOnce(eased, request, undefined, true), what);
      if (!answer || answer.routes.length === 0) continue;
      fits.push({ what, value, unit: what === "grade" ? "percent" : "mm" });
      break;
    }
  }
  return { needed, grade, longest, fits };
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
function lowered(plan: Plan, { to }: ClimbRequest, by: Millimetres): Plan | undefined {
  const track = "track" in to ? to.track : plan.turnouts[to.turnout]?.on;
  const id = track === undefined ? undefined : plan.tracks[track]?.deck;
  const deck = id === undefined ? undefined : plan.decks[id];
  if (id === undefined || !deck || deck.height <= by) return undefined;
  return { ...plan, decks: { ...plan.decks, [id]: { ...deck, height: deck.height - by } } };
}
