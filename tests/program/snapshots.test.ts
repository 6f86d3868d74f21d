import { mkdir, readdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hashOf } from "../../src/program/content-hash.ts";
import { takeLock } from "../../src/program/lock.ts";
import { settingsText } from "../../src/program/settings.ts";
import type { Run } from "../../src/program/snapshot-schema.ts";
import {
  isSnapshotName,
  readSnapshot,
  readSnapshotText,
  saveNumbered,
  saveSnapshot,
  snapshotNames,
  snapshotText,
} from "../../src/program/snapshots.ts";
import { emptyFolder, programFolder, smallSettings } from "./sample-settings.ts";

const saved = { when: "2026-03-02T08:00:00Z", who: "a tester", by: "a test" };
const run: Run = {
  as_of: "2026-03-01",
  inputs: [{ file: "laterals.csv", sha256: hashOf("city") }],
  settings: { sha256: hashOf(settingsText(smallSettings)), text: settingsText(smallSettings) },
  decisions: { sha256: hashOf("[]") },
  ranking: { laterals: ["00417"], scores: [12_000_000], treatments: ["inspect first"] },
  values: {
    laterals: {
      rows: 1,
      columns: {
        lateral: { kind: "text", values: ["00417"] },
        host_diameter: { kind: "number", values: [101.6] },
        host_material: { kind: "code", words: ["clay"], codes: [1] },
      },
    },
    inspections: { rows: 0, columns: {} },
    first_inspection: [0, 0],
    decisions: [],
  },
};
const other: Run = { ...run, as_of: "2026-04-01" };

async function locked<T>(
  act: (lock: Extract<Awaited<ReturnType<typeof takeLock>>, { ok: true }>["lock"]) => Promise<T>,
) {
  const folder = await programFolder();
  const attempt = await takeLock(folder, saved.when);
  if (!attempt.ok) throw new Error(JSON.stringify(attempt.problems));
  try {
    return await act(attempt.lock);
  } finally {
    await attempt.lock.release();
  }
}

describe("a snapshot", () => {
  it("reads back as it was saved, under its name", () =>
    locked(async (lock) => {
      expect(await saveSnapshot(lock, "spring 2026", run, saved)).toEqual({
        ok: true,
        name: "spring 2026",
        isNew: true,
      });
      expect(await snapshotNames(lock.folder)).toEqual(["spring 2026"]);
      expect(await readSnapshot(lock.folder, "spring 2026")).toMatchObject({
        ok: true,
        snapshot: { ...run, saved },
      });
      expect(await readdir(join(lock.folder, "snapshots"))).toEqual(["spring 2026.json"]);
    }));

  it("is never overwritten by another run, and saving the same run again changes nothing", () =>
    locked(async (lock) => {
      await saveSnapshot(lock, "one", run, saved);
      const before = await readFile(join(lock.folder, "snapshots/one.json"), "utf8");
      const later = { ...saved, when: "2027-01-01T00:00:00Z" };
      expect(await saveSnapshot(lock, "one", run, later)).toEqual({ ok: true, name: "one", isNew: false });
      expect(await saveSnapshot(lock, "ONE", other, later)).toMatchObject({ ok: false });
      expect(await readFile(join(lock.folder, "snapshots/one.json"), "utf8")).toBe(before);
    }));

  it("gets the next number when nobody names it, once for each run", () =>
    locked(async (lock) => {
      await saveNumbered(lock, "before-add-Frühjahr 2026", run, saved);
      expect(await saveNumbered(lock, "after", other, saved)).toMatchObject({
        name: "002-after",
        isNew: true,
      });
      expect(await saveNumbered(lock, "again", run, saved)).toMatchObject({
        name: "001-before-add-Frühjahr-2026",
        isNew: false,
      });
    }));

  it("cannot be asked for by a name that leaves the folder", async () => {
    const folder = await programFolder();
    for (const name of [
      "..",
      "../program",
      "a/b",
      "a\\b",
      "",
      ".hidden",
      "now",
      "NOW",
      "a\u0000",
      "con/",
      "x".repeat(81),
    ]) {
      expect(isSnapshotName(name)).toBe(false);
      expect(await readSnapshot(folder, name)).toMatchObject({ ok: false });
    }
  });

  it("that is a link out of the folder is refused, as is a folder of snapshots that is one", () =>
    locked(async (lock) => {
      const outside = await emptyFolder();
      await writeFile(join(outside, "secret.json"), snapshotText(run, saved));
      await mkdir(join(lock.folder, "snapshots"));
      await symlink(join(outside, "secret.json"), join(lock.folder, "snapshots/stolen.json"));
      expect(await readSnapshot(lock.folder, "stolen")).toMatchObject({ ok: false });
      const second = await programFolder();
      await symlink(outside, join(second, "snapshots"));
      const attempt = await takeLock(second, saved.when);
      if (!attempt.ok) throw new Error("no lock");
      expect(await saveSnapshot(attempt.lock, "new", run, saved)).toMatchObject({ ok: false });
      await attempt.lock.release();
      expect(await readdir(outside)).toEqual(["secret.json"]);
    }));

  it("with anything changed in it is a problem, never a crash and never believed", () => {
    const text = snapshotText(run, saved);
    expect(readSnapshotText(text, "x.json")).toMatchObject({ ok: true });
    fc.assert(
      fc.property(
        fc.nat({ max: text.length - 1 }),
        fc.string({ maxLength: 3 }),
        fc.nat({ max: 3 }),
        (at, put, cut) => {
          const damaged = text.slice(0, at) + put + text.slice(at + cut);
          const reading = readSnapshotText(damaged, "x.json");
          // White space between the parts may change; the values may not.
          if (reading.ok) expect(snapshotText(reading.snapshot, reading.snapshot.saved)).toBe(text);
          else expect(reading.problems[0]).toMatchObject({ severity: "rejected", file: "x.json" });
        },
      ),
      { numRuns: 500 },
    );
  });

  it("whose lists do not fit each other is a problem that names them, even with a right seal", () => {
    const broken = (change: Partial<Run["values"]>, ranking = run.ranking) =>
      readSnapshotText(
        snapshotText({ ...run, ranking, values: { ...run.values, ...change } }, saved),
        "x.json",
      );
    expect(broken({ first_inspection: [0, 7] })).toMatchObject({ ok: false });
    expect(broken({ first_inspection: [0] })).toMatchObject({ ok: false });
    expect(broken({}, { ...run.ranking, scores: [] })).toMatchObject({ ok: false });
    expect(broken({ laterals: { rows: 2, columns: run.values.laterals.columns } })).toMatchObject({
      ok: false,
    });
    expect(
      broken({ laterals: { rows: 1, columns: { surface: { kind: "code", words: [], codes: [3] } } } }),
    ).toMatchObject({ ok: false, problems: [{ expected: "a word for each code of the column surface" }] });
  });
});
