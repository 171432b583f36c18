/** Open ring with a tick, open triangle with a bar, solid square with a cross, or a dash. The word stands beside it. */
import type { Verdict } from "../core/index.js";

export function VerdictSign({ verdict }: { readonly verdict: Verdict }) {
  return (
    <svg className="sign" viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
      {verdict === "clear" && (
        <>
          <circle cx="7" cy="7" r="6" fill="none" stroke="currentColor" strokeWidth="1.3" />
          <path d="M4 7.2 6.2 9.4 10 5" fill="none" stroke="currentColor" strokeWidth="1.3" />
        </>
      )}
      {verdict === "tight" && (
        <path d="M7 1.5 13 12.5H1ZM7 5.5v3.2M7 10v1" fill="none" stroke="currentColor" strokeWidth="1.3" />
      )}
      {verdict === "fails" && (
        <>
          <rect x="1" y="1" width="12" height="12" fill="currentColor" />
          <path className="cut" d="m4.2 4.2 5.6 5.6m0-5.6-5.6 5.6" fill="none" strokeWidth="1.6" />
        </>
      )}
      {verdict === "none" && <path d="M3 7h8" fill="none" stroke="currentColor" strokeWidth="1.3" />}
    </svg>
  );
}
