/** The command line from outside: outputs, exit codes, and one line that says what is wrong where. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { writePlan } from "../../src/plan/write.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { planWithTwoClimbs } from "../support/option-plan.js";
import { ensureBuilt, runCli, workFolder } from "./run-cli.js";

const folder = workFolder();
const inFolder = (name: string) => join(folder.path, name);
const run = (...args: string[]) => runCli(args, { cwd: folder.path });

/** One clear stretch of straight main on a bench wide enough for it, and the same with a curve far too sharp. */

const clearPlan: Plan = {
  ...hillPlan,
  title: "First shelf",
  room: { ...hillPlan.room, openings: {}, obstacles: {} },
  decks: { foot: hillPlan.decks["foot"] } as Plan["decks"],
  benches: {
    south: { deck: "foot", shape: { shelf: { from: { wall: 0, at: 0 }, to: { wall: 0, at: 4000 }, depth: 700 } } },
  },
  tracks: {
    main: {
      class: "main",
      deck: "foot",
      start: { pose: { x: 400, y: 350, heading: 0 } },
      legs: [{ straight: 3000 }],
    },
  },
  turnouts: {},
  pins: {},
  labels: {},
};
const failingPlan: Plan = {
  ...clearPlan,
  tracks: {
    main: {
      class: "main",
      deck: "foot",
      start: { pose: { x: 400, y: 350, heading: 0 } },
      legs: [{ straight: 1000 }, { curve: { radius: 150, angle: 20, hand: "left", easement: 0 } }],
    },
  },
};

const widerPlan: Plan = {
  ...clearPlan,
  standards: { ...clearPlan.standards, aisle: { value: 700, source: "the owner", reason: "two pass here" } },
  tracks: { main: { ...clearPlan.tracks["main"], start: { pose: { x: 400, y: 300, heading: 0 } } } } as Plan["tracks"],
  labels: { halt: { text: "Halt", at: { x: 1000, y: 500 } } },
};
/** A track of all options that leads from a turnout of one. */
const strayPlan: Plan = {
  ...clearPlan,
  options: { short: { name: "Short" }, long: { name: "Long" } },
  turnouts: { points: { on: "main", at: 500, facing: "with", hand: "left", number: 6, option: "short" } },
  tracks: {
    ...clearPlan.tracks,
    late: { class: "spur", deck: "foot", start: { turnout: "points" }, legs: [{ straight: 300 }] },
  },
};

beforeAll(() => {
  ensureBuilt("cli");
  writeFileSync(inFolder("hill.plan.json"), writePlan(hillPlan));
  writeFileSync(inFolder("clear.plan.json"), writePlan(clearPlan));
  writeFileSync(inFolder("fails.plan.json"), writePlan(failingPlan));
  writeFileSync(inFolder("options.plan.json"), writePlan(planWithTwoClimbs()));
  writeFileSync(inFolder("wider.plan.json"), writePlan(widerPlan));
  writeFileSync(inFolder("stray.plan.json"), writePlan(strayPlan));
  writeFileSync(inFolder("broken.plan.json"), '{ "format": "ruling-grade-plan", ');
  writeFileSync(inFolder("newer.plan.json"), writePlan({ ...clearPlan, version: 99 } as never));
  writeFileSync(
    inFolder("damaged.plan.json"),
    JSON.stringify({ ...clearPlan, tracks: { ...clearPlan.tracks, lost: { class: "main", deck: "foot", start: 7 } } }),
  );
});
afterAll(() => folder.remove());

describe("check", () => {
  it("exits 0 when nothing fails, with a table", () => {
    const { code, out, err } = run("check", "clear.plan.json");
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^First shelf \(clear\.plan\.json\)\n/);
    expect(out).toMatch(/○ Clear {2,}\S/);
    expect(out).toMatch(/\d+ clear\n$/);
  });

  it("exits 1 when something fails, and says where", () => {
    const { code, out } = run("check", "fails.plan.json");
    expect(code).toBe(1);
    expect(out).toMatch(/■ Fails +Least radius, main +150 mm +≥ \d/);
    expect(out).toMatch(/at tracks\.main @ 1\d\d\d(\.\d)? mm, Hillfoot/);
    expect(out).toMatch(/\d+ beyond the limit/);
  });

  it("exits 2 for what cannot be read, in one line", () => {
    expect(run("check", "broken.plan.json").code).toBe(2);
    const missing = run("check", "no-such.plan.json");
    expect(missing).toEqual({ code: 2, out: "", err: "no-such.plan.json: no such file or folder\n" });
  });

  it("exits with the worst of several files and still checks the others", () => {
    const { code, out, err } = run("check", "clear.plan.json", "broken.plan.json", "fails.plan.json");
    expect(code).toBe(2);
    expect(out).toContain("(clear.plan.json)");
    expect(out).toContain("(fails.plan.json)");
    expect(err.trimEnd().split("\n")).toHaveLength(1);
    expect(err).toMatch(/^broken\.plan\.json: .*line 1/);
    expect(run("check", "clear.plan.json", "fails.plan.json").code).toBe(1);
  });

  it("says what hangs on another option's", () => {
    const { code, out } = run("check", "stray.plan.json");
    expect(code).toBe(1);
    expect(out).toMatch(/at tracks\.late.*: track late of all options hangs on turnout points of Short/);
  });

  it("names file, record and property of what was set aside, and does not call that fine", () => {
    const { code, err, out } = run("check", "damaged.plan.json");
    expect(code).toBe(1);
    expect(err).toMatch(/^damaged\.plan\.json: tracks\.lost: \S/m);
    expect(out).toContain("First shelf");
  });

  it("prints JSON that is the same every time, in millimetres", () => {
    const args = ["check", "--json", "fails.plan.json", "broken.plan.json", "clear.plan.json"];
    const first = run(...args);
    expect(run(...args).out).toBe(first.out);
    const [fails, broken, clear] = JSON.parse(first.out) as [
      { file: string; readable: boolean; verdicts: { fails: number }; readings: { id: string; value: number }[] },
      { readable: boolean; problems: string[] },
      { verdicts: { fails: number } },
    ];
    expect(fails.readable).toBe(true);
    expect(fails.verdicts.fails).toBeGreaterThan(0);
    expect(fails.readings.find((reading) => reading.id === "radius")?.value).toBeCloseTo(150, 6);
    expect(broken.readable).toBe(false);
    expect(broken.problems).toHaveLength(1);
    expect(clear.verdicts.fails).toBe(0);
  });

  it("shows other units, and reads stdin", () => {
    const { code, out } = runCli(["check", "--units", "imperial", "-"], { input: writePlan(clearPlan) });
    expect(code).toBe(0);
    expect(out).toContain("(stdin)");
    expect(out).toMatch(/\d″/);
    expect(out).not.toMatch(/\d mm/);
  });
});

describe("compare", () => {
  it("prints the options of a file side by side, differences marked", () => {
    const { code, out, err } = run("compare", "options.plan.json");
    expect([code, err]).toEqual([0, ""]);
    const lines = out.split("\n");
    expect(lines[0]).toBe("Larkmoor & Summit (options.plan.json): Long way, Late start");
    expect(lines).toContainEqual(expect.stringMatching(/^ {2,}Long way {2,}Late start$/));
    expect(out).toMatch(/^≠ Grade felt, branch +○ 3\.48 % \(≤ 3\.7 %\) +■ 3\.88 % \(≤ 3\.7 %\) − worse$/m);
    expect(out).toMatch(/^ {2}Track, main {2,}/m);
    const short = run("compare", "options.plan.json", "--differences").out;
    expect(short).not.toContain("Track, main");
    expect(short).toMatch(/^≠ Grade felt, branch/m);
    expect(short).toMatch(/\d+ of \d+ rows differ/);
    expect(run("compare", "clear.plan.json").out).toContain("(clear.plan.json): it has no options");
  });

  it("prints what differs from one file to another: objects, limits, readings", () => {
    const { code, out } = run("compare", "clear.plan.json", "wider.plan.json", "--units", "metric");
    expect(code).toBe(0);
    expect(out).toContain("First shelf (clear.plan.json) beside First shelf (wider.plan.json)");
    expect(out).toMatch(/^Added \(1\)\n {2}label Halt \(labels\.halt\)$/m);
    expect(out).toMatch(/^Moved \(1\)\n {2}track main \(tracks\.main\): start$/m);
    expect(out).toMatch(/^Limits changed \(1\)\n {2}Aisle: \d+(\.\d)? mm → 700 mm \(two pass here\)$/m);
    expect(out).toMatch(/^≠ Track to bench edge/m);
    expect(run("compare", "clear.plan.json", "clear.plan.json").out).toContain("Nothing in the plans differs.");
  });

  it("prints JSON in millimetres, the same every time", () => {
    const { out } = run("compare", "options.plan.json", "--json");
    expect(run("compare", "options.plan.json", "--json", "--units", "metric").out).toBe(out);
    const options = JSON.parse(out) as {
      inHand: string;
      columns: { option: string }[];
      groups: { rows: { key: string; differs: boolean; cells: { value: number; change: string }[] }[] }[];
    };
    expect(options.inHand).toBe("long-way");
    expect(options.columns.map(({ option }) => option)).toEqual(["long-way", "long-way-2"]);
    const climb = options.groups.flatMap(({ rows }) => rows).find(({ key }) => key === "climb:lower/upper");
    expect(climb).toMatchObject({ differs: true, cells: [{ change: "same" }, { change: "worse" }] });
    const files = JSON.parse(run("compare", "--json", "clear.plan.json", "wider.plan.json").out) as {
      differences: { added: { record: string }[]; settings: { path: string }[] };
    };
    expect(files.differences.added.map(({ record }) => record)).toEqual(["labels.halt"]);
    expect(files.differences.settings.map(({ path }) => path)).toEqual(["aisle"]);
  });

  it("names what cannot be read, by file, record and property", () => {
    expect(run("compare", "clear.plan.json", "no-such.plan.json")).toEqual({
      code: 2,
      out: "",
      err: "no-such.plan.json: no such file or folder\n",
    });
    expect(run("compare", "broken.plan.json").err).toMatch(/^broken\.plan\.json: .*line 1/);
    expect(run("compare", "clear.plan.json", "damaged.plan.json").err).toMatch(
      /^damaged\.plan\.json: tracks\.lost: \S/m,
    );
    expect(run("compare").code).toBe(2);
  });
});

describe("draw", () => {
  it("writes a drawing, and does not write over one", () => {
    expect(run("draw", "hill.plan.json", "-o", "hill.svg")).toEqual({ code: 0, out: "", err: "" });
    const drawn = readFileSync(inFolder("hill.svg"), "utf8");
    expect(drawn).toMatch(/^<svg [^>]*width="[\d.]+mm"/);
    writeFileSync(inFolder("hill.svg"), "mine");
    const refused = run("draw", "hill.plan.json", "-o", "hill.svg");
    expect(refused.code).toBe(2);
    expect(refused.err).toBe("hill.svg: exists already; --force writes over it\n");
    expect(readFileSync(inFolder("hill.svg"), "utf8")).toBe("mine");
    expect(run("draw", "hill.plan.json", "-o", "hill.svg", "--force").code).toBe(0);
    expect(readFileSync(inFolder("hill.svg"), "utf8")).toBe(drawn);
  });

  it("draws to scale, by deck, see-through", () => {
    const width = (svg: string) => Number(/width="([\d.]+)mm"/.exec(svg)?.[1]);
    const deck = run("draw", "hill.plan.json", "--deck", "hilltop", "--scale", "1:10").out;
    expect(deck).toContain('data-deck="top"');
    expect(deck).not.toContain('data-deck="foot"');
    expect(width(deck)).toBeGreaterThan(width(run("draw", "hill.plan.json", "--deck", "top", "--scale", "20").out));
    expect(run("draw", "hill.plan.json", "--see-through").out).toContain("fascia-top");
  });

  it.each([
    [["--deck", "attic"], /^hill\.plan\.json: decks: no deck is called "attic"\n$/],
    [["--scale", "0"], /scale from 1:1/],
    [["--theme", "beige"], /light, dark/],
    [["-o", "no-such-folder/a.svg"], /^no-such-folder\/a\.svg: no such file or folder\n$/],
    [["-o", "."], /^\.: (exists already; --force writes over it|is a folder)\n$/],
  ])("refuses %j", (args, says) => {
    const { code, out, err } = run("draw", "hill.plan.json", ...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(says);
  });
});

describe("profile", () => {
  it("draws the way from place to place", () => {
    const { code, out } = run("profile", "hill.plan.json", "--from", "main@0", "--to", "upper");
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg /);
    expect(out).toContain("main@0 to upper");
  });

  it("says what it cannot find or reach", () => {
    const nowhere = run("profile", "hill.plan.json", "--from", "moon", "--to", "upper");
    expect(nowhere.code).toBe(2);
    expect(nowhere.err).toMatch(/^hill\.plan\.json: tracks: nothing with track is called "moon"/);
    const apart = run("profile", "hill.plan.json", "--from", "loop@400", "--to", "upper");
    expect(apart.code).toBe(2);
    expect(apart.err).toMatch(/without reversing\n$/);
    expect(run("profile", "hill.plan.json").code).toBe(2);
  });
});

describe("section", () => {
  it("draws a cut to scale, with who stands in it", () => {
    const { code, out, err } = run("section", "hill.plan.json", "--from", "1200, 0", "--to", "120 cm; 3 m");
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^<svg [^>]*data-scale="20" data-length="3000"/);
    expect(out).toContain("Tall, standing, eye at");
    const args = ["--from", "-100, 500", "--to", "3900, 500", "--operator", "seated", "--stand", "2 m"];
    expect(run("section", "hill.plan.json", ...args, "--scale", "1:10").code).toBe(2);
    const across = ["--from", "1200, 0", "--to", "1200, 3000"];
    expect(run("section", "hill.plan.json", ...across, "--operator", "seated", "--stand", "1 m").out).toMatch(
      /Seated, eye at [\d.]+ mm, 1000 mm from A/,
    );
  });

  it.each([
    [["--from", "here", "--to", "1, 2"], /^--from: "here" is no point; expected across, up/],
    [["--from", "1, 2", "--to", "1, two"], /^--to: /],
    [["--from", "1, 2", "--to", "1, 2"], /^--to: the cut has no length\n$/],
    [["--from", "1200, 0", "--to", "1200, 3000", "--operator", "Nobody"], /no operator is called "Nobody" \("Tall/],
    [["--from", "1200, 0", "--to", "1200, 3000", "--stand", "100"], /^--stand: nobody can stand there\n$/],
    [["--from", "1, 2"], /--to/],
  ])("refuses %j", (args, says) => {
    const { code, out, err } = run("section", "hill.plan.json", ...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(says);
  });
});

describe("new", () => {
  it.each([
    [["--room", `21' 6" x 17'`, "--scale", "HO"], 6553.2, 5181.6, "imperial", "NMRA"],
    [["--room", "4.2 m × 3 m", "--scale", "n"], 4200, 3000, "metric", "NEM"],
    [["--room", "4200 by 3000", "--scale", "H0", "--body", "NEM"], 4200, 3000, "metric", "NEM"],
    [
      ["--room", "12 ft x 9 ft", "--scale", "S", "--units", "metric", "--body", "NMRA"],
      3657.6,
      2743.2,
      "metric",
      "NMRA",
    ],
  ])("writes a plan that reads back: %j", (args, width, depth, units, body) => {
    const { code, out, err } = run("new", ...args);
    expect([code, err]).toEqual([0, ""]);
    const result = readPlan(out);
    expect(result.report.problems).toEqual([]);
    expect(result.ok && result.plan.room.outline[2]).toEqual({
      x: expect.closeTo(width, 6),
      y: expect.closeTo(depth, 6),
    });
    expect(result.ok && [result.plan.units, result.plan.standards.body]).toEqual([units, body]);
    const checked = runCli(["check", "-"], { input: out });
    expect([checked.code, checked.err]).toEqual([0, ""]);
  });

  it.each([
    [["--room", "big", "--scale", "HO"], /^--room: "big" is no size/],
    [["--room", "0 x 3 m", "--scale", "HO"], /^--room: a room has some width/],
    [["--room", "4 m x 3 furlongs", "--scale", "HO"], /^--room: .*furlongs/],
    [["--room", "4 m x 3 m", "--scale", "Q"], /^--scale: no NEM scale is called "Q"/],
    [["--scale", "HO"], /--room/],
  ])("refuses %j in one line", (args, says) => {
    const { code, out, err } = run("new", ...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(says);
    expect(err.trimEnd().split("\n")).toHaveLength(1);
  });
});

describe("upgrade", () => {
  it("keeps what it does not know and what was set aside", () => {
    const strange = { ...JSON.parse(writePlan(clearPlan)), signals: { a: { bridge: 300 } } };
    const { code, out } = runCli(["upgrade", "-"], { input: JSON.stringify(strange) });
    expect(code).toBe(0);
    expect(JSON.parse(out).signals).toEqual({ a: { bridge: 300 } });
    const kept = run("upgrade", "damaged.plan.json");
    expect(kept.code).toBe(0);
    expect(JSON.stringify(JSON.parse(kept.out).setAside)).toContain('"start":7');
  });

  it("writes in place only when asked, and nothing over a newer file", () => {
    const before = readFileSync(inFolder("damaged.plan.json"), "utf8");
    run("upgrade", "damaged.plan.json");
    expect(readFileSync(inFolder("damaged.plan.json"), "utf8")).toBe(before);
    writeFileSync(inFolder("mine.plan.json"), before);
    expect(run("upgrade", "mine.plan.json", "--write").out).toBe("");
    expect(readFileSync(inFolder("mine.plan.json"), "utf8")).toBe(run("upgrade", "damaged.plan.json").out);
    const newer = run("upgrade", "newer.plan.json", "--write");
    expect(newer.code).toBe(2);
    expect(newer.err).toMatch(/newer/);
    expect(existsSync(inFolder("mine.plan.json.part"))).toBe(false);
  });
});

describe("the rest", () => {
  it("prints the schema", () => {
    const { code, out } = run("schema");
    expect(code).toBe(0);
    expect(JSON.parse(out).properties.format.const).toBe("ruling-grade-plan");
  });

  it("helps with exit 0 and refuses unknown commands with exit 2", () => {
    expect(run("--help").code).toBe(0);
    expect(run("check", "--help").code).toBe(0);
    expect(run("--version").out).toMatch(/^\d+\.\d+\.\d+\n$/);
    expect(run("build").code).toBe(2);
    expect(run("check").code).toBe(2);
  });
});
