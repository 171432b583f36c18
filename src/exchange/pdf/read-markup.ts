/**
 * Reads back the markup that `svg/markup.ts` writes, so that a drawing made for SVG can go to paper another way. Knows
 * that dialect alone: quoted attributes, the five escapes, no comments, entities or instructions.
 *
 * Always holds: what `element` and `escapeText` wrote comes back as it was given; time grows with length; markup that is
 * not of this dialect throws, for it is a fault of the program and no one's file.
 */
import type { Markup } from "../svg/markup.js";

export interface MarkupNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly MarkupNode[];
  /** Lettering of an element that holds no others. */
  readonly text: string;
}

const PLAIN: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', "#39": "'" };
const unescape = (text: string): string =>
  text.includes("&") ? text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => PLAIN[name] ?? "") : text;

interface Open {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: MarkupNode[];
  text: string;
}

/** The elements of a run of markup, in their order. */
export function readMarkup(markup: Markup): readonly MarkupNode[] {
  const root: Open = { name: "", attributes: {}, children: [], text: "" };
  const open: Open[] = [root];
  for (let at = 0; at < markup.length; ) {
    const inside = open.at(-1) ?? root;
    const next = markup.indexOf("<", at);
    if (next !== at) {
      const end = next < 0 ? markup.length : next;
      inside.text += unescape(markup.slice(at, end));
      at = end;
      continue;
    }
    // No attribute holds a bare ">": it is written as an escape.
    const end = markup.indexOf(">", at);
    if (end < 0) throw new Error("markup ends within an element");
    if (markup[at + 1] === "/") {
      const closed = open.pop();
      if (!closed || closed === root) throw new Error("markup closes what is not open");
      open.at(-1)?.children.push(closed);
    } else {
      const alone = markup[end - 1] === "/";
      const node = openingOf(markup.slice(at + 1, alone ? end - 1 : end));
      if (alone) inside.children.push(node);
      else open.push(node);
    }
    at = end + 1;
  }
  if (open.length !== 1) throw new Error("markup leaves an element open");
  return root.children;
}

const ATTRIBUTE = /([a-zA-Z0-9:-]+)="([^"]*)"/g;

function openingOf(tag: string): Open {
  const space = tag.indexOf(" ");
  if (space < 0) return { name: tag, attributes: {}, children: [], text: "" };
  const attributes: Record<string, string> = {};
  for (const [, key = "", value = ""] of tag.slice(space).matchAll(ATTRIBUTE)) attributes[key] = unescape(value);
  return { name: tag.slice(0, space), attributes, children: [], text: "" };
}
