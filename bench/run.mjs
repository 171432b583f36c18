/**
 * Builds the benchmarks and runs them as one plain program, without the tools that built them: `npm run bench` for the
 * core, `npm run bench -- --browser` for the page in Chromium; `--json` for machines.
 */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import { build, preview } from "vite";
import { obtainBrowser, VARIABLE } from "../tools/find-browser.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const inBrowser = process.argv.includes("--browser");
const quiet = { root, logLevel: "warn" };

const buildProgram = (entry, external) =>
  build({
    ...quiet,
    configFile: false,
    publicDir: false,
    ssr: { target: "node", noExternal: true, external },
    build: {
      ssr: entry,
      outDir: "dist/bench",
      emptyOutDir: true,
      minify: false,
      target: "node20",
      rolldownOptions: { output: { entryFileNames: "bench.js" } },
    },
  });

async function run(args, env = {}) {
  const child = spawn(process.execPath, args, { cwd: root, stdio: "inherit", env: { ...process.env, ...env } });
  const [status] = await once(child, "exit");
  return status ?? 1;
}

/** The page built and served here, from a folder of its own. */
async function benchPage(browser) {
  const page = { ...quiet, configFile: fileURLToPath(new URL("../vite.config.ts", import.meta.url)) };
  const outDir = "dist/bench-page";
  await build({ ...page, build: { outDir } });
  const server = await preview({ ...page, build: { outDir }, preview: { host: "localhost", port: 0 } });
  const [address] = server.resolvedUrls?.local ?? [];
  const flags = process.argv.slice(2).filter((flag) => flag !== "--browser");
  const status = await run(["dist/bench/bench.js", address, ...flags], { [VARIABLE]: browser });
  await server.close();
  return status;
}

if (inBrowser) {
  const browser = obtainBrowser();
  if (browser) {
    await buildProgram("bench/browser.ts", ["@playwright/test"]);
    process.exitCode = await benchPage(browser);
  } else {
    console.error(`This benchmark needs Chromium: install it, or name one in ${VARIABLE}.`);
    process.exitCode = 1;
  }
} else {
  await buildProgram("bench/main.ts", []);
  process.exitCode = await run(["--expose-gc", "dist/bench/bench.js", ...process.argv.slice(2)]);
}
