/** What the README says is run as it stands there: every command of its sh blocks, and its library example. */
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const README = readFileSync(join(ROOT, "README.md"), "utf8");

const blocks = (language: string): string[] =>
  [...README.matchAll(/```(\w+)\n([\s\S]*?)```/g)].filter((m) => m[1] === language).map((m) => m[2] ?? "");

const commands = blocks("sh").flatMap((block) => block.split("\n").filter((line) => line.trim() !== ""));

/** A folder that looks like the project, so that what commands write does not land in it. */
const stage = mkdtempSync(join(tmpdir(), "readme-"));
for (const name of readdirSync(ROOT)) if (name !== ".git") symlinkSync(join(ROOT, name), join(stage, name));
afterAll(() => rmSync(stage, { recursive: true, force: true }));

const MINUTES = 60_000;

describe("the README's commands", () => {
  test("there are some, and the two that set everything up come first", () => {
    expect(commands.slice(0, 2)).toEqual(["npm ci && npm start", "npm ci && npm test"]);
    expect(commands.length).toBeGreaterThan(5);
  });

  test("the checking of a fresh checkout installs and tests as the README says", () => {
    expect(readFileSync(join(ROOT, ".ci/run"), "utf8")).toContain("npm ci");
    expect(readFileSync(join(ROOT, "tools/ci.mjs"), "utf8")).toContain('npm("test")');
  });

  test.each(commands.filter((command) => !command.startsWith("npm ci")))(
    "%s",
    (command) => {
      const run = spawnSync(command, { cwd: stage, shell: true, encoding: "utf8" });
      expect(run.stderr).toBe("");
      expect(run.status).toBe(0);
      const output = /-o (\S+)/.exec(command)?.[1];
      expect(output ? readFileSync(join(stage, output), "utf8") : run.stdout).not.toBe("");
    },
    5 * MINUTES,
  );

  test(
    "npm start builds the planner and serves it",
    async () => {
      const server = spawn("npm", ["start"], {
        cwd: ROOT,
        detached: true,
        stdio: ["ignore", "pipe", "pipe"],
        env: { ...process.env, BROWSER: "none", NO_COLOR: "1" },
      });
      try {
        const address = await announced(server);
        const page = await fetch(address);
        expect(page.status).toBe(200);
        expect(await page.text()).toContain("Ruling Grade");
      } finally {
        if (server.pid && server.exitCode === null) process.kill(-server.pid);
      }
    },
    5 * MINUTES,
  );
});

/** The address a server says it listens on; fails when it ends first. */
function announced(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = "";
    const hear = (chunk: Buffer): void => {
      said += chunk.toString();
      const address = /http:\/\/localhost:\d+\//.exec(said);
      if (address) resolve(address[0]);
    };
    server.stdout?.on("data", hear);
    server.stderr?.on("data", hear);
    server.on("exit", (code) => reject(new Error(`ended with ${code}: ${said}`)));
  });
}

test(
  "the README's library example runs as it stands, on a sample plan",
  () => {
    const [example = ""] = blocks("js");
    const folder = join(ROOT, "test-results");
    mkdirSync(folder, { recursive: true });
    const file = join(folder, "readme-example.mjs");
    const plan = join(ROOT, "sample-plans/first-shelf.plan.json");
    const text = `import { readFileSync } from "node:fs";\nconst text = readFileSync(${JSON.stringify(plan)}, "utf8");\n`;
    writeFileSync(file, `${text}${example}\nif (!read.ok) process.exitCode = 3;\n`);
    const run = spawnSync(process.execPath, [file], { encoding: "utf8" });
    expect(run.stderr).toBe("");
    expect(run.status).toBe(0);
    expect(Number.parseFloat(run.stdout)).toBeGreaterThan(2000);
  },
  MINUTES,
);
