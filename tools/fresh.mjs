/** Whether a built file is older than the sources it is made from. */
import { readdirSync, statSync } from "node:fs";

const ROOT = new URL("../", import.meta.url);
const SOURCES = ["src/", "package.json", "vite.core.ts", "vite.cli.ts"];

function newest(url) {
  const found = statSync(url);
  if (!found.isDirectory()) return found.mtimeMs;
  return readdirSync(url, { withFileTypes: true }).reduce(
    (latest, entry) => Math.max(latest, newest(new URL(entry.name + (entry.isDirectory() ? "/" : ""), url))),
    found.mtimeMs,
  );
}

/** True when `built` (a path from the project's top) is missing or older than any source. */
export function isStale(built) {
  const found = statSync(new URL(built, ROOT), { throwIfNoEntry: false });
  return !found || SOURCES.some((source) => newest(new URL(source, ROOT)) > found.mtimeMs);
}
