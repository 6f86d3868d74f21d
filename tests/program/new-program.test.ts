import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { InspectionFile, LateralFile } from "../../src/columns/city-file.ts";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readDecisionLog } from "../../src/program/decision-log.ts";
import { makeProgram, type NewProgram } from "../../src/program/new-program.ts";
import { inspectionFile, lateralFile, readSettings } from "../../src/program/settings.ts";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { emptyFolder } from "./sample-settings.ts";

const reading = {
  file: "not used",
  delimiter: ";",
  encoding: "windows-1252",
  decimalMark: ",",
  dateOrder: "day first",
} as const;
const laterals: LateralFile = {
  ...reading,
  columns: { lateral: { heading: "Nr" }, host_length: { heading: "Länge", unit: "m" } },
};
const inspections: InspectionFile = {
  ...reading,
  columns: {
    lateral: { heading: "Nr" },
    inspected_on: { heading: "Datum" },
    ovality: { heading: "Oval", unit: "one" },
  },
  worstGrade: 0,
};

/** Bytes of no valid UTF-8, so that a copy through text would change them. */
const cityBytes = Buffer.from("Nr;L\xe4nge\r\n007;12,5\r\n", "latin1");

async function wanted(changes: Partial<NewProgram> = {}): Promise<NewProgram & { readonly parent: string }> {
  const parent = await emptyFolder();
  const city = await emptyFolder();
  await writeFile(join(city, "Anschlüsse 2026.csv"), cityBytes);
  await writeFile(join(city, "kamera.csv"), "Nr;Datum;Oval\n");
  return {
    parent,
    folder: join(parent, "alder"),
    head: { name: "Alder", asOf: dayFromIso("2026-03-01")!, units: "si", currency: "EUR" },
    laterals: { path: join(city, "Anschlüsse 2026.csv"), mapping: laterals },
    inspections: { path: join(city, "kamera.csv"), mapping: inspections },
    ...changes,
  };
}

describe("making a program", () => {
  it("copies the city's files byte for byte and can be opened at once", async () => {
    const asked = await wanted();
    expect(await makeProgram(asked)).toMatchObject({ ok: true });
    expect((await readdir(asked.folder)).sort()).toEqual(
      ["Anschlüsse 2026.csv", "decisions.csv", "kamera.csv", "program.json"].sort(),
    );
    expect(await readFile(join(asked.folder, "Anschlüsse 2026.csv"))).toEqual(cityBytes);
    expect(await readdir(asked.parent)).toEqual(["alder"]);

    const opened = await readSettings(asked.folder);
    if (!opened.ok) throw new Error(opened.problems.map(describeProblem).join("\n"));
    expect(lateralFile(opened.settings)).toEqual({ ...laterals, file: "Anschlüsse 2026.csv" });
    expect(inspectionFile(opened.settings)).toEqual({ ...inspections, file: "kamera.csv" });
    expect(basisForSettings(opened.settings).program).toMatchObject(asked.head);
    expect(opened.settings.criteria?.design).toBe("HS-20, water at surface");
    expect(await readDecisionLog(asked.folder)).toMatchObject({ sets: [], problems: [] });
  });

  it("fills an empty folder and refuses one that holds anything", async () => {
    const asked = await wanted({ inspections: null });
    await mkdir(asked.folder);
    expect(await makeProgram(asked)).toMatchObject({ ok: true });
    const before = await readFile(join(asked.folder, "program.json"), "utf8");
    const again = await makeProgram({ ...asked, head: { ...asked.head, name: "Other" } });
    expect(again.ok ? "" : again.problems[0]?.found).toBe("a folder that is not empty");
    expect(await readFile(join(asked.folder, "program.json"), "utf8")).toBe(before);
  });

  it("leaves nothing behind when it cannot be made", async () => {
    const good = await wanted();
    const cases: readonly [Partial<NewProgram>, string][] = [
      [{ laterals: { path: join(good.parent, "none.csv"), mapping: laterals } }, "ENOENT"],
      [{ laterals: { path: good.parent, mapping: laterals } }, "not a file"],
      [{ inspections: { ...good.laterals, mapping: inspections } }, "the same name twice"],
      [{ head: { ...good.head, currency: "euro" } }, "euro"],
      [{ laterals: { ...good.laterals, mapping: { ...laterals, columns: {} } } }, ""],
      [{ folder: join(good.parent, "no", "such") }, "no such folder"],
    ];
    for (const [changes, found] of cases) {
      const made = await makeProgram({ ...good, ...changes });
      expect(made.ok ? "made" : made.problems[0]?.found).toBe(found);
    }
    expect(await readdir(good.parent)).toEqual([]);
  });

  it("names the program's folder where the disk refuses it, not the one it is built in", async () => {
    const good = await wanted();
    // As long as a name may be: the folder beside it has a longer one.
    const folder = join(good.parent, "c".repeat(250));
    await expect(makeProgram({ ...good, folder })).rejects.toMatchObject({
      code: "ENAMETOOLONG",
      path: folder,
    });
  });

  it("refuses a city's file that has a name of the program's own", async () => {
    const asked = await wanted();
    const path = join(asked.parent, "decisions.csv");
    await writeFile(path, "Nr\n");
    const made = await makeProgram({ ...asked, laterals: { path, mapping: laterals } });
    expect(made.ok ? "" : made.problems[0]?.remedy).toBe("Give the file another name.");
  });
});
