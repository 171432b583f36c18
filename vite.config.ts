/** The page. The core and the command line are built by vite.core.ts and vite.cli.ts. */
import react from "@vitejs/plugin-react";
import { defineConfig, type Plugin } from "vite";

/**
 * The built page loads nothing from elsewhere and evaluates no text as code. Development needs inline scripts for
 * reloading, so the policy is written at build time only.
 */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

const contentPolicy = (): Plugin => ({
  name: "content-policy",
  apply: "build",
  transformIndexHtml: () => [
    { tag: "meta", attrs: { "http-equiv": "Content-Security-Policy", content: POLICY }, injectTo: "head-prepend" },
  ],
});

/** Gives the page the address of the script its worker runs: a chunk of the same build, so that both share the core. */
const WORKER = "/src/editor/reader/worker-entry.ts";
const readerWorker = (): Plugin => {
  let dev = false;
  return {
    name: "reader-worker",
    configResolved: ({ command }) => {
      dev = command === "serve";
    },
    resolveId: (id) => (id === "virtual:reader" ? `\0${id}` : undefined),
    load(id) {
      if (id !== "\0virtual:reader") return undefined;
      if (dev) return `export const READER_URL = ${JSON.stringify(WORKER)};`;
      const chunk = this.emitFile({ type: "chunk", id: `.${WORKER}`, name: "reader" });
      return `export const READER_URL = import.meta.ROLLUP_FILE_URL_${chunk};`;
    },
  };
};

export default defineConfig({
  base: "./",
  plugins: [react(), contentPolicy(), readerWorker()],
  build: {
    outDir: "dist/app",
    emptyOutDir: true,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1000,
    // These do nothing when loaded but do not say so: without this, every part of them would be on the page.
    rolldownOptions: {
      treeshake: { moduleSideEffects: [{ test: /node_modules\/(clipper2-ts|bezier-js)\//, sideEffects: false }] },
    },
  },
});
