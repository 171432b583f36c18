/** Paper from outside: drawing sheets, full-size templates, the certificate's points. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writePlan } from "../../src/plan/write.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { printed } from "../support/poppler.js";
import { ensureBuilt, runCli, workFolder } from "./run-cli.js";

const folder = workFolder();
const run = (...args: string[]) => runCli(args, { cwd: folder.path });
const FILE = "hill.plan.json";
const pages = (name: string) => {
  const pdf = printed(readFileSync(join(folder.path, name)));
  try {
    return { text: pdf.text(), sizes: pdf.sizes() };
  } finally {
    pdf.remove();
  }
};

beforeAll(() => {
  ensureBuilt("cli");
  writeFileSync(join(folder.path, FILE), writePlan(hillPlan));
});
afterAll(() => folder.remove());

describe("paper", () => {
  it("export writes drawing sheets on the paper and at the scale wished", () => {
    expect(run("export", FILE, "-o", "hill.pdf", "--paper", "a3", "--scale", "1/2 in")).toEqual({
      code: 0,
      out: "",
      err: "",
    });
    const { text, sizes } = pages("hill.pdf");
    expect(text).toContain("drawn 1:24");
    expect(sizes[0]?.width).toBeCloseTo(420, 0);
    expect(run("export", FILE, "-o", "one.pdf", "--deck", "Hilltop", "--paper", "A3").code).toBe(0);
    expect(pages("one.pdf").sizes.length).toBe(sizes.length - 1);
  });

  it("templates prints chosen tracks at full size", () => {
    const args = ["templates", FILE, "-o", "full.pdf", "--tracks", "main, Upper road", "--riser-every", "300mm"];
    expect(run(...args)).toEqual({ code: 0, out: "", err: "" });
    const { text, sizes } = pages("full.pdf");
    expect(text).toContain("risers every 300 mm");
    expect(text).toContain("Print at 100 %");
    expect(sizes.length).toBeGreaterThan(5);
    expect(run(...args).err).toBe("full.pdf: exists already; --force writes over it\n");
  });

  it.each([
    [
      ["export", FILE, "-o", "a.pdf", "--paper", "napkin"],
      /^--paper: no paper is called "napkin"; there are A4, .*\n$/,
    ],
    [["export", FILE, "-o", "a.pdf", "--scale", "huge"], /^--scale: expected a scale/],
    [
      ["export", FILE, "-o", "a.pdf", "--scale", "1:2"],
      /^--paper: at 1:2 the room does not fit on A4; at 1:\d+ it does\n$/,
    ],
    [["export", FILE, "-o", "a.svg", "--paper", "A4"], /^--paper: svg does not take it \(pdf does\)\n$/],
    [
      ["templates", FILE, "-o", "a.pdf", "--tracks", "nowhere"],
      /^hill\.plan\.json: --tracks: no track is called "nowhere"\n$/,
    ],
    [["templates", FILE, "-o", "a.pdf", "--classes", "yard"], /^hill\.plan\.json: no track is chosen to print\n$/],
    [["templates", FILE, "-o", "a.pdf", "--riser-every", "often"], /^--riser-every: /],
    [
      ["templates", FILE, "-o", "a.pdf", "--riser-every", "1mm"],
      /^hill\.plan\.json: risers stand 20 mm apart or more\n$/,
    ],
  ] as const)("refuses %j", (args, says) => {
    const { code, out, err } = run(...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(says);
  });

  it("check says which points of the certificate are met, and leaves the exit code to the readings", () => {
    const plain = run("check", FILE);
    const { code, out } = run("check", FILE, "--certificate", "civil");
    expect(code).toBe(plain.code);
    expect(out.startsWith(plain.out)).toBe(true);
    expect(out).toMatch(/^ {2}not met +A passing siding on the main +no double-ended siding$/m);
    expect(out).toMatch(/^ {2}met +Radii of curves on the drawing/m);
    expect(out).toContain("from memory");
    const [json] = JSON.parse(run("check", FILE, "--json", "--certificate", "civil").out) as {
      certificate: { points: { id: string; met?: boolean }[] };
    }[];
    expect(json?.certificate.points.find(({ id }) => id === "passing-siding")?.met).toBe(false);
    expect(run("check", FILE, "--certificate", "mechanical").code).toBe(2);
  });
});
