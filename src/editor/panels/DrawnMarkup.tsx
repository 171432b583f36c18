/** A drawing made elsewhere, within an svg of the page. */
import { useEffect, useRef } from "react";

/** Drawn markup, parsed as a document of its own, where nothing in it can run, then taken over as elements. */
export function DrawnMarkup({ text }: { readonly text: string }) {
  const place = useRef<SVGGElement>(null);
  useEffect(() => {
    const whole = `<svg xmlns="http://www.w3.org/2000/svg">${text}</svg>`;
    const parsed = new DOMParser().parseFromString(whole, "image/svg+xml").documentElement;
    place.current?.replaceChildren(...[...parsed.childNodes].map((node) => document.importNode(node, true)));
  }, [text]);
  return <g ref={place} aria-hidden="true" strokeLinejoin="round" />;
}
