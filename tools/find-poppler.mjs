/** The tools that printed pages are measured with: poppler-utils, found on the path or installed by apt as root on Debian. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

const isThere = () => spawnSync("pdftoppm", ["-v"], { stdio: "ignore" }).error === undefined;
const run = (...args) => spawnSync("apt-get", args, { stdio: ["ignore", 2, 2] }).status === 0;

/** Whether pages can be measured; the tests that do so fail with a sentence where they cannot. */
export function obtainPoppler() {
  if (isThere()) return true;
  if (process.getuid?.() === 0 && existsSync("/etc/debian_version")) {
    if (run("update", "-qq")) run("install", "-y", "-qq", "poppler-utils");
  }
  return isThere();
}
