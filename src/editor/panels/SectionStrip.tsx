/** The section in the bottom margin: the cut drawn live, its ends typed, who stands in it, and a copy of it as SVG. */
import { type PointerEvent, useDeferredValue, useEffect, useId, useMemo, useRef, useState } from "react";
import { useStore } from "zustand";
import { lengthText } from "../../drafting/figures.js";
import { drawSectionSvg, layOutSection, sectionMarkup } from "../../exchange/svg/section.js";
import { type Cut, deriveSection } from "../../layout/section.js";
import { operatorsOf, standIn } from "../../layout/section-sight.js";
import { formatPoint, parsePoint } from "../../plan/parse-point.js";
import { throwsOf } from "../../readings/envelope.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import { download } from "../files/disk.js";
import { sections } from "../section-store.js";
import { DrawnMarkup } from "./DrawnMarkup.js";
import { useSizeOf } from "./use-size-of.js";
import "./section.css";

/** A name that every disk takes. */
const fileName = (title: string): string => `${title.replace(/[^\p{L}\p{N}]+/gu, "-").toLowerCase()}-section.svg`;

export default function SectionStrip() {
  const title = useId();
  const view = useSection();
  const { plan, section, standing, units, theme } = view;
  useLineOnSheet();
  const save = (): void => {
    if (!section) return;
    download(fileName(plan.title), drawSectionSvg(plan, section, { standing, units, theme }), "image/svg+xml");
  };
  return (
    <section className="profile section-strip" aria-labelledby={title}>
      <header className="profile-head">
        <h2 id={title}>Section</h2>
        <Ends units={units} />
        {section && <Standing view={view} />}
        <span className="section-actions">
          <button
            type="button"
            className="link"
            title="Look at the cut from its other side"
            onClick={turnRound}
            disabled={!section}
          >
            Turn round
          </button>
          <button type="button" className="link" onClick={save} disabled={!section}>
            Save as SVG
          </button>
          <button type="button" className="link" onClick={() => sections.setState({ open: false })}>
            Close
          </button>
        </span>
      </header>
      {section ? <Drawing view={view} /> : <p className="quiet empty">Draw a line across the room on the sheet.</p>}
    </section>
  );
}

const turnRound = (): void => {
  const { cut } = sections.getState();
  if (cut) sections.setState({ cut: { from: cut.to, to: cut.from }, stand: undefined });
};

/** The line on the sheet follows what is typed here: its tool, where it is in hand, is made to show itself again. */
function useLineOnSheet(): void {
  const store = useEditorStore();
  const cut = useStore(sections, (state) => state.cut);
  useEffect(() => {
    const { tool, dispatch } = store.getState();
    if (cut && tool === "section") dispatch({ type: "choose", choice: "cut", value: "" });
  }, [store, cut]);
}

/** The section of the plan that is shown, with who stands in it. */
function useSection() {
  const layout = useDeferredValue(useEditor((state) => state.layout));
  const units = useEditor((state) => state.units);
  const theme = useEditor((state) => state.theme);
  const { cut, operator, stand } = useStore(sections);
  const { plan } = layout;
  const section = useMemo(() => cut && deriveSection(layout, cut, (line) => throwsOf(layout, line)), [layout, cut]);
  const operators = operatorsOf(plan);
  const who = operators.find(({ name }) => name === operator) ?? operators[0];
  const standing = useMemo(
    () => (section && who ? (standIn(section, who, stand) ?? standIn(section, who)) : undefined),
    [section, who, stand],
  );
  return { plan, section, standing, operators, units, theme };
}

type View = ReturnType<typeof useSection>;

function Ends({ units }: Pick<View, "units">) {
  const cut = useStore(sections, (state) => state.cut);
  if (!cut) return null;
  return (
    <span className="section-ends">
      <End name="A" end="from" cut={cut} units={units} />
      <End name="B" end="to" cut={cut} units={units} />
    </span>
  );
}

interface EndProps extends Pick<View, "units"> {
  readonly name: string;
  readonly end: keyof Cut;
  readonly cut: Cut;
}

/** An end of the cut, typed as the way across and the way up. */
function End({ name, end, cut, units }: EndProps) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const [fault, setFault] = useState("");
  const commit = (): void => {
    if (typed === undefined) return;
    const read = parsePoint(typed, units);
    if (!read.ok) return setFault(read.message);
    sections.setState({ cut: { ...cut, [end]: read.point }, stand: undefined });
    setTyped(undefined);
    setFault("");
  };
  return (
    <span className="section-end">
      <label htmlFor={id}>{name}</label>
      <input
        id={id}
        className="figure"
        value={typed ?? formatPoint(cut[end], units)}
        title="Across, up: as 4′ 6″, 3′ or 1200, 850"
        aria-invalid={fault !== ""}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          event.stopPropagation();
          if (event.key === "Enter") commit();
          if (event.key === "Escape") {
            setTyped(undefined);
            setFault("");
          }
        }}
      />
      {fault && (
        <span id={`${id}-fault`} className="fault" role="alert">
          {fault}
        </span>
      )}
    </span>
  );
}

/** Who stands there, and where. */
function Standing({ view: { operators, standing, section, units } }: { readonly view: View }) {
  const id = useId();
  if (!section || operators.length === 0) return null;
  return (
    <span className="section-standing">
      <select
        aria-label="Who stands in the aisle"
        value={standing?.operator.name ?? ""}
        onChange={(event) => sections.setState({ operator: event.target.value })}
      >
        {!standing && <option value="">nobody finds room</option>}
        {operators.map(({ name, eye }) => (
          <option key={name} value={name}>
            {name}, {lengthText(eye, units)}
          </option>
        ))}
      </select>
      {standing && (
        <>
          <label htmlFor={id} className="unseen">
            Where they stand, from A
          </label>
          <input
            id={id}
            type="range"
            min={0}
            max={Math.round(section.length)}
            step={units === "imperial" ? 25.4 : 20}
            value={standing.at}
            aria-valuetext={`${lengthText(standing.at, units)} from A`}
            onChange={(event) => sections.setState({ stand: Number(event.target.value) })}
          />
        </>
      )}
    </span>
  );
}

function Drawing({ view }: { readonly view: View }) {
  const { plan, section, standing, units, theme } = view;
  const box = useRef<HTMLDivElement>(null);
  const size = useSizeOf(box);
  const drawn = useMemo(() => {
    if (!section || !size || size.width < 80 || size.height < 80) return undefined;
    const sheet = layOutSection(plan, section, { fit: size, theme, units });
    return { sheet, markup: sectionMarkup(sheet, section, { fit: size, standing, units }) };
  }, [plan, section, standing, units, theme, size]);

  const standUnder = (event: PointerEvent<SVGSVGElement>): void => {
    if (!drawn || !section || (event.type === "pointermove" && event.buttons !== 1)) return;
    const x = event.clientX - event.currentTarget.getBoundingClientRect().left;
    const at = (x * drawn.sheet.pen - drawn.sheet.origin.x) * drawn.sheet.scale;
    if (standing && standIn(section, standing.operator, at)) sections.setState({ stand: at });
  };
  return (
    <div className="profile-field" ref={box}>
      {drawn && size && (
        // What the pointer does here the slider beside the operator's name does by key.
        // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
        <svg
          width={size.width}
          height={size.height}
          viewBox={`0 0 ${drawn.sheet.width} ${drawn.sheet.height}`}
          onPointerDown={standUnder}
          onPointerMove={standUnder}
          role="img"
          aria-label="The room cut from A to B: decks, track, and what the operator sees"
        >
          <DrawnMarkup text={drawn.markup} />
        </svg>
      )}
    </div>
  );
}
