/** `climb` from outside: routes as a table and as JSON, one taken, none found, and ends that cannot be. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { writePlan } from "../../src/plan/write.js";
import { shelfOnly } from "../climb/rooms.js";
import { ensureBuilt, runCli, workFolder } from "./run-cli.js";

const folder = workFolder();
const inFolder = (name: string) => join(folder.path, name);
const run = (...args: string[]) => runCli(args, { cwd: folder.path });
const ENDS = ["--from", "low:end", "--to", "high:start"] as const;

const shelf = shelfOnly(122).plan;
const named: Plan = {
  ...shelf,
  tracks: Object.fromEntries(
    Object.entries(shelf.tracks).map(([id, track]) => [
      id,
      { ...track, name: id === "low" ? "Shore line" : "Hill line" },
    ]),
  ),
};

beforeAll(() => {
  ensureBuilt("cli");
  writeFileSync(inFolder("shelf.plan.json"), writePlan(named));
  // 160 mm need 6.4 m at 2.5 %, and more with vertical curves; there are 5.4.
  writeFileSync(inFolder("short.plan.json"), writePlan(shelfOnly(160).plan));
});
afterAll(() => folder.remove());

const planIn = (text: string): Plan => {
  const read = readPlan(text, "taken");
  if (!read.ok) throw new Error("a plan is written");
  expect(read.report.problems).toEqual([]);
  return read.plan;
};

describe("climb", () => {
  it("exits 0 with a row for every route, in either unit", () => {
    const { code, out, err } = run("climb", "shelf.plan.json", "--from", "Shore line:end", "--to", '"Hill line":start');
    expect([code, err]).toEqual([0, ""]);
    const [title, , head, first] = out.split("\n");
    expect(title).toBe('Fixture (shelf.plan.json): climb from Shore line:end to "Hill line":start');
    expect(head).toMatch(/^ +Run +Ruling +Felt/);
    // Straight from end to end, 5400 mm, 122 mm up: 2.26 %, or more where it begins later.
    expect(first).toMatch(/^1 +17′ 8″ +2\.[2-5]\d* % +2\.[2-5]\d* %/);
    expect(run("climb", "shelf.plan.json", ...ENDS, "--units", "metric").out).toMatch(/^1 +5\.4 m +2\.[2-5]\d* %/m);
  });

  it("prints JSON that is the same every time, in millimetres", () => {
    const args = ["climb", "shelf.plan.json", ...ENDS, "--json", "--most", "1", "--class", "main"];
    const { out } = run(...args);
    expect(run(...args).out).toBe(out);
    const answer = JSON.parse(out) as {
      request: { class: string };
      routes: { legs: unknown[]; figures: { run: number; rise: number } }[];
    };
    expect(answer.request.class).toBe("main");
    expect(answer.routes).toHaveLength(1);
    expect(answer.routes[0]?.figures.run).toBeCloseTo(5400, 3);
    expect(answer.routes[0]?.figures.rise).toBeCloseTo(122, 6);
  });

  it("exits 1 where there is none, and says what would have to give", () => {
    const { code, out, err } = run("climb", "short.plan.json", ...ENDS, "--units", "metric");
    expect([code, err]).toEqual([1, ""]);
    expect(out).toMatch(/^It needs 6\.\d m of run at 2\.5 %, the longest legal run found is 5\.\d+ m\.$/m);
    expect(out).toMatch(/^It fits at [23]\.\d+ %, or with the deck upper \d+ mm lower\.$/m);
    expect(out).toMatch(/evidence, not proof/);
    const found = Number(/It fits at ([23]\.\d+) %/.exec(out)?.[1]);
    // What is told to fit does.
    expect(run("climb", "short.plan.json", ...ENDS, "--grade", `${found}%`).code).toBe(0);
  });

  it("takes a route as track with its pins", () => {
    const { code, out } = run("climb", "shelf.plan.json", ...ENDS, "--take", "1", "-o", "taken.plan.json");
    expect(code).toBe(0);
    expect(out).toMatch(/^1 +17′ 8″/m);
    const plan = planIn(readFileSync(inFolder("taken.plan.json"), "utf8"));
    const [id = ""] = Object.keys(plan.tracks).filter((one) => !(one in named.tracks));
    expect(plan.tracks[id]).toMatchObject({ start: { track: "low", end: "end" } });
    expect(plan.tracks[id]?.option).toBeUndefined();
    expect(Object.values(plan.pins).filter(({ track }) => track === id).length).toBeGreaterThanOrEqual(2);
    expect(plan.units).toBe(named.units);
    const again = run("climb", "shelf.plan.json", ...ENDS, "--take", "1", "-o", "taken.plan.json");
    expect(again).toMatchObject({ code: 2, err: "taken.plan.json: exists already; --force writes over it\n" });
  });

  it("takes it as an option, to stdout where no file is named, in the plan's own units", () => {
    const args = ["climb", "shelf.plan.json", ...ENDS, "--take", "1", "--option", "Climb A", "--units", "metric"];
    const { code, out } = run(...args);
    expect(code).toBe(0);
    const plan = planIn(out);
    expect(plan.units).toBe("imperial");
    const [option = ""] = Object.keys(plan.options);
    expect(plan.options[option]?.name).toBe("Climb A");
    expect(plan.option).toBe(option);
    const added = Object.keys(plan.tracks).filter((one) => !(one in named.tracks));
    expect(added.map((one) => plan.tracks[one]?.option)).toEqual([option]);
    expect(plan.tracks["low"]?.option).toBeUndefined();
  });

  it.each<[what: string, args: readonly string[], err: RegExp]>([
    [
      "an unknown end",
      ["--from", "hill:end", "--to", "high:start"],
      /^shelf\.plan\.json: tracks: --from: no track .* "hill"; there are tracks\.high "Hill line"\n$/,
    ],
    [
      "half an end",
      ["--from", "low:end", "--to", "high"],
      /^shelf\.plan\.json: tracks\.high: --to: say which end of it/,
    ],
    [
      "the upper end below",
      ["--from", "high:start", "--to", "low:end"],
      /^shelf\.plan\.json: the upper end must be above the lower\n$/,
    ],
    [
      "a place beyond the track",
      ["--from", "low@90 ft", "--to", "high:start"],
      /^shelf\.plan\.json: tracks\.low: --from: that is beyond the end of the track\n$/,
    ],
    ["a length of words", [...ENDS, "--radius", "wide"], /^--radius: /],
    ["a grade downhill", [...ENDS, "--grade", "-2"], /^--grade: it must be more than level\n$/],
    ["no such route", [...ENDS, "--take", "9"], /^--take 9: there (is|are) \d routes?\n$/],
    ["a file for no route", [...ENDS, "-o", "x.plan.json"], /^--output and --option go with --take/],
    ["a class there is not", [...ENDS, "--class", "monorail"], /argument 'monorail' is invalid/],
  ])("exits 2 for %s, in one line", (_, args, err) => {
    const { code, out, err: said } = run("climb", "shelf.plan.json", ...args);
    expect([code, out]).toEqual([2, ""]);
    expect(said).toMatch(err);
    expect(existsSync(inFolder("x.plan.json"))).toBe(false);
  });
});
