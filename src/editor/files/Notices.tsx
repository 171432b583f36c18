/** What is told about files, above the sheet and in nobody's way: one line each, with what can be done about it. */
import type { ReactNode } from "react";
import { useStore } from "zustand";
import { useEditorStore } from "../editor-context.js";
import type { FileDesk } from "./file-desk.js";
import { ProblemReport } from "./ProblemReport.js";
import type { Reading } from "./kept-desk.js";
import { versionName, whenText } from "./kept-words.js";
import { offline } from "../offline/offline-store.js";
import { forgetLink, linkNotice } from "../share/link-notice.js";
import { useFiles } from "./use-file-desk.js";

/** Offers shown at once; the rest come up when these are settled. */
const SHOWN = 3;

export function Notices({ files }: { readonly files: FileDesk }) {
  const store = useEditorStore();
  const use = useStore(offline, (state) => state.use);
  const { offers, left, trouble, changedOnDisk, report, reading, viewing } = useFiles(files, (state) => state);
  const link = useStore(linkNotice);
  return (
    <div className="notices">
      {trouble !== undefined && (
        <Notice kind="fails" onDismiss={() => files.dismiss("trouble")}>
          <span>{trouble}</span>
          <button type="button" className="button" onClick={() => void files.saveCopy()}>
            Save to a file
          </button>
        </Notice>
      )}
      {use && (
        <Notice kind="plain" onDismiss={() => offline.setState({ use: undefined })}>
          <span>A new version of the planner is ready. All work is kept when you change to it.</span>
          <button type="button" className="button" onClick={use}>
            Use it
          </button>
        </Notice>
      )}
      {reading && (
        <Notice kind="tight">
          <span>{READING[reading]}</span>
          <button type="button" className="button" onClick={() => void files.takeOver()}>
            Work here
          </button>
        </Notice>
      )}
      {link && (
        <Notice kind={link.kind === "too-long" ? "tight" : "plain"} onDismiss={forgetLink}>
          {link.kind === "too-long" ? (
            <>
              <span>{link.message}</span>
              <button type="button" className="button" onClick={() => void files.saveCopy().then(forgetLink)}>
                Save to a file
              </button>
            </>
          ) : (
            <label>
              The browser lets nothing be copied; copy the link from here:{" "}
              <input type="text" readOnly value={link.address} onFocus={(event) => event.currentTarget.select()} />
            </label>
          )}
        </Notice>
      )}
      {viewing && (
        <Notice kind="plain">
          <span>
            You look at <b>{versionName(viewing)}</b> of {whenText(viewing.at)}.
          </span>
          {!reading && (
            <button type="button" className="button" onClick={() => void files.bringBack(viewing)}>
              Bring it back
            </button>
          )}
          <button type="button" className="button" onClick={() => void files.view(undefined)}>
            Back to the present
          </button>
        </Notice>
      )}
      {changedOnDisk && (
        <Notice kind="tight" onDismiss={() => files.dismiss("changedOnDisk")}>
          <span>{store.getState().fileName} was changed by something else since it was opened here.</span>
          <button type="button" className="button" onClick={() => void files.saveCopy()}>
            Save a copy…
          </button>
          <button type="button" className="button" onClick={() => void files.save(true)}>
            Save over it
          </button>
        </Notice>
      )}
      {offers.slice(0, SHOWN).map((kept) => (
        <Notice key={kept.id} kind="plain">
          <span>
            Continue where you left off: <b>{kept.title || "Untitled plan"}</b>, <time>{whenText(kept.keptAt)}</time>
          </span>
          <button type="button" className="button" onClick={() => void files.openKept(kept.id)}>
            Continue
          </button>
          <button type="button" className="button plain" onClick={() => void files.forget(kept.id)}>
            Throw away
          </button>
        </Notice>
      ))}
      {left && (
        <Notice kind="plain" onDismiss={() => files.dismiss("left")}>
          <span>
            <b>{left.title || "Untitled plan"}</b> had unsaved changes; they are kept.
          </span>
          <button type="button" className="button" onClick={() => files.goBack()}>
            Go back to it
          </button>
        </Notice>
      )}
      {report && (
        <Notice kind={report.opened ? "tight" : "fails"} onDismiss={() => files.dismiss("report")}>
          <ProblemReport report={report} />
        </Notice>
      )}
    </div>
  );
}

interface NoticeProps {
  readonly kind: "plain" | "tight" | "fails";
  readonly onDismiss?: () => void;
  readonly children: ReactNode;
}

function Notice({ kind, onDismiss, children }: NoticeProps) {
  return (
    <div className={`notice ${kind}`} role={kind === "plain" ? "status" : "alert"}>
      {children}
      {onDismiss && (
        <button type="button" className="button icon plain" aria-label="Close this message" onClick={onDismiss}>
          <svg viewBox="0 0 18 18" aria-hidden="true">
            <path d="m4.5 4.5 9 9m0-9-9 9" />
          </svg>
        </button>
      )}
    </div>
  );
}

const READING: Readonly<Record<Reading, string>> = {
  elsewhere: "Another tab works on this plan: here it is only to read.",
  "stepped-back": "You work on this plan in another tab now. All you did here is kept; here it is only to read.",
  aside: "You work on this plan in another tab now. What you did here last is set aside among its versions.",
};
