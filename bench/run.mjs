/** Builds the benchmarks and runs them as one plain program, without the tools that built them: `npm run bench`, `-- --json`. */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "vite";

const root = fileURLToPath(new URL("..", import.meta.url));
await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: "warn",
  ssr: { target: "node", noExternal: true },
  build: {
    ssr: "bench/main.ts",
    outDir: "dist/bench",
    emptyOutDir: true,
    minify: false,
    target: "node20",
    rolldownOptions: { output: { entryFileNames: "bench.js" } },
  },
});
const args = ["--expose-gc", "dist/bench/bench.js", ...process.argv.slice(2)];
process.exitCode = spawnSync(process.execPath, args, { cwd: root, stdio: "inherit" }).status ?? 1;
