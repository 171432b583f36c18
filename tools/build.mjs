/** Builds what is named (core, types, cli, app), or all of it; says nothing on stdout. */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const bin = (path) => fileURLToPath(new URL(`../node_modules/${path}`, import.meta.url));
const VITE = [bin("vite/bin/vite.js"), "build", "--logLevel", "warn", "-c"];

const STEPS = {
  core: [...VITE, "vite.core.ts"],
  types: [bin("typescript/bin/tsc"), "-p", "tsconfig.types.json"],
  cli: [...VITE, "vite.cli.ts"],
  app: [...VITE, "vite.config.ts"],
};

/** True when every step succeeded; stops at the first that does not. */
export function build(names) {
  return names.every((name) => {
    const { status } = spawnSync(process.execPath, STEPS[name], { cwd: root, stdio: ["ignore", 2, 2] });
    if (status !== 0) console.error(`build of ${name} failed`);
    return status === 0;
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const names = process.argv.slice(2);
  const unknown = names.find((name) => !(name in STEPS));
  if (unknown) console.error(`nothing called ${unknown} to build; there are ${Object.keys(STEPS).join(", ")}`);
  process.exitCode = !unknown && build(names.length > 0 ? names : Object.keys(STEPS)) ? 0 : 1;
}
