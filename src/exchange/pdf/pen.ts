/**
 * The pen that draws a sheet's markup as a page's content (ISO 32000-1, 8 and 9): paths, circles, boxes, lettering, hatch,
 * and nested sheets, which are cut off at their box. Millimetres of paper, y down, become points.
 *
 * Always holds: names reach the page as hexadecimal strings alone; every group opened is closed.
 */
import { type FontName, type Letters, plainLetters } from "./letters.js";
import { circleContent, pathContent, pdfFigure as f } from "./path-data.js";
import type { MarkupNode } from "./read-markup.js";

/** Names of the page's resources. */
export const fontResource = (font: FontName): string => `F-${font}`;
export const HATCH = "Hatch";

const INHERITED = [
  "fill",
  "fill-rule",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linejoin",
  "stroke-linecap",
  "stroke-miterlimit",
] as const;
type Style = Readonly<Partial<Record<(typeof INHERITED)[number], string>>>;

const UNSEEN = new Set(["title", "desc", "defs"]);
/** The hand's face is narrow: Helvetica set to the width of Arial Narrow, 82 % (from memory). */
const NARROW = 82;

export function drawNodes(nodes: readonly MarkupNode[], letters: Letters, style: Style = {}): string {
  return nodes.map((node) => drawNode(node, letters, style)).join("");
}

function drawNode(node: MarkupNode, letters: Letters, around: Style): string {
  if (UNSEEN.has(node.name)) return "";
  const { attributes } = node;
  const number = (name: string): number => Number(attributes[name] ?? 0);
  const style: Record<string, string> = { ...around };
  for (const name of INHERITED) {
    const own = attributes[name];
    if (own !== undefined) style[name] = own;
  }
  switch (node.name) {
    case "g":
      return drawNodes(node.children, letters, style);
    case "svg":
      return nested(node, drawNodes(node.children, letters, style));
    case "path":
      return painted(pathContent(attributes["d"] ?? ""), style);
    case "circle":
      return painted(circleContent({ x: number("cx"), y: number("cy") }, number("r")), style);
    case "rect":
      return painted(`${f(number("x"))} ${f(number("y"))} ${f(number("width"))} ${f(number("height"))} re\n`, style);
    case "text":
      return lettered(node, letters);
    default:
      throw new Error(`the pen draws no ${node.name}`);
  }
}

/** A sheet within the sheet, of the size and at the scale it asks for. */
function nested({ attributes }: MarkupNode, content: string): string {
  const [x = 0, y = 0, width = 0, height = 0] = ["x", "y", "width", "height"].map((name) =>
    Number.parseFloat(attributes[name] ?? "0"),
  );
  const [left = 0, top = 0, wide = width, high = height] = (attributes["viewBox"] ?? `0 0 ${width} ${height}`)
    .split(" ")
    .map(Number);
  const scale = Math.min(width / wide, height / high);
  const box = `${f(left)} ${f(top)} ${f(wide)} ${f(high)} re W n\n`;
  return `q\n${f(scale)} 0 0 ${f(scale)} ${f(x - left * scale)} ${f(y - top * scale)} cm\n${box}${content}Q\n`;
}

/** Fill and line of a path; nothing where it has neither. */
function painted(path: string, style: Style): string {
  const fill = style.fill ?? "#000000";
  const stroke = style.stroke ?? "none";
  const fills = fill !== "none";
  const strokes = stroke !== "none";
  if (path === "" || (!fills && !strokes)) return "";
  const even = style["fill-rule"] === "evenodd" ? "*" : "";
  const operator = fills ? (strokes ? `B${even}` : `f${even}`) : "S";
  const dashes = style["stroke-dasharray"];
  const lines = strokes
    ? [
        `${f(Number(style["stroke-width"] ?? 1))} w`,
        ...(style["stroke-linejoin"] === "round" ? ["1 j"] : []),
        ...(style["stroke-linecap"] === "round" ? ["1 J"] : []),
        `${style["stroke-miterlimit"] ?? "4"} M`,
        ...(dashes ? [`[${dashes}] 0 d`] : []),
        "",
      ].join("\n")
    : "";
  return `q\n${fills ? coloured(fill, false) : ""}${strokes ? coloured(stroke, true) : ""}${lines}${path}${operator}\nQ\n`;
}

function coloured(colour: string, line: boolean): string {
  if (colour.startsWith("url(")) return line ? `/Pattern CS /${HATCH} SCN\n` : `/Pattern cs /${HATCH} scn\n`;
  const parts = [1, 3, 5].map((i) => f(Number.parseInt(colour.slice(i, i + 2), 16) / 255));
  return `${parts.join(" ")} ${line ? "RG" : "rg"}\n`;
}

function fontOf(attributes: Readonly<Record<string, string>>): { readonly font: FontName; readonly squeeze: number } {
  const bold = attributes["font-weight"] === "bold";
  const italic = attributes["font-style"] === "italic";
  if (attributes["font-family"]?.includes("Palatino")) {
    return { font: bold ? "Times-Bold" : italic ? "Times-Italic" : "Times-Roman", squeeze: 100 };
  }
  return { font: bold ? "Helvetica-Bold" : italic ? "Helvetica-Oblique" : "Helvetica", squeeze: NARROW };
}

function lettered({ attributes, text }: MarkupNode, letters: Letters): string {
  const plain = plainLetters(text);
  if (plain.trim() === "") return "";
  const { font, squeeze } = fontOf(attributes);
  const size = Number(attributes["font-size"] ?? 3);
  const [x, y] = [Number(attributes["x"] ?? 0), Number(attributes["y"] ?? 0)];
  const width = (letters.width(font, plain) * size * squeeze) / 100;
  const anchor = attributes["text-anchor"];
  const back = anchor === "end" ? width : anchor === "middle" ? width / 2 : 0;
  const [turn = 0, aboutX = x, aboutY = y] = (/^rotate\((.*)\)$/.exec(attributes["transform"] ?? "")?.[1] ?? "0")
    .split(" ")
    .map(Number);
  const angle = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [dx, dy] = [x - back - aboutX, y - aboutY];
  // The page runs down, letters stand up: their own axis is turned over.
  const place = [c, s, s, -c, aboutX + c * dx - s * dy, aboutY + s * dx + c * dy].map(f).join(" ");
  const write = `/${fontResource(font)} ${f(size)} Tf ${squeeze} Tz ${place} Tm`;
  const show = `${letters.encode(font, plain)} Tj`;
  const halo = attributes["stroke"];
  const under = halo
    ? `${coloured(halo, true)}${f(Number(attributes["stroke-width"] ?? 0))} w 1 j BT 1 Tr ${write} ${show} ET\n`
    : "";
  return `q\n${under}${coloured(attributes["fill"] ?? "#000000", false)}BT 0 Tr ${write} ${show} ET\nQ\n`;
}
