/** The command line as one executable file. */
import { chmodSync } from "node:fs";
import { defineConfig, type Plugin } from "vite";

const OUT = "dist/cli";

const executable = (): Plugin => ({
  name: "executable",
  writeBundle: () => chmodSync(`${OUT}/ruling-grade.js`, 0o755),
});

export default defineConfig({
  publicDir: false,
  plugins: [executable()],
  ssr: { target: "node", noExternal: true },
  build: {
    ssr: "src/cli/main.ts",
    outDir: OUT,
    emptyOutDir: true,
    minify: false,
    target: "node20",
    rolldownOptions: { output: { entryFileNames: "ruling-grade.js", banner: "#!/usr/bin/env node" } },
  },
});
