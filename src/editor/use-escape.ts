/** Esc closes what lies over the sheet while the focus is in it; keys pressed there are none of the sheet's. */
import { type RefObject, useEffect, useRef } from "react";

export function useEscape(within: RefObject<HTMLElement | null>, close: () => void): void {
  const latest = useRef(close);
  useEffect(() => {
    latest.current = close;
  });
  useEffect(() => {
    const element = within.current;
    if (!element) return;
    const onKey = (event: KeyboardEvent): void => {
      event.stopPropagation();
      if (event.key === "Escape") latest.current();
    };
    element.addEventListener("keydown", onKey);
    return () => element.removeEventListener("keydown", onKey);
  }, [within]);
}
