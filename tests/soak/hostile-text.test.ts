import { mkdtemp, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ExcelJS from "exceljs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { shownText } from "../../src/commands/shown-text.ts";
import { cellText } from "../../src/workbook/safe-text.ts";
import { builtProgram, runProgram } from "./run-program.ts";
import { makeSmallCity, settingsText } from "./small-city.ts";

/** Clears the screen, sets the title, turns the line round, hides letters, rings, forges a line. */
const HOSTILE = "\u001b[2J\u001b]0;owned\u0007\u202eevil\u2066\u200b\u009b31m\rX";
const FORMULA = '=HYPERLINK("http://invalid.example";"x")';
const OBEYED =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200b-\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069]/;

describe("text that a terminal or a spreadsheet could obey", () => {
  it("is printed as the escapes of JSON, and the JSON stays the same data", () => {
    expect(shownText("a\u001b[2Jb\u202ec\n")).toBe("a\\u001b[2Jb\\u202ec\n");
    expect(shownText("Straße, 雨, −3 °C, €\n")).toBe("Straße, 雨, −3 °C, €\n");
    const data = { text: `${HOSTILE}\n\u{e0041}\ud800 🦆` };
    const printed = shownText(JSON.stringify(data));
    expect(printed).not.toMatch(OBEYED);
    expect(JSON.parse(printed)).toEqual(data);
  });

  it("is shown as a sign in a workbook's cell", () => {
    expect(cellText("a\u202eb\u009bc\u001bd\u2067e\u0085")).toBe("a\ufffdb\ufffdc\ufffdd\ufffde\ufffd");
    expect(cellText("two\nlines\té 雨")).toBe("two\nlines\té 雨");
  });
});

describe.skipIf(builtProgram === undefined)("a city's file full of such text", () => {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "wyeplan-hostile-"));
    await makeSmallCity(folder);
    const rows = [
      `LAT_ID${"\u001b[1m"},AREA,DIAM,LEN,MAT,XBORE`,
      `"${HOSTILE}","${HOSTILE}",4,40,"${HOSTILE}",cleared`,
      `"A\nFORGED 1","B\nFORGED 2",4,50,"C\nFORGED 3",cleared`,
      `"${FORMULA.replaceAll('"', '""')}",${FORMULA.replaceAll('"', "'")},6,60,VCP,"${HOSTILE}"`,
      `plain,Mill,"${HOSTILE}",60,VCP,cleared`,
    ];
    await writeFile(join(folder, "laterals.csv"), `${rows.join("\n")}\n`);
    const settings = JSON.parse(settingsText) as { name: string; laterals: { columns: { lateral: object } } };
    settings.name = `Alder ${HOSTILE}`;
    settings.laterals.columns.lateral = { heading: "LAT_ID\u001b[1m" };
    await writeFile(join(folder, "program.json"), JSON.stringify(settings));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it.each([
    ["plan"],
    ["plan", "--json"],
    ["check"],
    ["risk"],
    ["takeoff"],
    ["formulas"],
    ["compare"],
    ["why", HOSTILE],
    ["why", HOSTILE, "--json"],
    ["why", "A\nFORGED 1"],
    ["why", `no such ${HOSTILE}`],
    ["decide", HOSTILE, "host_diameter", HOSTILE, "--reason", HOSTILE],
    ["decide", HOSTILE, "host_diameter", "6 in", "--reason", HOSTILE],
    ["undo"],
    ["plan", "--filter", HOSTILE],
    ["remove", "--inspections", HOSTILE],
    [`nothing ${HOSTILE}`],
  ])("is shown and never obeyed by %s", async (command, ...more) => {
    const { out, err, code } = await runProgram([command!, folder, ...more], folder);
    expect([0, 1, 2]).toContain(code);
    expect(out + err).not.toMatch(OBEYED);
    expect(out + err).not.toMatch(/^\s*FORGED/m);
    expect(out + err).not.toBe("");
  });

  it("is text in the workbooks, never a formula of theirs", async () => {
    const { code } = await runProgram(["workbook", folder], folder);
    expect([0, 1]).toContain(code);
    let seen = 0;
    for (const name of ["bid-book.xlsx", "planning-book.xlsx"]) {
      const book = new ExcelJS.Workbook();
      await book.xlsx.readFile(join(folder, "outputs", name));
      book.eachSheet((sheet) =>
        sheet.eachRow((row) =>
          row.eachCell((cell) => {
            const text = cell.text ?? "";
            if (text.includes("HYPERLINK")) {
              seen++;
              expect(cell.type).toBe(ExcelJS.ValueType.String);
            }
            if (cell.type === ExcelJS.ValueType.String)
              expect(text.replace(/[\n\t]/g, "")).not.toMatch(
                /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\u0080-\u009f]/,
              );
          }),
        ),
      );
    }
    expect(seen).toBeGreaterThan(0);
  });

  it("does not lead out of the folder by a link in the place of an own folder", async () => {
    const outside = await mkdtemp(join(tmpdir(), "wyeplan-outside-"));
    await rm(join(folder, "outputs"), { recursive: true, force: true });
    await symlink(outside, join(folder, "outputs"));
    const { code, err } = await runProgram(["workbook", folder], folder);
    expect(code).toBe(2);
    expect(err).toContain("outputs");
    expect(await readdir(outside)).toEqual([]);
    // Said on the command line it is followed.
    expect([0, 1]).toContain((await runProgram(["workbook", folder, "--out", outside], folder)).code);
    expect((await readFile(join(outside, "bid-book.xlsx"))).length).toBeGreaterThan(1000);
    await rm(join(folder, "outputs"));
    await rm(outside, { recursive: true, force: true });
  });
});
