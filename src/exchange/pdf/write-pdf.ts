/**
 * Pages of markup as a PDF document. The library that writes the file is fetched when the first document is.
 *
 * Always holds: equal pages, facts and date give equal bytes; a millimetre of markup is a millimetre of the page.
 */
import type { Millimetres } from "../../geometry/units.js";
import type { Markup } from "../svg/markup.js";
import { FONT_NAMES, type FontName, type Letters } from "./letters.js";
import { pdfFigure } from "./path-data.js";
import { drawNodes, fontResource, HATCH } from "./pen.js";
import { readMarkup } from "./read-markup.js";

export interface PdfPage {
  readonly width: Millimetres;
  readonly height: Millimetres;
  readonly marks: Markup;
  /** The hatch of the page, where anything of it is hatched. */
  readonly hatch?: { readonly step: Millimetres; readonly weight: Millimetres; readonly colour: string };
}

export interface PdfFacts {
  readonly title: string;
  /** Written into the document as when it was made. */
  readonly date: Date;
}

/** Points to a millimetre. */
const POINTS = 72 / 25.4;

export async function writePdf(pages: readonly PdfPage[], { title, date }: PdfFacts): Promise<Uint8Array> {
  const { PDFDocument, PDFName } = await import("pdf-lib");
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.setTitle(title, { showInWindowTitleBar: true });
  pdf.setProducer("Ruling Grade");
  pdf.setCreationDate(date);
  pdf.setModificationDate(date);
  const fonts = new Map(await Promise.all(FONT_NAMES.map(async (name) => [name, await pdf.embedFont(name)] as const)));
  const fontNamed = (name: FontName) => {
    const font = fonts.get(name);
    if (!font) throw new Error(`no font ${name}`);
    return font;
  };
  const letters: Letters = {
    encode: (name, text) => fontNamed(name).encodeText(text).toString(),
    width: (name, text) => fontNamed(name).widthOfTextAtSize(text, 1),
  };
  for (const { width, height, marks, hatch } of pages) {
    const page = pdf.addPage([width * POINTS, height * POINTS]);
    const { context } = pdf;
    for (const [name, font] of fonts) page.node.setFontDictionary(PDFName.of(fontResource(name)), font.ref);
    if (hatch)
      page.node.Resources()?.set(PDFName.of("Pattern"), context.obj({ [HATCH]: context.register(hatchStream(hatch)) }));
    const onPage = [POINTS, 0, 0, -POINTS, 0, height * POINTS].map((n) => n.toFixed(6)).join(" ");
    const content = `q\n${onPage} cm\n${drawNodes(readMarkup(marks), letters)}Q\n`;
    page.node.addContentStream(context.register(context.flateStream(content)));

    /** Lines at 45 degrees, as the drawing's own pattern has them (ISO 32000-1, 8.7.3). */
    function hatchStream({ step, weight, colour }: NonNullable<PdfPage["hatch"]>) {
      const ink = [1, 3, 5].map((i) => pdfFigure(Number.parseInt(colour.slice(i, i + 2), 16) / 255)).join(" ");
      const [s, w] = [step * POINTS, weight * POINTS].map(pdfFigure);
      const slant = Math.SQRT1_2;
      return context.flateStream(`${ink} RG ${w} w 0 0 m 0 ${s} l S ${s} 0 m ${s} ${s} l S\n`, {
        Type: "Pattern",
        PatternType: 1,
        PaintType: 1,
        TilingType: 1,
        BBox: [0, 0, Number(s), Number(s)],
        XStep: Number(s),
        YStep: Number(s),
        Resources: {},
        Matrix: [slant, -slant, slant, slant, 0, 0],
      });
    }
  }
  return pdf.save();
}
