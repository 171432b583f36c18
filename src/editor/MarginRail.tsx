/** The left margin: which deck is in hand, how the others are seen, and the plans that come with the program. */
import { decksInOrder, firstDeck, lengthText, type Plan } from "../core/index.js";
import { SAMPLE_PLANS, type SamplePlan } from "./sample-plans.js";

export interface View {
  readonly see: "deck" | "see-through";
  /** The deck in hand; the first scenic one where left out. */
  readonly deck?: string;
}

export interface MarginRailProps {
  readonly plan: Plan | undefined;
  readonly view: View;
  readonly onView: (view: View) => void;
  readonly file: string | undefined;
  readonly onSample: (sample: SamplePlan) => void;
}

const SEE = [
  { see: "deck", name: "One deck" },
  { see: "see-through", name: "See-through" },
] as const;

export function MarginRail({ plan, view, onView, file, onSample }: MarginRailProps) {
  const decks = plan ? decksInOrder(plan).reverse() : [];
  const hand = view.deck ?? (plan && firstDeck(plan));
  return (
    <nav className="rail" aria-label="Views and plans">
      {plan && decks.length > 0 && (
        <fieldset className="choices">
          <legend>Deck</legend>
          {decks.map((id) => (
            <label key={id}>
              <input type="radio" name="deck" checked={id === hand} onChange={() => onView({ ...view, deck: id })} />
              <span>{plan.decks[id]?.name ?? id}</span>
              <span className="figure">{lengthText(plan.decks[id]?.height ?? 0, plan.units)}</span>
            </label>
          ))}
        </fieldset>
      )}
      {plan && decks.length > 1 && (
        <fieldset className="choices">
          <legend>View</legend>
          {SEE.map(({ see, name }) => (
            <label key={see}>
              <input type="radio" name="view" checked={view.see === see} onChange={() => onView({ ...view, see })} />
              <span>{name}</span>
            </label>
          ))}
        </fieldset>
      )}
      {SAMPLE_PLANS.length > 0 && (
        <section className="choices" aria-labelledby="samples">
          <h2 id="samples">Sample plans</h2>
          <ul>
            {SAMPLE_PLANS.map((sample) => (
              <li key={sample.file}>
                <button
                  type="button"
                  aria-current={sample.file === file ? "true" : undefined}
                  onClick={() => onSample(sample)}
                >
                  {sample.name}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <p className="quiet">Drop a plan file anywhere on the page to see it.</p>
    </nav>
  );
}
