import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Ask } from "../../src/commands/ask.ts";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { type NewOptions, newProgram } from "../../src/commands/new.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { recorded } from "./sample-copy.ts";

let folder = "";
const { io, said, forget } = recorded();

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "wyeplan-new-"));
  forget();
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** A city's file of one lateral: `LOCAL_MARK` is nothing we know. */
const CITY = "LATERAL_ID,DIAM_IN,LENGTH_FT,LOCAL_MARK\n1,4,30,a\n";

async function made(text: string, options: Partial<NewOptions> = {}, ask: Ask | null = null) {
  const laterals = join(folder, "city.csv");
  await writeFile(laterals, text);
  const code = await newProgram(
    join(folder, "made"),
    { laterals, asOf: "2026-03-01", units: "us", ...options },
    io,
    ask,
  );
  return { code, isMade: (await readdir(folder)).includes("made") };
}

async function settings(text: string): Promise<string> {
  const path = join(folder, "columns.json");
  await writeFile(path, text);
  return path;
}

describe("a new program", () => {
  it("says which columns no heading gives, which headings are not used, and what hangs on the cross-bores", async () => {
    expect(await made(CITY)).toEqual({ code: EXIT.done, isMade: true });
    expect(said.err).toMatch(/no heading found for .*cover_main.*cross_bore/);
    expect(said.err).toContain("not used: LOCAL_MARK.");
    expect(said.err).toContain("none will be cut or lined");
  });

  it("takes metres from a heading that names them, not from an O&M or an M-number", async () => {
    for (const [heading, units] of [
      ["O&M Grade", "us"],
      ["M_ID", "us"],
      ["COVER_M", "si"],
      ["Level (m below ground)", "si"],
      ["Dia (mm)", "si"],
    ]) {
      forget();
      const laterals = join(folder, "city.csv");
      await writeFile(laterals, `LATERAL_ID,${heading}\n1,4\n`);
      await newProgram(join(folder, `of ${heading}`), { laterals, asOf: "2026-03-01" }, io, null);
      expect(said.err, heading).toContain(`Units: ${units}, `);
    }
  });

  it("says what to do with a spreadsheet's own file", async () => {
    const laterals = join(folder, "city.xlsx");
    for (const start of ["PK\u0003\u0004", "\u00d0\u00cf\u0011\u00e0"]) {
      forget();
      await writeFile(laterals, Buffer.from(`${start}rest`, "latin1"));
      expect(await newProgram(join(folder, "made"), { laterals }, io, null)).toBe(EXIT.notDone);
      expect(said.err).toContain("Save the sheet as CSV");
    }
  });

  it("is of today where the command is run, and names itself as a shell takes it", async () => {
    const laterals = join(folder, "city.csv");
    await writeFile(laterals, CITY);
    const made = join(folder, "our city");
    // At 22:00 of 1 March in Denver UTC has 2 March.
    const evening = { ...io, now: () => "2026-03-02T05:00:00.000Z", today: () => "2026-03-01" };
    expect(await newProgram(made, { laterals, units: "us" }, evening, null)).toBe(EXIT.done);
    expect(said.err).toContain("As of 2026-03-01, today");
    expect(JSON.parse(await readFile(join(made, "program.json"), "utf8")).as_of).toBe("2026-03-01");
    expect(said.out).toContain(`wyeplan check "${made}", then wyeplan plan "${made}"`);
  });

  it("prints a settings file that makes the program once its question marks are chosen", async () => {
    const text = "LATERAL_ID,PIPE_SIZE_A,SIZE,LEN_FT\n1,4,6,30\n";
    expect(await made(text)).toEqual({ code: EXIT.notDone, isMade: false });
    const printed = said.err.slice(said.err.indexOf("\n{") + 1);
    expect(printed).toContain('"heading": "?"');
    said.err = "";
    expect(await made(text, { settings: await settings(printed) })).toEqual({
      code: EXIT.notDone,
      isMade: false,
    });
    expect(said.err).toContain('"?", which is no heading of laterals');
    const chosen = printed.replaceAll('"?"', '"SIZE"');
    expect(await made(text, { settings: await settings(chosen) })).toEqual({ code: EXIT.done, isMade: true });
    const written = JSON.parse(await readFile(join(folder, "made", "program.json"), "utf8"));
    expect(written.laterals.columns.host_diameter).toMatchObject({ heading: "SIZE" });
  });

  it("offers every heading for a column that every row needs, the likely ones first", async () => {
    // "Laid" looks like a lateral's id; the ids are under a heading that no list of ours has.
    const text = "Laid,Kerb tag,DIAM_IN,LENGTH_FT\n1958,0007,4,30\n";
    let offered: readonly string[] = [];
    const ask: Ask = async (question, choices) => {
      if (!question.startsWith("Which heading is Lateral?")) return choices.length - 1;
      offered = choices;
      return choices.findIndex((choice) => choice.startsWith("Kerb tag"));
    };
    expect(await made(text, {}, ask)).toEqual({ code: EXIT.done, isMade: true });
    expect(offered.map((choice) => choice.split("  ")[0])).toEqual(["Laid", "Kerb tag", "none of these"]);
    const written = JSON.parse(await readFile(join(folder, "made", "program.json"), "utf8"));
    expect(written.laterals.columns.lateral).toEqual({ heading: "Kerb tag" });
    expect((await made(text)).code).toBe(EXIT.notDone);
    expect(said.err).toContain("laterals: headings not taken yet: Laid, Kerb tag.");
  });

  it("offers headings for the ids by how few of their values repeat, and the others beside what is to be written", async () => {
    const rows = Array.from({ length: 12 }, (_, i) => `${i % 3},x${i},${i % 6},4,30`);
    const text = `GROUP_A,CODE_B,CODE_C,DIAM_IN,LENGTH_FT\n${rows.join("\n")}\n`;
    expect((await made(text)).code).toBe(EXIT.notDone);
    const places = [...said.err.matchAll(/"lateral": \{ "heading": "(\w+)" \}/g)].map(
      ([, heading]) => heading,
    );
    expect(places).toEqual(["CODE_B", "CODE_C", "GROUP_A"]);
    const printed = said.err.slice(said.err.indexOf("\n{") + 1);
    expect(JSON.parse(printed).laterals.headings_not_taken).toEqual(["GROUP_A", "CODE_B", "CODE_C"]);
    const chosen = await settings(printed.replaceAll('"?"', '"CODE_B"'));
    expect((await made(text, { settings: chosen })).code).toBe(EXIT.done);
    expect(said.err).not.toContain("one of their own");
  });

  it("warns where the heading taken for the ids repeats them", async () => {
    const rows = Array.from({ length: 12 }, (_, i) => `${i % 6},4,30`);
    expect((await made(`LATERAL_ID,DIAM_IN,LENGTH_FT\n${rows.join("\n")}\n`)).code).toBe(EXIT.done);
    expect(said.err).toContain(
      'laterals: "LATERAL_ID" is taken for the ids, and of 12 rows only 6 have one of their own',
    );
  });

  it("asks for a column that every row needs among all headings when none looks like it", async () => {
    const text = "CODE_A,CODE_B,DIAM_IN,LENGTH_FT\nx1,y1,4,30\n";
    expect((await made(text)).code).toBe(EXIT.notDone);
    expect(said.err).toContain('"laterals": { "columns": { "lateral": { "heading": "CODE_B" } } }');
    expect((await made(text, {}, async (_question, choices) => choices.length - 1)).code).toBe(EXIT.notDone);
    expect(said.err).toContain('every row needs "lateral"');
    expect(await made(text, {}, async () => 0)).toEqual({ code: EXIT.done, isMade: true });
  });

  it("says plainly, when made, checked and planned, that surveys without a column of grades tell nothing", async () => {
    const inspections = join(folder, "surveys.csv");
    await writeFile(inspections, "LATERAL_ID,DATE,Note structure\n1,2024-05-06,4\n");
    const said1 = 'surveys.csv: found "no column of grades"';
    const write = '"structural_grade": { "heading": "…" }. Headings not used: Note structure.';
    expect(await made(CITY, { inspections })).toEqual({ code: EXIT.done, isMade: true });
    expect(said.err).toContain(said1);
    expect(said.err).toContain(write);
    forget();
    expect(await checkFolder(join(folder, "made"), io)).toBe(EXIT.doneWithProblems);
    expect(said.out).toContain(said1);
    expect(said.out).toContain(write);
    forget();
    await planFolder(join(folder, "made"), { json: false }, io);
    expect(said.err).toContain(said1);
  });

  it("asks for cross-bores and grades among all headings that are left, each heading once", async () => {
    const inspections = join(folder, "surveys.csv");
    await writeFile(inspections, "LATERAL_ID,DATE,Note structure,Note exploitation\n1,2024-05-06,4,2\n");
    const offered: Record<string, readonly string[]> = {};
    const ask: Ask = async (question, choices) => {
      const heading = /^Which heading is ([^?]+)\?/.exec(question)?.[1] ?? "";
      offered[heading] = choices.map((choice) => choice.split("  ")[0]!);
      return 0;
    };
    expect(await made(CITY, { inspections }, ask)).toEqual({ code: EXIT.done, isMade: true });
    const written = JSON.parse(await readFile(join(folder, "made", "program.json"), "utf8"));
    expect(written.laterals.columns.cross_bore).toEqual({ heading: "LOCAL_MARK" });
    expect(written.inspections.columns.structural_grade).toEqual({ heading: "Note structure" });
    expect(written.inspections.columns.om_grade).toEqual({ heading: "Note exploitation" });
    expect(Object.values(offered)).toEqual([
      ["LOCAL_MARK", "none of these"],
      ["Note structure", "Note exploitation", "none of these"],
      ["Note exploitation", "none of these"],
    ]);
    expect(said.err).not.toContain("no column of grades");
  });

  it("is not made when somebody leaves at a question", async () => {
    const text = "LATERAL_ID,PIPE_SIZE_A,SIZE,LEN_FT\n1,4,6,30\n";
    expect(await made(text, {}, async () => null)).toEqual({ code: EXIT.notDone, isMade: false });
    expect(said.err).toContain("Stopped; nothing was made.");
  });

  it.each([
    ["an empty city's file", "", {}, "the file is empty"],
    ["a heading the city's file does not have", CITY, { backups: { heading: "NOPE" } }, '"NOPE"'],
    ["a column we do not know", CITY, { diameter: { heading: "DIAM_IN" } }, 'no column "diameter"'],
  ])("refuses %s", async (_what, text, columns, words) => {
    const given = await settings(JSON.stringify({ laterals: { columns } }));
    expect(await made(text, { settings: given })).toEqual({ code: EXIT.notDone, isMade: false });
    expect(said.err).toContain(words);
  });

  it.each([
    ["a key given twice", '{ "laterals": {}, "laterals": {} }', "once, not twice"],
    ["no columns at all", '{ "lateral": { "columns": {} } }', 'no "columns"'],
    ["text that is no JSON", "{ laterals", "line 1"],
  ])("refuses settings with %s", async (_what, text, words) => {
    expect(await made(CITY, { settings: await settings(text) })).toEqual({
      code: EXIT.notDone,
      isMade: false,
    });
    expect(said.err).toContain(words);
  });

  it.each([
    [{ worstGrade: "5" }, "--inspections"],
    [{ asOf: "2026-02-30" }, "2026-02-30"],
    [{ units: "metric" }, "us or si"],
    [{ laterals: "/nowhere/laterals.csv" }, "no such file"],
  ])("refuses %o", async (options, words) => {
    expect(await made(CITY, options)).toEqual({ code: EXIT.notDone, isMade: false });
    expect(said.err).toContain(words);
  });

  it("of a file with headings alone is made, but not planned: there is nothing to plan", async () => {
    expect((await made("LATERAL_ID,DIAM_IN,LENGTH_FT\n")).code).toBe(EXIT.done);
    for (const command of [
      () => planFolder(join(folder, "made"), {}, io),
      () => checkFolder(join(folder, "made"), io),
    ]) {
      said.err = "";
      expect(await command()).toBe(EXIT.notDone);
      expect(said.err).toContain('city.csv: found "no lateral"');
    }
  });

  it("says at once in the plan when a heading of the settings is not in the file", async () => {
    await made(CITY);
    const program = join(folder, "made", "program.json");
    await writeFile(program, (await readFile(program, "utf8")).replace('"DIAM_IN"', '"DIAMETER"'));
    said.err = "";
    expect(await planFolder(join(folder, "made"), {}, io)).toBe(EXIT.doneWithProblems);
    expect(said.err).toContain('"DIAMETER"');
  });
});
