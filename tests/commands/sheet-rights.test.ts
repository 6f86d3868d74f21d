import { appendFileSync, existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { LiveProgram } from "../../src/commands/live-program.ts";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import { rightsIn } from "../../src/commands/sheet-rights.ts";
import type { ProgramLock } from "../../src/program/lock.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables } from "../season/examples.ts";

const io = { who: "tester", now: () => "2026-03-01T08:00:00Z" };
/** Process numbers are at most 2²² on Linux, and smaller elsewhere: this is nobody's. */
const NOBODY = 2 ** 30;

/** A sheet opened on a folder in which another process, the test's parent, holds the lock. */
async function openedSecond() {
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-rights-"));
  const lockFile = join(folder, ".wyeplan-lock");
  const holdAs = (pid: number) =>
    writeFileSync(lockFile, `${JSON.stringify({ pid, host: hostname(), started: "earlier" })}\n`);
  holdAs(process.ppid);
  const held: ProgramLock[] = [];
  const rights = await rightsIn(folder, io, (lock) => held.push(lock));
  const basis = await prepareBasis(usBasis);
  if (!basis.ok) throw new Error("the example basis");
  const program = planProgram(programTables([lateralRow("A1")], []), basis.basis, {
    problems: [],
    tallies: [],
  });
  const live = new LiveProgram(program, rights, () => {});
  const tried = async () => (await live.perform({ kind: "look again" })).notice;
  const column = program.columns.findIndex(({ key }) => key === "host_diameter");
  const decide = () =>
    live.perform({ kind: "decide", decisions: [{ row: 0, column, value: "6" }], reason: "seen" });
  return { folder, lockFile, holdAs, held, live, tried, decide };
}

it("a second sheet says who writes and which file is his, and goes on saying so while he lives", async () => {
  const { live, tried, held } = await openedSecond();
  expect(live.view.closedBecause).toContain(`process ${process.ppid} on`);
  expect(live.view.closedBecause).toContain("delete .wyeplan-lock");
  expect(await tried()).toBe(live.view.closedBecause);
  expect(held).toEqual([]);
  live.close();
});

it.each(["killed", "closed"])(
  "a second sheet decides once the first is %s, and holds the lock then",
  async (how) => {
    const { live, lockFile, holdAs, tried, held, decide } = await openedSecond();
    if (how === "killed") holdAs(NOBODY);
    else rmSync(lockFile);
    expect(await tried()).toContain("from now on this sheet decides");
    expect(live.view.closedBecause).toBeNull();
    expect((await decide()).notice).toContain("Lateral A1, Host dia.: 6 in");
    expect(held).toHaveLength(1);
    await held[0]!.release();
    expect(existsSync(lockFile)).toBe(false);
    live.close();
  },
);

it("a second sheet does not decide over what was decided since it was opened", async () => {
  const { live, folder, lockFile, tried, held } = await openedSecond();
  appendFileSync(join(folder, "decisions.csv"), "somebody's decision\n");
  rmSync(lockFile);
  expect(await tried()).toContain("close this sheet and open it again");
  expect(live.view.closedBecause).toContain("has changed this program");
  expect(held).toEqual([]);
  expect(existsSync(lockFile)).toBe(false);
  live.close();
});
