import { describe, expect, it } from "vitest";
import { builtProgram } from "./run-program.ts";
import { killSheets } from "./sheet-kills.ts";
import { hasScript } from "./sheet-pty.ts";

if (!hasScript)
  console.warn(
    "tests/soak/sheet-kills.test.ts is skipped: there is no `script` (util-linux) to make a terminal.",
  );

describe.skipIf(!hasScript || builtProgram === undefined)(
  "the built sheet on a terminal, killed at any moment",
  () => {
    it("keeps every decision the screen said was done, and none half, in 10 kills", async () => {
      const report = await killSheets(10, 20_261_125);
      expect(report.faults).toEqual([]);
      expect(report.kills).toBe(10);
      // A harness that never decides, or never kills before the word, proves nothing.
      expect(report.acknowledged).toBeGreaterThan(5);
      expect(report.whileSaving).toBeGreaterThan(0);
    }, 240_000);
  },
);
