/**
 * DXF as text, release 12 (AC1009): the oldest form that every drawing and cutting program still reads. It knows lines,
 * arcs, polylines and text, each on a layer; the libraries at hand write later releases with other polylines.
 * Group codes after the published DXF reference (from memory; read back by another library in the tests).
 *
 * Always holds: equal input gives equal text; figures are decimal, never with an exponent; no text of a plan can begin
 * or end a group, whatever letters it holds.
 */
import type { Point } from "../../geometry/pose.js";
import type { Degrees, Millimetres } from "../../geometry/units.js";

/** A colour by its number in the colour index that all readers share: 1 red, 3 green, 5 blue, 6 magenta, 7 black, 8 grey. */
export type ColourNumber = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 30;

/** Decimals of lengths: a millionth of a millimetre. */
const DECIMALS = 6;
/** Angles are finer still, since a great radius makes much of them; degrees. */
const ANGLE_DECIMALS = 12;

const fixed = (value: number, decimals: number): string => {
  const text = (Number.isFinite(value) ? value : 0).toFixed(decimals);
  return /^-0\.0*$/.test(text) ? text.slice(1) : text;
};

export class DxfFile {
  private readonly layers = new Map<string, ColourNumber>();
  private readonly entities: string[] = [];
  private least: Point | undefined;
  private most: Point | undefined;

  /** A layer may be named before anything lies on it; the first colour holds. */
  layer(name: string, colour: ColourNumber): string {
    if (!this.layers.has(name)) this.layers.set(name, colour);
    return name;
  }

  line(layer: string, from: Point, to: Point): void {
    this.begin("LINE", layer);
    this.point(10, from);
    this.point(11, to);
  }

  /** Anticlockwise from one angle to the other. */
  arc(layer: string, centre: Point, radius: Millimetres, from: Degrees, to: Degrees): void {
    this.begin("ARC", layer);
    this.push(10, fixed(centre.x, DECIMALS), 20, fixed(centre.y, DECIMALS), 30, fixed(0, DECIMALS));
    this.push(40, fixed(radius, DECIMALS), 50, fixed(from, ANGLE_DECIMALS), 51, fixed(to, ANGLE_DECIMALS));
  }

  /** Nothing where there are no two points. */
  polyline(layer: string, points: readonly Point[], closed = false): void {
    if (points.length < 2) return;
    this.begin("POLYLINE", layer);
    this.push(66, "1", 10, "0.0", 20, "0.0", 30, "0.0", 70, closed ? "1" : "0");
    for (const point of points) {
      this.begin("VERTEX", layer);
      this.point(10, point);
    }
    this.begin("SEQEND", layer);
  }

  text(layer: string, at: Point, height: Millimetres, text: string): void {
    const safe = safeText(text);
    if (safe === "") return;
    this.begin("TEXT", layer);
    this.point(10, at);
    this.push(40, fixed(height, DECIMALS), 1, safe);
  }

  /** The whole file. */
  toString(): string {
    const head: string[] = [];
    const push = (...tags: (number | string)[]) => pushTags(head, tags);
    push(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009");
    for (const [name, p] of [
      ["$EXTMIN", this.least],
      ["$EXTMAX", this.most],
    ] as const) {
      push(9, name, 10, fixed(p?.x ?? 0, DECIMALS), 20, fixed(p?.y ?? 0, DECIMALS), 30, fixed(0, DECIMALS));
    }
    // Release 12 knows no unit; readers of later ones look here. 4 and 1: millimetres, metric.
    push(9, "$INSUNITS", 70, "4", 9, "$MEASUREMENT", 70, "1", 0, "ENDSEC");
    push(0, "SECTION", 2, "TABLES");
    push(0, "TABLE", 2, "LTYPE", 70, "1");
    push(0, "LTYPE", 2, "CONTINUOUS", 70, "0", 3, "Solid line", 72, "65", 73, "0", 40, "0.0", 0, "ENDTAB");
    push(0, "TABLE", 2, "LAYER", 70, String(this.layers.size + 1));
    for (const [name, colour] of [["0", 7] as const, ...this.layers]) {
      push(0, "LAYER", 2, name, 70, "0", 62, String(colour), 6, "CONTINUOUS");
    }
    push(0, "ENDTAB", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES");
    const foot: string[] = [];
    pushTags(foot, [0, "ENDSEC", 0, "EOF"]);
    return `${[...head, ...this.entities, ...foot].join("\n")}\n`;
  }

  private begin(kind: string, layer: string): void {
    this.push(0, kind, 8, layer);
  }

  private point(code: 10 | 11, p: Point): void {
    this.push(code, fixed(p.x, DECIMALS), code + 10, fixed(p.y, DECIMALS), code + 20, fixed(0, DECIMALS));
    this.least = { x: Math.min(this.least?.x ?? p.x, p.x), y: Math.min(this.least?.y ?? p.y, p.y) };
    this.most = { x: Math.max(this.most?.x ?? p.x, p.x), y: Math.max(this.most?.y ?? p.y, p.y) };
  }

  private push(...tags: readonly (number | string)[]): void {
    pushTags(this.entities, tags);
  }
}

/** Codes are written three wide, as everybody does. */
function pushTags(lines: string[], tags: readonly (number | string)[]): void {
  for (let i = 0; i < tags.length; i += 2) lines.push(String(tags[i]).padStart(3), String(tags[i + 1]));
}

/** As long as release 12 allows, letters. */
const LONGEST_TEXT = 255;

/**
 * Lettering: one line, without control characters, in the letters of ASCII and `\U+XXXX` for all others. What a reader
 * would take for a code (`%%u`, `^J`, `\P`) is made plain.
 */
export function safeText(text: string): string {
  const plain = text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]+/gu, " ")
    .replace(/%{2,}/g, "%")
    .replace(/[\\^]/g, "/")
    .trim();
  let safe = "";
  for (const letter of plain) {
    const code = letter.codePointAt(0) ?? 0;
    const next =
      code < 0x7f ? letter : code > 0xff_ff ? "?" : `\\U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
    if (safe.length + next.length > LONGEST_TEXT) break;
    safe += next;
  }
  return safe;
}
