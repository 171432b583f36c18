/** The plans kept in this browser: a page laid over the sheet, closed by Esc. Loaded only when it is asked for. */
import { type KeyboardEvent, useCallback, useEffect, useId, useRef, useState } from "react";
import type { FileDesk } from "./file-desk.js";
import { keptView } from "./kept-store.js";
import type { KeptDesk } from "./kept-desk.js";
import { sizeText, whenText } from "./kept-words.js";
import type { Picture } from "./shelf.js";
import { useFiles } from "./use-file-desk.js";
import "./shelf.css";

type Shelved = Awaited<ReturnType<KeptDesk["shelved"]>>[number];

const close = (): void => keptView.setState({ shelf: false });

const onKey = (event: KeyboardEvent): void => {
  event.stopPropagation();
  if (event.key === "Escape") close();
};

export default function ShelfPage({ files }: { readonly files: FileDesk }) {
  const title = useId();
  const page = useRef<HTMLElement>(null);
  const [shelved, setShelved] = useState<readonly Shelved[]>();
  const [fault, setFault] = useState(false);
  const persisted = useFiles(files, (state) => state.persisted);
  const look = useCallback(
    (): Promise<void> =>
      // What is still to be written is on it too.
      files
        .hurry()
        .then(() => files.shelved())
        .then(setShelved, () => setFault(true)),
    [files],
  );
  useEffect(() => {
    page.current?.focus();
    void look();
  }, [look]);
  return (
    // Keys pressed here are none of the sheet's beneath; Esc closes.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <section className="shelf" ref={page} tabIndex={-1} aria-labelledby={title} aria-busy={!shelved} onKeyDown={onKey}>
      <header>
        <h2 id={title}>Plans kept here</h2>
        <p className="quiet">
          In this browser on this computer, and nowhere else.{" "}
          {persisted === false && "The browser may throw them away when the disk runs full: save to files too."}
        </p>
        <button type="button" className="button" onClick={close}>
          Back to the sheet
        </button>
      </header>
      {fault && (
        <p className="fault" role="alert">
          The browser’s storage does not answer. Save to a file.
        </p>
      )}
      {shelved?.length === 0 && <p>None yet: a plan is kept here from its first change on.</p>}
      <ul>
        {shelved?.map((entry) => (
          <ShelvedPlan key={entry.id} files={files} entry={entry} onChange={() => void look()} />
        ))}
      </ul>
    </section>
  );
}

interface ShelvedPlanProps {
  readonly files: FileDesk;
  readonly entry: Shelved;
  readonly onChange: () => void;
}

function ShelvedPlan({ files, entry, onChange }: ShelvedPlanProps) {
  const { id, title, look, held, keptAt, unsaved, fileName } = entry;
  const here = useFiles(files, (state) => state.document.id === id);
  const [asking, setAsking] = useState(false);
  const name = title || "Untitled plan";
  const open = async (): Promise<void> => {
    if (await files.openKept(id)) close();
  };
  const facts = [
    look && `${look.tracks} ${look.tracks === 1 ? "track" : "tracks"}`,
    look && sizeText(look.size),
    unsaved ? "in no file as it is" : fileName && `as in ${fileName}`,
    here ? "open here" : held && "open in another tab",
  ].filter(Boolean);
  return (
    <li aria-label={name}>
      <Thumbnail picture={look?.picture} />
      <h3>{name}</h3>
      <p>
        <time>{whenText(keptAt)}</time>
      </p>
      <p className="quiet">{facts.join(" · ")}</p>
      {asking ? (
        <p className="actions" role="group" aria-label={`Throw ${name} away?`}>
          <span>Throw it away, with all its versions?</span>
          <button
            type="button"
            className="button strong"
            onClick={() => void files.forget(id).then(onChange)}
            // The question follows the button that asked it.
            ref={(button) => button?.focus()}
          >
            Throw away
          </button>
          <button type="button" className="button" onClick={() => setAsking(false)}>
            Keep
          </button>
        </p>
      ) : (
        <p className="actions">
          <button type="button" className="button strong" aria-label={`Open ${name}`} onClick={() => void open()}>
            {held && !here ? "Open to read" : "Open"}
          </button>
          <button
            type="button"
            className="button"
            aria-label={`Duplicate ${name}`}
            onClick={() => void files.duplicate(id).then(onChange)}
          >
            Duplicate
          </button>
          {!here && !held && (
            <button
              type="button"
              className="button plain"
              aria-label={`Throw ${name} away`}
              onClick={() => setAsking(true)}
            >
              Throw away…
            </button>
          )}
        </p>
      )}
    </li>
  );
}

function Thumbnail({ picture }: { readonly picture: Picture | undefined }) {
  if (!picture) return <div className="thumbnail" aria-hidden="true" />;
  const { width, height, room, benches, tracks, hidden } = picture;
  return (
    <svg className="thumbnail" viewBox={`-3 -3 ${width + 6} ${height + 6}`} aria-hidden="true">
      <path className="room" d={room} />
      <path className="benches" d={benches} />
      <path className="hidden-tracks" d={hidden} />
      <path className="tracks" d={tracks} />
    </svg>
  );
}
