import { describe, expect, test } from "vitest";
import { type Migration, MIGRATIONS, migrate } from "../../src/plan/migrate.js";
import { readPlan } from "../../src/plan/read.js";
import { VERSION } from "../../src/plan/schema.js";
import { goldenText } from "./golden-plan.js";

/** An invented past: version 2 called the title `name`, version 3 calls it `title`. */
const invented: readonly Migration[] = [
  { to: 2, what: "label becomes name", step: ({ label, ...rest }) => ({ ...rest, name: label }) },
  { to: 3, what: "name becomes title", step: ({ name, ...rest }) => ({ ...rest, title: name }) },
];

test("steps are taken one after the other", () => {
  const contents = Object.freeze({ version: 1, label: "Fell", other: [1] });
  expect(migrate(contents, 1, 3, invented)).toEqual({
    ok: true,
    contents: { version: 3, title: "Fell", other: [1] },
    applied: invented,
  });
  expect(migrate(contents, 3, 3, invented)).toEqual({ ok: true, contents, applied: [] });
});

test("a missing step, or one that gives up, is a failure and no throw", () => {
  expect(migrate({}, 1, 4, invented)).toEqual({ ok: false, message: "nothing leads from version 3 to 4" });
  const broken: Migration = {
    to: 2,
    what: "",
    step: () => {
      throw new Error("no decks");
    },
  };
  expect(migrate({}, 1, 2, [broken])).toEqual({
    ok: false,
    message: "could not be brought from version 1 to 2: no decks",
  });
});

test("reading takes an older file through the steps and says so", () => {
  const older = goldenText(1).replace('"title":', '"label":');
  const result = readPlan(older, "old.plan.json", { migrations: invented, version: 3 });
  if (!result.ok) throw new Error("not read");
  expect(result.plan.title).toBe("Brackwater and Fell");
  expect(result.report).toMatchObject({ version: 1, readOnly: false, migrated: invented });
});

describe("every released version", () => {
  const versions = Array.from({ length: VERSION }, (_, i) => i + 1);
  test("is one step from the next", () => {
    expect(MIGRATIONS.map((migration) => migration.to)).toEqual(versions.slice(1));
  });
  test.each(versions)("%i has a golden file that reads without an error", (version) => {
    const result = readPlan(goldenText(version));
    expect(result.ok).toBe(true);
    expect(result.report.problems.filter((problem) => problem.severity === "error")).toEqual([]);
    expect(result.report.migrated).toHaveLength(VERSION - version);
  });
});
