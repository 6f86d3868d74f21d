import { describe, expect, it } from "vitest";
import { cpuMs, fuzz, LONGEST_MS, MOST_MEGABYTES } from "./fuzz.ts";
import { fuzzTargets } from "./fuzz-targets.ts";

/** Ten thousand in the tests; `npm run soak` goes on to a million. */
const INPUTS = 10_000;

describe("damaged input", () => {
  it("is taken or refused with a reason, whatever it is: no crash, no hang, no flood of memory", async () => {
    const report = await fuzz(0, INPUTS, 20_261_125);
    expect(report.faults).toEqual([]);
    expect(report.inputs).toBe(INPUTS);
    // Inputs that are all refused at the door, or all taken, would try nothing behind it.
    for (const [name, { taken, refused }] of report.byTarget) {
      // A zip file knows every damaged byte by its checksums; what lies behind them is another target.
      if (name !== "returned workbooks, bytes") expect(taken, `${name} taken`).toBeGreaterThan(0);
      if (name !== "text to be shown") expect(refused, `${name} refused`).toBeGreaterThan(0);
    }
    expect(process.resourceUsage().maxRSS / 1024).toBeLessThan(MOST_MEGABYTES);
  }, 120_000);

  it("kept because it once did harm does none now, nor takes long", async () => {
    for (const { name, seeds, feed } of fuzzTargets)
      for (const seed of seeds) {
        const begun = cpuMs();
        expect(typeof (await feed(seed)), name).toBe("string");
        expect(cpuMs() - begun, name).toBeLessThan(LONGEST_MS);
      }
  });
});
