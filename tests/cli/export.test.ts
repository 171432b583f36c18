/** `export` from outside: each form by its ending, options where they belong, and one line that says what is wrong. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import DxfParser from "dxf-parser";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writePlan } from "../../src/plan/write.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { ensureBuilt, runCli, workFolder } from "./run-cli.js";

const folder = workFolder();
const inFolder = (name: string) => join(folder.path, name);
const run = (...args: string[]) => runCli(["export", ...args], { cwd: folder.path });
const FILE = "hill.plan.json";

beforeAll(() => {
  ensureBuilt("cli");
  writeFileSync(inFolder(FILE), writePlan(hillPlan));
});
afterAll(() => folder.remove());

describe("export", () => {
  it.each([
    ["hill.svg", /^<svg [^>]*width="[\d.]+mm"/],
    ["hill.dxf", /^ {2}0\nSECTION\n/],
    ["hill.CSV", /^group,reading,value,unit,limit,verdict,place,note\r\n/],
    ["hill.html", /^<!doctype html>\n<html lang="en" data-theme="light">/],
  ])("writes %s, and does not write over it", (name, begins) => {
    expect(run(FILE, "-o", name)).toEqual({ code: 0, out: "", err: "" });
    const written = readFileSync(inFolder(name), "utf8");
    expect(written).toMatch(begins);
    writeFileSync(inFolder(name), "mine");
    const refused = run(FILE, "-o", name);
    expect([refused.code, refused.err]).toEqual([2, `${name}: exists already; --force writes over it\n`]);
    expect(run(FILE, "-o", name, "--force").code).toBe(0);
    expect(readFileSync(inFolder(name), "utf8")).toBe(written);
  });

  it("writes to stdout by format, of one deck, with rails", () => {
    const { code, out } = run(FILE, "--format", "dxf", "--deck", "Hilltop", "--rails");
    expect(code).toBe(0);
    const layers = new Set(new DxfParser().parseSync(out)?.entities.map(({ layer }) => layer));
    expect(layers).toContain("HILLTOP-RAIL");
    expect([...layers].filter((layer) => layer.startsWith("HILLFOOT"))).toEqual([]);
    expect(run(FILE, "--format", "html", "--theme", "dark", "--deck", "top").out).toMatch(
      /data-theme="dark".*aria-pressed="true">Hilltop</s,
    );
  });

  it("writes heights every so far, in the units asked for", () => {
    const heights = (...args: string[]) => run(FILE, "--format", "csv", ...args).out.split("\r\n");
    const [head, first, second] = heights("--every", "10in", "--units", "imperial", "--deck", "foot");
    expect(head).toBe("track,deck,distance (in),x (in),y (in),height (in),grade (%),radius (in)");
    expect([first, second].map((row) => row?.split(",").slice(0, 3))).toEqual([
      ["Main", "Hillfoot", "0"],
      ["Main", "Hillfoot", "10"],
    ]);
    expect(heights("--what", "heights")[2]?.split(",")[2]).toBe("150");
  });

  it.each([
    [
      ["-o", "hill.gif"],
      /^hill\.gif: --output: its ending says no form that is known \(\.svg, .*\); --format says it too\n$/,
    ],
    [[], /^--format: say which \(svg, dxf, csv, html.*\), or name a file with -o\n$/],
    [["--format", "gif"], /--format.*svg, dxf, csv, html/],
    [["-o", "a.dxf", "--theme", "dark"], /^--theme: dxf does not take it \(svg, html do\)\n$/],
    [["-o", "a.html", "--every", "6in"], /^--every: html does not take it \(csv does\)\n$/],
    [
      ["-o", "a.csv", "--what", "readings", "--every", "6in"],
      /^--every: the readings are of the whole plan; --what heights takes it\n$/,
    ],
    [["-o", "a.csv", "--every", "often"], /^--every: /],
    [["-o", "a.csv", "--every", "0"], /^--every: .*more than nothing\n$/],
    [["-o", "a.csv", "--every", "0.001 mm"], /^--every: .*rows/],
    [["-o", "a.svg", "--deck", "attic"], /^hill\.plan\.json: --deck: no deck is called "attic"\n$/],
    [["-o", "no-such-folder/a.svg"], /^no-such-folder\/a\.svg: no such file or folder\n$/],
  ])("refuses %j", (args, says) => {
    const { code, out, err } = run(FILE, ...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(says);
  });

  it("names a file that cannot be read", () =>
    expect(run("gone.plan.json", "-o", "b.svg").err).toBe("gone.plan.json: no such file or folder\n"));
});
