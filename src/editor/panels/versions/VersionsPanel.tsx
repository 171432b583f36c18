/** Versions of the open plan in the margin: kept by hand or by itself, looked at, compared with the present, brought back. */
import { type FormEvent, useCallback, useEffect, useId, useRef, useState } from "react";
import { useStore } from "zustand";
import { useEditor } from "../../editor-context.js";
import type { FileDesk } from "../../files/file-desk.js";
import { keptView } from "../../files/kept-store.js";
import { sizeText, versionName, whenText } from "../../files/kept-words.js";
import type { VersionEntry } from "../../files/shelf.js";
import { useFiles } from "../../files/use-file-desk.js";
import { VersionDifferences } from "./VersionDifferences.js";
import "./versions.css";

export default function VersionsPanel({ files }: { readonly files: FileDesk }) {
  const title = useId();
  const reading = useFiles(files, (state) => state.reading);
  const viewing = useFiles(files, (state) => state.viewing);
  const document = useFiles(files, (state) => state.document.id);
  const plan = useEditor((state) => state.history.plan);
  const [versions, setVersions] = useState<readonly VersionEntry[]>();
  const [compared, setCompared] = useState<number>();
  const look = useCallback(
    (): Promise<void> =>
      files
        .hurry()
        .then(() => files.versions())
        .then(setVersions, () => setVersions([])),
    [files],
  );
  // Another document has other versions, and an edit may have kept one.
  useEffect(() => void look(), [look, document, plan]);
  const close = (): void => {
    keptView.setState({ versions: "closed" });
    if (viewing) void files.view(undefined);
  };
  return (
    <section className="versions" aria-labelledby={title} aria-busy={!versions}>
      <header className="column-head">
        <h2 id={title}>Versions</h2>
        <button type="button" className="link" onClick={close}>
          Close
        </button>
      </header>
      {!reading && <KeepOne files={files} onKept={() => void look()} />}
      {versions?.length === 0 && <p className="quiet">None yet: one is kept with the first change.</p>}
      <ol>
        {versions?.map((version) => (
          <li key={version.number} aria-current={viewing?.number === version.number || undefined}>
            <b>{versionName(version)}</b>
            <p className="quiet">
              <time>{whenText(version.at)}</time> · {sizeText(version.size)}
            </p>
            <p className="actions">
              <button
                type="button"
                className="link"
                aria-pressed={viewing?.number === version.number}
                onClick={() => void files.view(viewing?.number === version.number ? undefined : version)}
              >
                Look at it
              </button>
              <button
                type="button"
                className="link"
                aria-expanded={compared === version.number}
                onClick={() => setCompared(compared === version.number ? undefined : version.number)}
              >
                Compare
              </button>
              {!reading && (
                <button type="button" className="link" onClick={() => void files.bringBack(version).then(look)}>
                  Bring it back
                </button>
              )}
            </p>
            {compared === version.number && <VersionDifferences files={files} version={version} />}
          </li>
        ))}
      </ol>
    </section>
  );
}

function KeepOne({ files, onKept }: { readonly files: FileDesk; readonly onKept: () => void }) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  const naming = useStore(keptView, (state) => state.versions === "naming");
  const [name, setName] = useState("");
  useEffect(() => {
    if (naming) field.current?.focus();
  }, [naming]);
  const keep = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    if (!(await files.keepVersion(name))) return;
    setName("");
    onKept();
  };
  return (
    <form className="keep-version" onSubmit={(event) => void keep(event)}>
      <label htmlFor={id}>Keep this one as</label>
      <input
        id={id}
        ref={field}
        type="text"
        autoComplete="off"
        maxLength={80}
        value={name}
        onChange={(event) => setName(event.target.value)}
      />
      <button type="submit" className="button">
        Keep it
      </button>
    </form>
  );
}
