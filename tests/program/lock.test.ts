import { spawn } from "node:child_process";
import { once } from "node:events";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { takeLock } from "../../src/program/lock.ts";
import { LOCK_FILE } from "../../src/program/program-files.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { emptyFolder } from "./sample-settings.ts";

const now = "2026-03-01T08:00:00Z";
const held = (folder: string, pid: number, host: string) =>
  writeFile(join(folder, LOCK_FILE), JSON.stringify({ pid, host, started: now }));

/** The number of a process that has ended. */
async function deadPid(): Promise<number> {
  const child = spawn(process.execPath, ["-e", "0"]);
  await once(child, "exit");
  return child.pid!;
}

describe("one writer at a time", () => {
  it("gives the lock once, and again after it is released", async () => {
    const folder = await emptyFolder();
    const first = await takeLock(folder, now);
    expect(first.ok).toBe(true);
    const second = await takeLock(folder, now);
    expect(second.ok ? "" : second.problems.map(describeProblem).join()).toContain(
      `process ${process.pid} on ${hostname()}, ${now}`.slice(0, 50),
    );
    if (first.ok) await first.lock.release();
    expect(await readdir(folder)).toEqual([]);
    expect((await takeLock(folder, now)).ok).toBe(true);
  });

  it("names the folder where the disk refuses the lock, not a file that nobody knows", async () => {
    const folder = await emptyFolder();
    const taking = takeLock(folder, now, { pid: process.pid, host: "h".repeat(300) });
    await expect(taking).rejects.toMatchObject({ code: "ENAMETOOLONG", path: folder });
    expect((await takeLock(folder, now)).ok).toBe(true);
  });

  it("gives it to one of many who ask at once", async () => {
    const folder = await emptyFolder();
    const attempts = await Promise.all(Array.from({ length: 8 }, () => takeLock(folder, now)));
    expect(attempts.filter(({ ok }) => ok)).toHaveLength(1);
  });

  it("respects a living process of this machine", async () => {
    const folder = await emptyFolder();
    await held(folder, process.ppid, hostname());
    const attempt = await takeLock(folder, now);
    expect(attempt.ok ? "" : attempt.problems[0]?.remedy).toContain("Close the other wyeplan");
  });

  it("takes over from a process that has ended, or whose number is now our own", async () => {
    for (const pid of [await deadPid(), process.pid]) {
      const folder = await emptyFolder();
      await held(folder, pid, hostname());
      const attempt = await takeLock(folder, now);
      expect(attempt.ok).toBe(true);
      expect(JSON.parse(await readFile(join(folder, LOCK_FILE), "utf8"))).toMatchObject({ pid: process.pid });
      if (attempt.ok) await attempt.lock.release();
      expect(await readdir(folder)).toEqual([]);
    }
  });

  it("never takes over from another machine, nor from a lock it cannot read", async () => {
    const folder = await emptyFolder();
    await held(folder, await deadPid(), "another-machine");
    const attempt = await takeLock(folder, now);
    expect(attempt.ok ? "" : attempt.problems[0]?.found).toContain("another-machine");
    await writeFile(join(folder, LOCK_FILE), "");
    expect((await takeLock(folder, now)).ok).toBe(false);
    expect(await readFile(join(folder, LOCK_FILE), "utf8")).toBe("");
  });

  it("does not release a lock that somebody else has put there", async () => {
    const folder = await emptyFolder();
    const attempt = await takeLock(folder, now);
    await held(folder, 1, "another-machine");
    if (attempt.ok) await attempt.lock.release();
    expect(await readdir(folder)).toEqual([LOCK_FILE]);
  });
});
