import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    environment: "node",
    reporters: ["default", "json"],
    outputFile: { json: "test-results/vitest.json" },
    // Generous: a busy machine is slow, not wrong.
    testTimeout: 120_000,
    hookTimeout: 300_000,
  },
});
