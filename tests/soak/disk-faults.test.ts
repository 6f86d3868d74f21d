import { describe, expect, it } from "vitest";
import { diskFaults, meetDiskFault, smallDisk } from "./disk-faults.ts";
import { builtProgram } from "./run-program.ts";

const disk = builtProgram === undefined ? null : smallDisk();
disk?.close();
if (disk === null)
  console.warn(
    "tests/soak/disk-faults.test.ts is skipped: not built, or this user may not mount a disk in memory.",
  );

describe.skipIf(disk === null)("the built program on a disk that fails", () => {
  it.each(diskFaults)(
    "%s: nothing acknowledged is lost, nothing is half there, and people are told why",
    async (fault) => {
      const report = await meetDiskFault(fault, 10, 20_261_125);
      expect(report?.faults).toEqual([]);
      expect(report?.refused).toBeGreaterThan(0);
    },
    120_000,
  );
});
