/** The title block with its scale bar, and the name of a sheet's deck where there are two. */
import { type DeckTone, deckTone, partnerDeck } from "../../drafting/decks.js";
import { lengthText } from "../../drafting/figures.js";
import { graduationText, scaleBar } from "../../drafting/graduations.js";
import type { Id, Plan } from "../../plan/schema.js";
import { useEditor } from "../editor-context.js";
import type { DeckView } from "../store.js";

const Swatch = ({ tone }: { readonly tone: DeckTone }) => <span className={`swatch ${tone}`} aria-hidden="true" />;

/** The name of a sheet's deck at its foot, and of the option where two are side by side. */
export function DeckName({ deck, option }: { readonly deck: Id; readonly option?: string | undefined }) {
  const decks = useEditor((state) => state.plan.decks);
  const units = useEditor((state) => state.units);
  const inHand = useEditor((state) => state.deck === deck);
  const record = decks[deck];
  if (!record) return null;
  return (
    <p className="deck-label" data-in-hand={inHand || undefined}>
      <Swatch tone={deckTone({ decks }, deck)} /> {option === undefined ? record.name : `${record.name}, ${option}`}
      <span className="figure">{lengthText(record.height, units)}</span>
    </p>
  );
}

export function TitleBlock() {
  const title = useEditor((state) => state.plan.title);
  const scale = useEditor((state) => state.plan.scale);
  const decks = useEditor((state) => state.plan.decks);
  const deck = useEditor((state) => state.deck);
  const view = useEditor((state) => state.deckView);
  return (
    <div className="title-block">
      <p className="title">{title || "Untitled plan"}</p>
      <p>{scaleText(scale)}</p>
      <p>{showsText(decks, deck, view)}</p>
      <ScaleBar />
    </div>
  );
}

const scaleText = (scale: Plan["scale"]): string =>
  scale.name.includes(":") ? scale.name : `${scale.name} 1:${Number(scale.ratio.toFixed(1))}`;

function showsText(decks: Plan["decks"], deck: Id, view: DeckView): string {
  const name = decks[deck]?.name ?? "No deck";
  const partner = partnerDeck({ decks }, deck);
  return view === "see-through" && partner !== undefined ? `${name}, others seen through` : name;
}

const BAR = 124;

function ScaleBar() {
  const scale = useEditor((state) => state.viewport.scale);
  const units = useEditor((state) => state.units);
  const length = scaleBar(scale, units, BAR);
  const px = length * scale;
  const text = (part: number): string =>
    graduationText(length * part, { major: Math.max(length / 2, 0.1), minor: length / 4 }, units);
  return (
    <svg className="scale-bar" width={BAR + 34} height="30" role="img" aria-label={`Scale bar, ${text(1)}`}>
      <path d={`M1 6H${1 + px}${[0, 0.25, 0.5, 1].map((part) => `M${1 + px * part} 2v8`).join("")}`} />
      {[0, 0.5, 1].map((part) => (
        <text key={part} x={1 + px * part} y="25" textAnchor={part === 0 ? "start" : "middle"}>
          {text(part)}
        </text>
      ))}
    </svg>
  );
}
