import { defineConfig } from "vitest/config";

/**
 * Folders whose tests touch no clock, terminal or program of the machine: their files share a process, so that what they all import
 * is read once. Measured on engineering, formula and quantity: 38 s of a processor instead of 70.
 */
const pure = [
  ..."bidding cohort columns engineering formula intake pictures plan quantity reference season sheet".split(
    " ",
  ),
];
const pureFiles = `tests/{${pure.join(",")}}/**/*.test.ts`;

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    // The real program is built and driven by some tests, on machines with two cores.
    testTimeout: 60_000,
    globalSetup: "tests/temporary-folder.ts",
    reporters: ["default", ["json", { outputFile: "tests/.report.json" }]],
    projects: [
      { extends: true, test: { name: "pure", include: [pureFiles], isolate: false } },
      {
        extends: true,
        test: { name: "whole", include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"], exclude: [pureFiles] },
      },
    ],
  },
});
