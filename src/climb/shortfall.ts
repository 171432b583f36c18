/** What is missing where no route fits, and what would have to give: each said only after a search with it found one. */
import { limitsOf } from "../plan/class-limits.js";
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";
import { overruled } from "./overrule.js";
import type { ClimbRequest, ClimbStep, Relaxation, Shortfall } from "./request.js";
import { type PlainAnswer, searchOnce } from "./search-once.js";

/** Steps tried, gentlest first, and how often the last is halved. */
const STEEPER = [1.15, 1.4, 1.8, 2.4];
const SHARPER = [0.9, 0.8, 0.65];
const HALVINGS = 4;
const LOWER: readonly Millimetres[] = [20, 50, 100, 150];

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
    const fitsWith = function* (value: number): Generator<ClimbStep, boolean, void> {
      const eased = what === "rise" ? lowered(plan, request, value) : overruled(plan, { ...request, [what]: value });
      const answer = eased && (yield* quietly(searchOnce(eased, request, undefined, true), what));
      return answer !== undefined && answer.routes.length > 0;
    };
    const value = yield* leastThatFits(what === "rise" ? 0 : own[what].value, values, fitsWith);
    if (value !== undefined) fits.push({ what, value, unit: what === "grade" ? "percent" : "mm" });
  }
  return { needed, grade, longest, fits };
}

/** The first step that fits, brought nearer to the last that does not by halving; what is told has been found to fit. */
function* leastThatFits(
  limit: number,
  steps: readonly number[],
  fitsWith: (value: number) => Generator<ClimbStep, boolean, void>,
): Generator<ClimbStep, number | undefined, void> {
  let short = limit;
  for (const step of steps) {
    if (!(yield* fitsWith(step))) {
      short = step;
      continue;
    }
    let fit = step;
    for (let i = 0; i < HALVINGS; i++) {
      const between = Math.round(50 * (short + fit)) / 100;
      if (yield* fitsWith(between)) fit = between;
      else short = between;
    }
    return fit;
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
function lowered(plan: Plan, { to }: ClimbRequest, by: Millimetres): Plan | undefined {
  const track = "track" in to ? to.track : plan.turnouts[to.turnout]?.on;
  const id = track === undefined ? undefined : plan.tracks[track]?.deck;
  const deck = id === undefined ? undefined : plan.decks[id];
  if (id === undefined || !deck || deck.height <= by) return undefined;
  return { ...plan, decks: { ...plan.decks, [id]: { ...deck, height: deck.height - by } } };
}
