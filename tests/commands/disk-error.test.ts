import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { describeDiskError } from "../../src/commands/disk-error.ts";
import { trySample } from "../../src/commands/try-sample.ts";
import { TooLarge } from "../../src/workbook/zip-stream.ts";
import { recorded } from "./sample-copy.ts";

it("says what the disk refuses with the path, and leaves every other error alone", async () => {
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-disk-"));
  try {
    const missing = join(folder, "missing.csv");
    const refused = (path: string) => readFile(path).then(() => null, describeDiskError);
    expect(await refused(missing)).toBe(`${missing}: no such file or folder.`);
    // Some systems name no path when a folder is read.
    expect(await refused(folder)).toContain("a folder, where a file is needed.");
  } finally {
    await rm(folder, { recursive: true });
  }
  // What the form of a file cannot hold is said as it stands.
  expect(describeDiskError(new TooLarge("more than its form can"))).toBe("more than its form can");
  expect(describeDiskError(new RangeError("sizeOne: a broken promise"))).toBeNull();
  expect(describeDiskError("text")).toBeNull();
});

it("names the working copy that was asked for where there is no place for it", async () => {
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-disk-"));
  try {
    const copy = join(folder, "missing", "my-city");
    const trying = trySample(copy, recorded().io, false).then(() => null, describeDiskError);
    expect(await trying).toBe(`${copy}: no such file or folder.`);
  } finally {
    await rm(folder, { recursive: true });
  }
});
