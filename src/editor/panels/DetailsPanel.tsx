/** Details of what is selected, every number typeable; of the plan while nothing is. */
import { lazy, memo, type ReactNode, Suspense, useDeferredValue, useMemo, useState } from "react";
import type { Id } from "../../plan/schema.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { detailsOf } from "./details/details-of.js";
import type { Section } from "./details/field.js";
import { FieldRow } from "./details/FieldRow.js";
import { LimitRow } from "./LimitRow.js";
import { thingKey } from "../../drafting/thing.js";

const Templates = lazy(() => import("./templates/Templates.js"));

export default function DetailsPanel() {
  const plan = useDeferredValue(useEditor((state) => state.plan));
  const layout = useDeferredValue(useEditor((state) => state.layout));
  const selection = useEditor((state) => state.selection);
  const units = useEditor((state) => state.units);
  const details = useMemo(() => detailsOf(plan, layout, selection, units), [plan, layout, selection, units]);
  // Fields of another thing are other fields, so that nothing typed for one lands on the other.
  const key = selection.map(thingKey).join(" ");
  const [only] = selection;
  const track = selection.length === 1 && only?.kind === "record" && only.collection === "tracks" ? only : undefined;
  return (
    <section className="details" aria-labelledby="details-title" key={key}>
      <header className="column-head">
        <h2 id="details-title">{details.title}</h2>
        <p className="quiet about">{details.about}</p>
      </header>
      {details.sections.map((section) => (
        <SectionOf key={section.id} section={section} track={track?.id} picked={track?.leg === section.leg} />
      ))}
      {details.consequence && <p className="quiet consequence">{details.consequence}</p>}
      {details.caution && <p className="caution">{details.caution}</p>}
    </section>
  );
}

interface SectionProps {
  readonly section: Section;
  /** The track in hand, of which the section may be a leg. */
  readonly track: Id | undefined;
  readonly picked: boolean;
}

/** Written anew only when it says something else: details are worked out again with every move of a hand that drags. */
const SectionOf = memo(({ section, track, picked }: SectionProps) => {
  const store = useEditorStore();
  const { leg } = section;
  const onEnter =
    track !== undefined && leg !== undefined
      ? () => store.getState().select([{ kind: "record", collection: "tracks", id: track, leg }])
      : undefined;
  const inside = (
    <>
      {section.fields.map((field) => (
        <FieldRow key={field.id} field={field} />
      ))}
      {section.things && (
        <ul className="things">
          {section.things.map(({ name, note, thing }) => (
            <li key={thingKey(thing)}>
              <button type="button" className="link" onClick={() => store.getState().select([thing])}>
                {name}
              </button>
              <span className="quiet figure">{note}</span>
            </li>
          ))}
        </ul>
      )}
      {section.templates !== undefined && (
        <Suspense fallback={null}>
          <Templates which={section.templates} />
        </Suspense>
      )}
      {section.limits?.map((path) => (
        <LimitRow key={path} path={path} />
      ))}
      {section.actions && section.actions.length > 0 && (
        <p className="actions">
          {section.actions.map((action) => (
            <button
              key={action.id}
              type="button"
              className="button"
              onClick={() => store.getState().edit(action.do(store.getState().history.plan))}
            >
              {action.name}
            </button>
          ))}
        </p>
      )}
    </>
  );
  if (section.folded) return <Folded title={section.title}>{inside}</Folded>;
  return (
    <div className="section">
      {section.title && (
        <h3>
          {section.title}
          {onEnter && !picked && (
            <button type="button" className="link" onClick={onEnter} aria-label={`Show ${section.title} on the sheet`}>
              show
            </button>
          )}
        </h3>
      )}
      {inside}
    </div>
  );
});

/** Made when it is first opened. */
function Folded({ title, children }: { readonly title: string | undefined; readonly children: ReactNode }) {
  const [opened, setOpened] = useState(false);
  return (
    <details className="section" onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>{title}</summary>
      {opened && children}
    </details>
  );
}
