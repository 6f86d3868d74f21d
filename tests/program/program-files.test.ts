import { execFileSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readAtMost } from "../../src/program/program-files.ts";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-bytes-"));
});
afterAll(() => rm(folder, { recursive: true }));

describe("a file that is read whole", () => {
  it("is read up to its bound, and not at all beyond", async () => {
    const path = join(folder, "ten");
    await writeFile(path, "0123456789");
    expect(await readAtMost(path, 10)).toMatchObject({ ok: true, bytes: Buffer.from("0123456789") });
    expect(await readAtMost(path, 9, "ten")).toMatchObject({
      ok: false,
      problem: { file: "ten", found: "10 bytes", expected: "at most 9 bytes" },
    });
  });

  it.skipIf(process.platform === "win32")(
    "may be a pipe; one that never ends is given up at the bound",
    async () => {
      const pipe = join(folder, "pipe");
      execFileSync("mkfifo", [pipe]);
      const writing = writeFile(pipe, "from a pipe");
      expect(await readAtMost(pipe, 100)).toMatchObject({ ok: true, bytes: Buffer.from("from a pipe") });
      await writing;
      expect(await readAtMost("/dev/zero", 1_000_000)).toMatchObject({
        ok: false,
        problem: { found: "more than 1,000,000 bytes" },
      });
    },
  );
});
