import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"],
    // The real program is built and driven by some tests, on machines with two cores.
    testTimeout: 60_000,
    reporters: ["default", ["json", { outputFile: "tests/.report.json" }]],
  },
});
