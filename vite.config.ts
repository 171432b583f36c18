/** The page. The core and the command line are built by vite.core.ts and vite.cli.ts. */
import react from "@vitejs/plugin-react";
import { defineConfig, type Plugin } from "vite";
import { offline } from "./tools/offline.js";

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

/** Gives the page the addresses of the scripts its workers run: chunks of the same build, so that all share the core. */
const WORKERS: Readonly<Record<string, { readonly script: string; readonly name: string; readonly says: string }>> = {
  "virtual:reader": { script: "/src/editor/reader/worker-entry.ts", name: "reader", says: "READER_URL" },
  "virtual:climber": { script: "/src/editor/climbs/worker-entry.ts", name: "climber", says: "CLIMBER_URL" },
};
const workerScripts = (): Plugin => {
  let dev = false;
  return {
    name: "worker-scripts",
    configResolved: ({ command }) => {
      dev = command === "serve";
    },
    resolveId: (id) => (Object.hasOwn(WORKERS, id) ? `\0${id}` : undefined),
    load(id) {
      const worker = id.startsWith("\0") ? WORKERS[id.slice(1)] : undefined;
      if (!worker) return undefined;
      const { script, name, says } = worker;
      if (dev) return `export const ${says} = ${JSON.stringify(script)};`;
      const chunk = this.emitFile({ type: "chunk", id: `.${script}`, name });
      return `export const ${says} = import.meta.ROLLUP_FILE_URL_${chunk};`;
    },
  };
};

export default defineConfig({
  base: "./",
  plugins: [react(), contentPolicy(), workerScripts(), offline()],
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
