/** `climb-sheet` from outside: tables in the units typed, the picture, the limits of a plan, and what is refused. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writePlan } from "../../src/plan/write.js";
import { Draft } from "../readings/fixture.js";
import { ensureBuilt, runCli, workFolder } from "./run-cli.js";

const folder = workFolder();
const inFolder = (name: string) => join(folder.path, name);
const run = (...args: string[]) => runCli(["climb-sheet", ...args], { cwd: folder.path });

beforeAll(() => {
  ensureBuilt("cli");
  const { plan } = Draft.plan().limits({ radius: 900, grade: 1.5, feltGrade: 6 });
  writeFileSync(inFolder("own.plan.json"), writePlan(plan));
});
afterAll(() => folder.remove());

describe("climb-sheet", () => {
  it("reckons in millimetres, by NEM, where no inches are typed", () => {
    const { code, out, err } = run("--rise", "400", "--grade", "2", "--radius", "610", "--scale", "HO");
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Climb sheet, H0 main\n/);
    // 20 m and 2 % of a vertical curve of NEM's longest car for each.
    expect(out).toMatch(/^Run, level to level +20\.65 m +67′ 9″$/m);
    expect(out).toMatch(/^Grade +2 %, 1 in 50 +○ Clear ≤ 2\.5 %$/m);
    expect(out).toMatch(/^→■? +2 % +50 /m);
    expect(out).toMatch(/^→ +400 mm +15¾″ /m);
  });

  it("and in feet, by NMRA, where they are; the class's own radius and steepest grade where none is said", () => {
    const { code, out } = run("--rise", `1' 4"`, "--scale", "HO", "--class", "branch");
    expect(code).toBe(0);
    expect(out).toMatch(/^Climb sheet, HO branch\n/);
    expect(out).toMatch(/^Rise a turn +\d+.?″ /m);
    expect(out).not.toMatch(/■ Fails ≤/);
  });

  it("takes the limits of a plan", () => {
    const { out } = run("own.plan.json", "--rise", "400mm", "--units", "metric");
    expect(out).toMatch(/^Radius +900 mm +/m);
    expect(out).toMatch(/^Grade +1\.5 %, 1 in 67 /m);
  });

  it("prints JSON in millimetres, and draws the picture once", () => {
    const { out } = run("--rise", "16in", "--grade", "2", "--radius", "30in", "--json", "--svg", "climb.svg");
    const sheet = JSON.parse(out) as { sums: { rise: number; climbing: number }; checks: { id: string }[] };
    expect(sheet.sums.rise).toBeCloseTo(406.4, 9);
    expect(sheet.sums.climbing).toBeCloseTo(20_320, 6);
    expect(readFileSync(inFolder("climb.svg"), "utf8")).toMatch(/^<svg [^>]*width="[\d.]+mm"/);
    const again = run("--rise", "16in", "--svg", "climb.svg");
    expect([again.code, again.out, again.err]).toEqual([2, "", "climb.svg: exists already; --force writes over it\n"]);
    expect(run("--rise", "16in", "--svg", "-", "--theme", "dark").out).toMatch(/^<svg /);
  });

  it.each<[args: readonly string[], err: RegExp]>([
    [["--rise", "0"], /^--rise: a climb goes up/],
    [["--rise", "high"], /^--rise: /],
    [["--rise", "400", "--grade", "steep"], /^--grade: /],
    [["--rise", "400", "--grade", "60"], /^--grade: more than 15 % asks for a rack/],
    [["--rise", "400", "--radius", "50"], /^--radius: the longest car/],
    [["--rise", "400", "--scale", "G"], /^--scale: no NEM scale is called "G"; there are Z, N,/],
    [["none.plan.json", "--rise", "400"], /^none\.plan\.json: no such file/],
    [[], /required option '--rise/],
  ])("exits 2 for %j, in one line", (args, err) => {
    const { code, out, err: said } = run(...args);
    expect([code, out]).toEqual([2, ""]);
    expect(said).toMatch(err);
    expect(said.trimEnd().split("\n")).toHaveLength(1);
  });
});
