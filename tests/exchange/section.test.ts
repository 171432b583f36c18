/** The drawn section: to scale, everything cut in it, its figures, and names as text. */
import { describe, expect, it } from "vitest";
import { figure } from "../../src/exchange/svg/markup.js";
import { layOutSection, drawSectionSvg } from "../../src/exchange/svg/section.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { deriveSection, type Section } from "../../src/layout/section.js";
import { standIn } from "../../src/layout/section-sight.js";
import type { Plan } from "../../src/plan/schema.js";
import { hillPlan, hostileName } from "./hill-plan.js";

const cutOf = (plan: Plan): Section => {
  const section = deriveSection(deriveLayout(plan), { from: { x: 1200, y: 0 }, to: { x: 1200, y: 3000 } });
  if (!section) throw new Error("no section");
  return section;
};
const textsOf = (svg: string): string[] => [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/g)].map((m) => m[1] ?? "");
const section = cutOf(hillPlan);
const operator = { name: "Driver", eye: 1600 };
const standing = standIn(section, operator);
const svg = drawSectionSvg(hillPlan, section, { standing });

describe("drawSectionSvg", () => {
  it("is true to scale both ways", () => {
    const sheet = layOutSection(hillPlan, section, { scale: 10 });
    const width = (one: string, scale: number) => {
      const [, w = "", h = ""] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(one) ?? [];
      expect(one).toContain(`data-scale="${scale}"`);
      return [Number(w), Number(h)];
    };
    const [w10 = 0, h10 = 0] = width(drawSectionSvg(hillPlan, section, { scale: 10 }), 10);
    const [w20 = 0, h20 = 0] = width(drawSectionSvg(hillPlan, section, { scale: 20 }), 20);
    expect(w10 - w20).toBeCloseTo(3000 / 10 - 3000 / 20, 2);
    expect(h10 - h20).toBeCloseTo(section.ceiling / 10 - section.ceiling / 20, 2);
    // The southern shelf, 600 deep and 90 thick, as a rectangle of 60 by 9 mm of paper.
    const corner = (along: number, up: number) =>
      `${figure(sheet.origin.x + along / 10)} ${figure(sheet.origin.y - up / 10)}`;
    const shelf = `M${corner(0, 910)}L${corner(600, 910)}L${corner(600, 1000)}L${corner(0, 1000)}Z`;
    expect(drawSectionSvg(hillPlan, section, { scale: 10 })).toContain(shelf);
  });

  it("says the heights of the decks, what is between them, the widths, and who stands where", () => {
    const texts = textsOf(svg);
    for (const text of ["Hillfoot", "1000 mm", "Hilltop", "1060 mm", "600 mm", "1900 mm", "3000 mm", "A", "B"]) {
      expect(texts).toContain(text);
    }
    expect(texts.find((text) => text.includes("drawn 1:20"))).toMatch(/Driver, eye at 1600 mm, 1550 mm from A$/);
    // Where there is no room for a figure it is left out.
    expect(texts).not.toContain("60 mm");
    expect(textsOf(drawSectionSvg(hillPlan, section, { scale: 10 }))).toContain("60 mm");
    for (const layer of ["room", "decks", "track", "sight", "operator", "dimensions"]) {
      expect(svg).toContain(`data-layer="${layer}"`);
    }
    expect(drawSectionSvg(hillPlan, section)).not.toContain('data-layer="sight"');
  });

  it("fits a screen, in either theme, without a number that is none", () => {
    const fitted = drawSectionSvg(hillPlan, section, { fit: { width: 700, height: 260 }, theme: "dark", standing });
    expect(fitted).toMatch(/width="700" height="260"/);
    expect(fitted).not.toMatch(/NaN|Infinity|undefined/);
    const small = drawSectionSvg(hillPlan, section, { fit: { width: 10, height: 10 } });
    expect(small).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("keeps names text", () => {
    const { foot, top } = hillPlan.decks;
    if (!foot || !top) throw new Error("no decks");
    const plan = { ...hillPlan, title: hostileName, decks: { foot: { ...foot, name: hostileName }, top } };
    const one = cutOf(plan);
    const drawn = drawSectionSvg(plan, one, { standing: standIn(one, { name: hostileName, eye: 1600 }) });
    expect(drawn).not.toContain("<script");
    expect(drawn).toBe(drawSectionSvg(plan, one, { standing: standIn(one, { name: hostileName, eye: 1600 }) }));
  });
});
