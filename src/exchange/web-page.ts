/**
 * One page to look at, whole in one file: the drawing of each deck, the profile, the readings. It asks nothing of any
 * server, and its policy lets nothing run or load but the script and style it holds.
 *
 * Always holds: equal input gives equal text; names appear only as escaped text; every line of every deck is there;
 * script and style are the same for every plan.
 */
import { decksInOrder, firstDeck } from "../drafting/decks.js";
import { lengthText } from "../drafting/figures.js";
import type { Layout } from "../layout/layout.js";
import type { Id } from "../plan/schema.js";
import type { Reading } from "../readings/reading.js";
import { shownRoute } from "./shown-route.js";
import { grouped, limitText, placeText, quantityText, tally, tallyText, valueText, VERDICTS } from "./readings-text.js";
import { drawSvg } from "./svg/draw.js";
import { element, escapeText, type Markup } from "./svg/markup.js";
import type { Theme } from "./svg/palette.js";
import { drawProfileSvg } from "./svg/profile.js";
import { SCRIPT, SCRIPT_HASH } from "./web-page/script.js";
import { STYLE, STYLE_HASH } from "./web-page/style.js";

export interface WebPageOptions {
  readonly theme?: Theme;
  /** The deck shown first; the lowest scenic one where left out. Every other is a button away. */
  readonly deck?: Id;
}

/** px a deck's drawing is lettered for: between a phone and a desk, since the page stretches it to either. */
const DRAWN_FOR = { width: 960, height: 700 } as const;

const POLICY = [
  "default-src 'none'",
  `script-src 'sha256-${SCRIPT_HASH}'`,
  `style-src 'sha256-${STYLE_HASH}'`,
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

export function drawWebPage(layout: Layout, readings: readonly Reading[], options: WebPageOptions = {}): string {
  const { plan } = layout;
  const title = plan.title.trim() || "Untitled plan";
  const theme = options.theme ?? "light";
  const head = element(
    "head",
    {},
    element("meta", { charset: "utf-8" }),
    element("meta", { "http-equiv": "Content-Security-Policy", content: POLICY }),
    element("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    element("meta", { name: "referrer", content: "no-referrer" }),
    element("title", {}, escapeText(title)),
    `<style>${STYLE}</style>`,
  );
  const scale = `${plan.scale.name}, 1:${plan.scale.ratio}`;
  const body = element(
    "body",
    {},
    element(
      "header",
      {},
      element("h1", {}, escapeText(title)),
      element("p", {}, escapeText(`${scale} · ${tallyText(tally(readings))}`)),
    ),
    element(
      "main",
      {},
      planSection(layout, readings, theme, options.deck),
      profileSection(layout, readings, theme),
      readingsSection(layout, readings),
    ),
    element("footer", {}, element("p", {}, escapeText(CAUTION))),
    `<script>${SCRIPT}</script>`,
  );
  return `<!doctype html>\n${element("html", { lang: "en", "data-theme": theme }, head, body)}\n`;
}

const CAUTION =
  "Drawn by Ruling Grade, to look at: nothing here can be changed. It checks track, heights and comfort, and approves no exit, window, structure, load or wiring: local codes and licensed people decide on those.";

const button = (attributes: Parameters<typeof element>[1], text: string): Markup =>
  element("button", { type: "button", ...attributes }, escapeText(text));

const ZOOMS = [
  ["out", "−", "Zoom out"],
  ["in", "+", "Zoom in"],
  ["whole", "Whole", "Show all of it"],
] as const;

const zoomButtons = (label: string): Markup =>
  element(
    "div",
    { role: "group", "aria-label": label },
    ...ZOOMS.map(([does, text, name]) => button({ "data-zoom": does, "aria-label": name }, text)),
  );

const HINT = "Drag to move; wheel or two fingers to zoom. By keys: arrows, + and −, 0 for all of it.";

const view = (label: string, svg: Markup): Markup =>
  element("div", { class: "view", tabindex: 0, role: "group", "aria-label": label }, svg);

function planSection(layout: Layout, readings: readonly Reading[], theme: Theme, asked: Id | undefined): Markup {
  const { plan } = layout;
  const decks = decksInOrder(plan);
  const first = asked !== undefined && decks.includes(asked) ? asked : firstDeck(plan);
  const nameOf = (deck: Id): string => plan.decks[deck]?.name ?? deck;
  const sheets = (decks.length > 0 ? decks : [undefined]).map((deck, i) => {
    const svg = drawSvg(plan, layout, {
      view: "see-through",
      fit: DRAWN_FOR,
      margins: false,
      theme,
      readings,
      ids: `sheet-${i}-`,
      ...(deck === undefined ? {} : { deck }),
    });
    const name = deck === undefined ? "No deck yet" : nameOf(deck);
    const height =
      deck === undefined ? "" : `, ${lengthText(plan.decks[deck]?.height ?? 0, plan.units)} above the floor`;
    return element(
      "figure",
      { class: "sheet", "data-deck": i },
      element("figcaption", {}, escapeText(name + height)),
      view(`Drawing: ${name}`, svg),
    );
  });
  // By their place, not their ids: a page has no use for those.
  const switches = decks.map((deck, i) =>
    button({ "data-deck": i, "aria-pressed": String(deck === first) }, nameOf(deck)),
  );
  return element(
    "section",
    { "data-views": "plan", "aria-labelledby": "plan" },
    element(
      "div",
      { class: "bar" },
      element("h2", { id: "plan" }, "Plan"),
      decks.length > 1 ? element("div", { role: "group", "aria-label": "Decks" }, ...switches) : "",
      zoomButtons("Zoom of the plan"),
    ),
    ...sheets,
    element("p", { class: "hint" }, escapeText(HINT)),
  );
}

/** Nothing where there is no track. */
function profileSection(layout: Layout, readings: readonly Reading[], theme: Theme): Markup {
  const shown = shownRoute(layout, readings);
  if (!shown) return "";
  const { route, from, to } = shown;
  const svg = drawProfileSvg(layout.plan, layout, route, { ends: { from, to }, theme });
  return element(
    "section",
    { class: "profile", "data-views": "profile", "aria-labelledby": "profile" },
    element(
      "div",
      { class: "bar" },
      element("h2", { id: "profile" }, escapeText(`Profile, ${from} to ${to}`)),
      zoomButtons("Zoom of the profile"),
    ),
    view(`Profile from ${from} to ${to}`, svg),
  );
}

function readingsSection(layout: Layout, readings: readonly Reading[]): Markup {
  const heading = (text: string, attributes = {}) => element("th", { scope: "col", ...attributes }, text);
  const figure = { class: "figure" };
  const groups = grouped(readings).map((group) =>
    element(
      "tbody",
      {},
      element("tr", {}, element("th", { scope: "rowgroup", colspan: 4 }, escapeText(group.name))),
      ...group.readings.map((reading) => readingRow(layout, reading)),
    ),
  );
  const table = element(
    "table",
    {},
    element(
      "thead",
      {},
      element("tr", {}, heading("Reading"), heading("Verdict"), heading("Value", figure), heading("Limit", figure)),
    ),
    ...groups,
  );
  return element(
    "section",
    { "aria-labelledby": "readings" },
    element("div", { class: "bar" }, element("h2", { id: "readings" }, "Readings")),
    element("div", { class: "wide", tabindex: 0, role: "group", "aria-label": "Table of readings" }, table),
  );
}

function readingRow({ plan }: Layout, reading: Reading): Markup {
  const { sign, word } = VERDICTS[reading.verdict];
  const [worst] = reading.places;
  const asks = reading.verdict === "tight" || reading.verdict === "fails";
  const value = worst?.value === undefined ? "" : `${quantityText(worst.value, reading.unit, plan.units)} `;
  const notes = [
    asks && worst ? `${value}at ${placeText(plan, worst)}${worst.note ? `: ${worst.note}` : ""}` : "",
    reading.reason ? `Owner: ${reading.reason}` : "",
  ].filter((note) => note !== "");
  const row = element(
    "tr",
    {},
    element("th", { scope: "row" }, escapeText(reading.label)),
    element("td", { class: `verdict ${reading.verdict}` }, escapeText(`${sign} ${word}`)),
    element("td", { class: "figure" }, escapeText(valueText(reading, plan.units))),
    element("td", { class: "figure" }, escapeText(limitText(reading, plan.units))),
  );
  const about = notes.map((note) => element("tr", { class: "note" }, element("td", { colspan: 4 }, escapeText(note))));
  return row + about.join("");
}
