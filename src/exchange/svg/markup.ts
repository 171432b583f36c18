/**
 * SVG as text: elements, attributes and figures. Every text and attribute value is escaped here and nowhere else, so
 * no name in a plan can become markup; characters XML does not allow are dropped.
 */
export type Markup = string & { readonly markup?: true };
export type AttributeValue = string | number | undefined;

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** What XML 1.0 (section 2.2) does not allow in a document: most control characters, lone surrogates, non-characters. */
const NOT_XML = /[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu;

export const escapeText = (text: string): Markup =>
  text.replace(NOT_XML, "").replace(/[&<>"']/g, (character) => ESCAPES[character] ?? "");

/** Thousandths of a millimetre: finer than any printer, and short. */
export const figure = (value: number): string => (Math.round(value * 1000) / 1000 || 0).toString();

const attribute = (value: string | number): string => (typeof value === "number" ? figure(value) : escapeText(value));

/** An element; attributes that are undefined are left out. */
export function element(
  name: string,
  attributes: Readonly<Record<string, AttributeValue>>,
  ...children: readonly Markup[]
): Markup {
  let text = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined) text += ` ${key}="${attribute(value)}"`;
  }
  return children.length > 0 ? `${text}>${children.join("")}</${name}>` : `${text}/>`;
}

export const group = (attributes: Readonly<Record<string, AttributeValue>>, children: readonly Markup[]): Markup =>
  children.length > 0 ? element("g", attributes, ...children) : "";
