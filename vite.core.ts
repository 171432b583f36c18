/** The core as one ES module that needs neither a page nor Node. */
import { defineConfig } from "vite";

export default defineConfig({
  publicDir: false,
  build: {
    outDir: "dist/core",
    emptyOutDir: false,
    minify: false,
    target: "es2022",
    lib: { entry: "src/core/index.ts", formats: ["es"], fileName: () => "index.js" },
  },
});
