/**
 * Makes the built page work without a network after the first visit: writes the service worker beside it, with the list
 * of the files that were built and a version that is the print of them all.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";

const WORKER = fileURLToPath(new URL("./service-worker.js", import.meta.url));

export const offline = (): Plugin => ({
  name: "offline",
  apply: "build",
  // The page itself is written last.
  enforce: "post",
  generateBundle: {
    order: "post",
    handler(_options, bundle) {
      const files = Object.values(bundle)
        .map((file) => ({ name: file.fileName, contents: file.type === "chunk" ? file.code : file.source }))
        .filter(({ name }) => !name.endsWith(".map"))
        .sort((a, b) => (a.name < b.name ? -1 : 1));
      const print = createHash("sha256");
      for (const { name, contents } of files) print.update(`${name}\0`).update(contents).update("\0");
      const source = readFileSync(WORKER, "utf8")
        .replace('"VERSION"', JSON.stringify(print.digest("hex").slice(0, 16)))
        .replace('["FILES"]', JSON.stringify(files.map(({ name }) => name)));
      this.emitFile({ type: "asset", fileName: "service-worker.js", source });
    },
  },
});
