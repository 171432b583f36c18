import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    environment: "node",
    reporters: ["default", "json"],
    outputFile: { json: "test-results/vitest.json" },
    testTimeout: 30_000,
  },
});
