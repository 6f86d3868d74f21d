import { describe, expect, it } from "vitest";
import { killRuns } from "./kill-runs.ts";
import { builtProgram } from "./run-program.ts";

const SEED = 20_261_125;

describe.skipIf(builtProgram === undefined)("the built program, killed at any moment", () => {
  it("loses no acknowledged decision in 50 kills, leaves none half done, and changes no file of the city", async () => {
    const report = await killRuns(50, SEED);
    expect(report.faults).toEqual([]);
    expect(report.kills).toBe(50);
    // A harness that never hits the writing proves nothing.
    const counts = Object.values(report.byCommand);
    expect(counts.reduce((sum, { whileWriting }) => sum + whileWriting, 0)).toBeGreaterThan(5);
    expect(counts.reduce((sum, { acknowledged }) => sum + acknowledged, 0)).toBeGreaterThan(0);
    expect(report.torn.mended).toBe(report.torn.planted);
  }, 240_000);
});
