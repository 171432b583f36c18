/** Drawing sheets, printed by another program: true to their scale, on the paper wished, with all that a plan must say. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseScale, scaleText } from "../../src/drafting/drawing-scale.js";
import { type DrawingSetOptions, drawingSetPdf } from "../../src/exchange/pdf/drawing-set.js";
import { plainLetters } from "../../src/exchange/pdf/letters.js";
import { PAPERS, parsePaper, type PrintPaper } from "../../src/exchange/pdf/papers.js";
import { pathContent } from "../../src/exchange/pdf/path-data.js";
import { readMarkup } from "../../src/exchange/pdf/read-markup.js";
import { element, escapeText } from "../../src/exchange/svg/markup.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Plan } from "../../src/plan/schema.js";
import { takeReadings } from "../../src/readings/take.js";
import { DOTS, type Printed, printed } from "../support/poppler.js";
import { hillPlan, hostileName } from "./hill-plan.js";

const layout = deriveLayout(hillPlan);
const readings = takeReadings(hillPlan, layout);
const date = new Date("2026-05-17T00:00:00Z");
const paperNamed = (name: string): PrintPaper => {
  const parsed = parsePaper(name, "metric");
  if (!parsed.ok) throw new Error(parsed.message);
  return parsed.paper;
};

async function drawn(
  options: Partial<DrawingSetOptions> & { readonly on: string; readonly plan?: Plan },
): Promise<Uint8Array> {
  const { on, plan = hillPlan, ...wishes } = options;
  const made = await drawingSetPdf(plan, plan === hillPlan ? layout : deriveLayout(plan), {
    paper: paperNamed(on),
    readings,
    date,
    ...wishes,
  });
  if (!made.ok) throw new Error(made.message);
  return made.bytes;
}
const print = async (options: Parameters<typeof drawn>[0]): Promise<Printed> => printed(await drawn(options));

/** The longest level line in the title block's foot, mm: the scale bar, between the middles of its end ticks. */
function scaleBar(pdf: Printed, size: { readonly width: number; readonly height: number }): number {
  // Inside the edge, the frame and the block's own lines; the bar stands in the block's lower part.
  const ink = pdf.ink(1, { x: size.width - 12 - 48, y: size.height - 12 - 13, width: 46, height: 9 });
  let longest = 0;
  for (let row = 0; row < ink.height; row++) {
    for (let column = 0, run = 0; column < ink.width; column++) {
      run = ink.at(column, row) > 0.5 ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
  }
  const tick = 0.9 * 0.25;
  return longest / DOTS - tick;
}

describe("drawing sheets", () => {
  test.each([
    ["A3", 20, "0.5 m", 500 / 20],
    ["A4", 40, "1 m", 1000 / 40],
    ["A3", 15, "200 mm", 200 / 15],
  ] as const)("on %s at 1:%d the scale bar of %s measures true to 0.2 mm", async (on, scale, _, length) => {
    const pdf = await print({ on, scale });
    const [size = { width: 0, height: 0 }] = pdf.sizes();
    expect(Math.abs(scaleBar(pdf, size) - length)).toBeLessThan(0.2);
    expect(pdf.text(1)).toContain(`drawn 1:${scale}`);
    pdf.remove();
  });

  test.each(PAPERS.map(({ name, width, height }) => [name, width, height] as const))(
    "fills %s",
    async (name, width, height) => {
      const pdf = await print({ on: name });
      for (const size of pdf.sizes()) {
        expect(Math.abs(Math.min(size.width, size.height) - width)).toBeLessThan(0.1);
        expect(Math.abs(Math.max(size.width, size.height) - height)).toBeLessThan(0.1);
      }
      pdf.remove();
    },
  );

  test("a roll is as wide as it is, and as long as the room needs", async () => {
    const pdf = await print({ on: "roll 610", scale: 10 });
    const [size = { width: 0, height: 0 }] = pdf.sizes();
    expect([size.width, size.height].some((side) => Math.abs(side - 610) < 0.1)).toBe(true);
    expect(Math.min(size.width, size.height)).toBeGreaterThan(300);
    pdf.remove();
  });

  test("each deck has a sheet; profile, readings and schedules follow", async () => {
    const pdf = await print({ on: "A3" });
    const pages = pdf.sizes().map((_, i) => pdf.text(i + 1));
    expect(pages[0]).toContain("Hillfoot");
    expect(pages[1]).toContain("Hilltop");
    for (const page of pages.slice(0, 2)) {
      for (const words of [
        "Hillfoot & Hilltop",
        "Room 4000 mm × 3000 mm",
        "Layout overall",
        "Units: millimetres",
        "2026-05-17",
        "N",
      ]) {
        expect(page).toContain(words);
      }
    }
    // Heights of the railhead, a radius and a turnout's size on the drawing.
    expect(pages[0]).toMatch(/\+1000 mm/);
    expect(pages[0]).toContain("R 900 mm");
    expect(pages[0]).toContain("No. 6 left");
    expect(pages[2]).toContain("ruling grade");
    expect(pages.slice(3).join("")).toContain("Least radius, main");
    expect(pages.slice(3).join("")).toContain("Upper road");
    expect(pages.at(-1)).toContain(`sheet ${pages.length} of ${pages.length}`);
    pdf.remove();
  });

  test("what does not fit is refused with the scale that does", async () => {
    const refused = await drawingSetPdf(hillPlan, layout, { paper: paperNamed("A4"), scale: 5, readings, date });
    expect(refused).toMatchObject({ ok: false });
    const does = /at 1:(\d+)\S* it does/.exec(refused.ok ? "" : refused.message)?.[1];
    expect((await drawn({ on: "A4", scale: Number(does) })).length).toBeGreaterThan(1000);
  });

  test("names are lettering and never operators; equal wishes give equal bytes", async () => {
    const name = `${hostileName} ) Tj ET Q 0 0 m (`;
    const plan: Plan = {
      ...hillPlan,
      title: name,
      decks: { ...hillPlan.decks, foot: { name, kind: "scenic", height: 1000, thickness: 90 } },
      labels: { a: { text: `日本 żółw — ${name}`, at: { x: 2000, y: 500 } } },
    };
    const [first, second] = [await drawn({ on: "A3", plan }), await drawn({ on: "A3", plan })];
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
    const pdf = printed(first);
    expect(pdf.text()).toContain("<script>");
    expect(pdf.text()).toContain("?? zó?w");
    // Drawn as much as with plain names.
    const plain = await print({ on: "A3" });
    expect(pdf.sizes()).toEqual(plain.sizes());
    pdf.remove();
    plain.remove();
  });

  test("an empty plan is drawn as an empty room", async () => {
    const plan = { ...hillPlan, decks: {}, tracks: {}, turnouts: {}, pins: {}, benches: {}, labels: {} };
    const pdf = await print({ on: "A4", plan, readings: [] });
    expect(pdf.sizes()).toHaveLength(1);
    pdf.remove();
  });
});

describe("the pen's parts", () => {
  test("markup is read back as it was written", () => {
    const names = fc.constantFrom("path", "g", "text", "rect");
    const attributes = fc.dictionary(
      fc.constantFrom("d", "fill", "data-x", "stroke-width"),
      fc.string({ unit: "binary" }),
    );
    const tree = fc.letrec<{
      node: { name: string; attributes: Record<string, string>; children: unknown[]; text: string };
    }>((tie) => ({
      node: fc.oneof(
        { depthSize: "small" },
        fc.record({
          name: names,
          attributes,
          children: fc.constant<unknown[]>([]),
          text: fc.string({ unit: "binary" }),
        }),
        fc.record({
          name: names,
          attributes,
          children: fc.array(tie("node"), { minLength: 1, maxLength: 3 }),
          text: fc.constant(""),
        }),
      ),
    })).node;
    type Node = { name: string; attributes: Record<string, string>; children: Node[]; text: string };
    const write = ({ name, attributes: own, children, text }: Node): string =>
      element(name, own, ...(children.length > 0 ? children.map(write) : [escapeText(text)]));
    // Markup leaves out what XML may not hold; so does what is compared.
    const kept = (text: string): string =>
      text.replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, "");
    const clean = ({ name, attributes: own, children, text }: Node): Node => ({
      name,
      attributes: Object.fromEntries(Object.entries(own).map(([key, value]) => [key, kept(value)])),
      children: children.map(clean),
      text: kept(text),
    });
    fc.assert(
      fc.property(tree, (node) => {
        expect(readMarkup(write(node as Node))).toEqual([clean(node as Node)]);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  test("lettering that can be written stays; what cannot comes near or as a question mark, and never fails", () => {
    expect(plainLetters("R 36½″ − 31⅞″ ≥ café €")).toBe('R 36½" - 31 7/8" >= café €');
    expect(plainLetters("żółw 日\u0000\u001b\ud800")).toBe("zó?w ?");
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const plain = plainLetters(text);
        expect(plainLetters(plain)).toBe(plain);
      }),
      { seed: 6 },
    );
  });

  test("an arc of a circle ends where it should and keeps its radius", () => {
    const content = pathContent("M10 0A10 10 0 0 1 0 10");
    const [, x1, y1, x2, y2, x, y] =
      /([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+) ([\d.-]+) c/.exec(content)?.map(Number) ?? [];
    expect([x, y]).toEqual([0, 10]);
    const middle = [0, 1].map(
      (i) => (([10, 0][i] ?? 0) + 3 * ([x1, y1][i] ?? 0) + 3 * ([x2, y2][i] ?? 0) + ([x, y][i] ?? 0)) / 8,
    );
    expect(Math.hypot(middle[0] ?? 0, middle[1] ?? 0)).toBeCloseTo(10, 2);
  });

  test.each([
    ["1:20", 20],
    ["1/48", 48],
    ["24", 24],
    ["1/2 in", 24],
    ['3/4"', 16],
    ["1 1/2 in to the foot", 8],
    ["1/4 in = 1 ft", 48],
  ])("the scale %s is 1:%d", (text, scale) => expect(parseScale(text)).toEqual({ ok: true, scale }));

  test.each(["", "0", "1:0.5", "2000", "big", "1/0 in"])("%s is no scale", (text) =>
    expect(parseScale(text).ok).toBe(false),
  );

  test("scales are called as draughtsmen do", () => {
    expect(scaleText(24, "imperial")).toBe("1:24 (½″ = 1′)");
    expect(scaleText(24, "metric")).toBe("1:24");
  });

  test.each([
    ["a4", "A4"],
    ["ARCH-D", "Arch D"],
    ["roll 24 in", "roll 609.6 mm wide"],
    ["roll:610", "roll 610 mm wide"],
  ])("%s is %s", (text, name) => expect(parsePaper(text, "metric")).toMatchObject({ ok: true, paper: { name } }));
  test.each(["", "B7", "roll", "roll 5", "roll x"])("%s is no paper", (text) =>
    expect(parsePaper(text, "metric").ok).toBe(false),
  );
});
