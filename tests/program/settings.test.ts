import { readFile, rename, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { takeLock } from "../../src/program/lock.ts";
import {
  inspectionFile,
  lateralFile,
  readSettings,
  readSettingsText,
  settingsText,
  writeSettings,
} from "../../src/program/settings.ts";
import type { Settings } from "../../src/program/settings-schema.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { bytesOf, emptyFolder, programFolder, smallSettings } from "./sample-settings.ts";

/** The messages for the small program with something written over it. */
function messages(changes: object): readonly string[] {
  const reading = readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, ...changes }, null, 2)));
  return reading.ok ? [] : reading.problems.map(describeProblem);
}
const laterals = (changes: object) => ({ laterals: { ...smallSettings.laterals, ...changes } });
const columns = (changes: object) => laterals({ columns: { ...smallSettings.laterals.columns, ...changes } });

describe("reading program.json", () => {
  it("reads what it writes, and writes the same bytes again", () => {
    const reading = readSettingsText(bytesOf(settingsText(smallSettings)));
    expect(reading).toEqual({ ok: true, settings: smallSettings });
    const { schema, ...rest } = smallSettings;
    expect(settingsText({ ...rest, schema })).toBe(settingsText(smallSettings));
    expect(settingsText(smallSettings).startsWith('{\n  "schema": 1,\n  "name": ')).toBe(true);
  });

  it("bears the byte order mark and line ends of another editor", () => {
    const text = `\ufeff${settingsText(smallSettings).replaceAll("\n", "\r\n")}`;
    expect(readSettingsText(bytesOf(text)).ok).toBe(true);
  });

  it("gives the city's files as intake takes them", () => {
    const settings: Settings = {
      ...smallSettings,
      inspections: {
        ...smallSettings.laterals,
        file: "cctv.csv",
        columns: {
          lateral: { heading: "LAT_ID" },
          inspected_on: { heading: "DATE" },
          ovality: { heading: "OVAL", unit: "%" },
        },
        worst_grade: 1,
      },
    };
    expect(lateralFile(settings).columns.host_diameter).toEqual({ heading: "DIAM", unit: "in" });
    expect(lateralFile(settings).columns.lateral).toEqual({ heading: "LAT_ID" });
    expect(inspectionFile(settings)).toMatchObject({
      worstGrade: 1,
      columns: { ovality: { unit: "percent" } },
    });
    expect(inspectionFile(smallSettings)).toBeNull();
  });

  it("takes a city's own codes of what was seen, each for one kind only, and only beside inspections", () => {
    const file = { ...smallSettings.laterals, worst_grade: 5 };
    const observations = {
      ...file,
      file: "seen.csv",
      columns: { lateral: { heading: "ID" }, inspected_on: { heading: "DATE" }, kind: { heading: "CODE" } },
    };
    const inspections = {
      ...file,
      file: "cctv.csv",
      columns: { lateral: { heading: "ID" }, inspected_on: { heading: "DATE" } },
    };
    const said = (kinds: object) => messages({ inspections, observations: { ...observations, kinds } });
    expect(said({ fracture: ["X-12", "x-13"] })).toEqual([]);
    expect(said({ fracture: ["X-12"], crack: ["x-12"] }).join()).toContain('not already "fracture"');
    expect(said({ fracture: ["hole"] }).join()).toContain('not already "hole"');
    expect(said({ fractur: ["X-12"] }).join()).toContain('"fracture"');
    expect(messages({ observations }).join()).toContain("the inspection file that the observations are of");
  });

  it("names line, character and the line itself when the file is no JSON", () => {
    const reading = readSettingsText(bytesOf('{\n  "schema": 1\n  "name": "x"\n}'));
    expect(reading.ok ? [] : reading.problems.map(describeProblem)).toEqual([
      'program.json, line 3: found "\\"name\\": \\"x\\"", expected a comma or } after the value, at character 3. Look at character 3 of line 3; nothing has been changed.',
    ]);
  });

  it("names the line of a key it does not know, and the key that was meant", () => {
    const [message] = messages({ criteria: { desing: "x" } });
    expect(message).toMatch(
      /^program\.json, line \d+, key "criteria\.desing": found "desing", expected one of the keys design, /,
    );
    expect(message).toMatch(/Write "design"\.$/);
    const text = JSON.stringify({ ...smallSettings, criteria: { desing: "x" } }, null, 2);
    const line = text.split("\n").findIndex((found) => found.includes("desing")) + 1;
    expect(message).toContain(`line ${line},`);
  });

  it("names every fault at once", () => {
    expect(messages({ units: "uss", currency: "usd", as_of: "2026-02-30" })).toHaveLength(3);
    expect(messages({ units: "uss" })[0]).toMatch(/found "uss", expected one of "us", "si"\. Write "us"\.$/);
  });

  it("refuses a file of a later schema instead of guessing", () => {
    expect(messages({ schema: 2 })[0]).toContain("the only form of program.json this version knows");
  });

  it.each([
    "/etc/passwd",
    "../laterals.csv",
    "a/../../b.csv",
    "C:\\x.csv",
    "C:x.csv",
    "a\\b.csv",
    "",
    "a//b",
    "./a",
    "program.json",
    "Decisions.csv",
    " a.csv",
    "a\u0000.csv",
  ])("refuses %j as a city's file", (file) => {
    expect(messages(laterals({ file }))[0]).toContain("the name of a file inside the program folder");
  });

  it("accepts a file in a folder of the program", () => {
    expect(messages(laterals({ file: "from city/laterals 2026..csv" }))).toEqual([]);
  });

  it("asks for the unit of bare numbers, and refuses one that does not fit", () => {
    expect(messages(columns({ host_diameter: { heading: "DIAM" } }))[0]).toContain(
      'such as "in" or "mm". Add "unit" here.',
    );
    expect(messages(columns({ host_diameter: { heading: "DIAM", unit: "psi" } }))[0]).toContain(
      'found "psi"',
    );
    expect(messages(columns({ host_material: { heading: "MAT", unit: "in" } }))[0]).toContain(
      'Take "unit" out.',
    );
  });

  it("asks for the column of lateral ids", () => {
    expect(messages(laterals({ columns: {} }))[0]).toContain("the column of Lateral");
  });

  it("takes the instructions to bidders rule by rule, each with its clause, and refuses a rule it does not know", () => {
    const rule = { rule: "unit price", clause: "The unit price governs." };
    expect(messages({ bidding: { governs: rule } })).toEqual([]);
    expect(messages({ bidding: { governs: { rule: "unit price" } } })[0]).toContain(
      "the clause as the instructions",
    );
    expect(messages({ bidding: { governs: { ...rule, rule: "total" } } })[0]).toContain(
      'one of "unit price", "extension"',
    );
    expect(messages({ bidding: { govern: rule } })[0]).toContain('Write "governs".');
    const cap = { share: "10 %", of: "other items", remedy: "reduce", clause: "At most 10 %." };
    expect(messages({ bidding: { mobilization_cap: cap } })).toEqual([]);
    expect(messages({ bidding: { mobilization_cap: { ...cap, share: 10 } } })[0]).toContain(
      "a share above nothing",
    );
  });

  it("refuses a district alias or a word that means two things", () => {
    expect(messages({ district_aliases: { "LS-14": ["LS14"], "LS-15": ["ls14 "] } })[0]).toContain(
      'a name that is not already "LS-14"',
    );
    expect(messages({ words: { host_material: { clay: ["VC"], PVC: ["vc"] } } })[0]).toContain(
      'not already "clay"',
    );
    expect(messages({ words: { host_material: { clay: ["PVC"] } } })[0]).toContain('not already "PVC"');
    expect(messages({ words: { host_material: { clayy: ["VCP"] } } })[0]).toContain('Write "clay".');
    // The line of a cell that is not known, copied as it stands: refused, and no word is proposed for it.
    expect(messages({ words: { cross_bore: { "…": ["gas!"] } } })[0]).toMatch(/cleared/);
    expect(messages({ words: { cross_bore: { "…": ["gas!"] } } })[0]).not.toContain("Write ");
    expect(messages({ words: { host_materiel: {} } })[0]).toContain('Write "host_material".');
    expect(
      messages({ words: { cleanout: { yes: ["CO"], no: ["-"] }, host_material: { clay: ["VCP", "VCP2"] } } }),
    ).toEqual([]);
  });

  it("asks what a bare number is instead of taking a unit for it", () => {
    const said = messages({ criteria: { assumptions: { cover: 8 } } })[0];
    expect(said).toContain('key "criteria.assumptions.cover": found "8", expected a number with its unit');
    expect(said).toContain('Write "8 ft" or "8 m", whichever it is.');
    expect(messages({ criteria: { assumptions: { cover: "8" } } })[0]).toContain('Write "8 ft" or "8 m"');
    expect(messages({ criteria: { assumptions: { cover: "8 psi" } } })[0]).toContain(
      "a number with its unit",
    );
  });

  it("refuses a partially deteriorated host that nobody stands for", () => {
    expect(messages({ criteria: { design_changes: { deterioration: "partially" } } })[0]).toContain(
      'Add "deterioration_by".',
    );
    const named = { deterioration: "partially", deterioration_by: "City specification 02760, 2.3" };
    expect(messages({ criteria: { design_changes: named } })).toEqual([]);
  });

  it("holds changes to the limits of the tables, in their unit", () => {
    expect(messages({ criteria: { design_changes: { safety_factor: 9 } } })[0]).toMatch(
      /key "criteria\.design_changes\.safety_factor": found "9", expected at most 5\. /,
    );
    expect(messages({ criteria: { design_changes: { minimum_wall: "60 mm" } } })[0]).toContain(
      "at most 50 mm",
    );
    expect(messages({ criteria: { assumptions: { cover: "60 ft" } } })[0]).toContain(
      'key "criteria.assumptions.cover": found "60 ft", expected at most 15 m',
    );
    expect(messages({ criteria: { risk: { likelihood: { structural: [1, 2, 3] } } } })[0]).toContain(
      "6 values",
    );
    expect(messages({ criteria: { risk: { consequence: { weights: { building: 0.9 } } } } })[0]).toContain(
      "add up to 1",
    );
    expect(messages({ criteria: { treatments: { order: ["inspect first"] } } })[0]).toContain(
      "names each treatment once",
    );
    expect(messages({ criteria: { design: "HS20, water at surface" } })[0]).toContain(
      'Write "HS-20, water at surface".',
    );
    expect(messages({ criteria: { design_changes: { wheel: "HS20" } } })[0]).toContain('Write "HS-20".');
    expect(messages({ criteria: { liner_system_changes: { resin: "glue" } } })[0]).toContain('"polyester"');
    expect(messages({ criteria: { design_changes: { wheel: "rail" } } })).toEqual([]);
    expect(messages({ criteria: { design_changes: { depth_table: "none such" } } })[0]).toContain(
      "H-20 by depth",
    );
  });

  it("wants a liner system that serves each use, a soil with a modulus, and a connection that fits its system", () => {
    expect(messages({ criteria: { liner_system: "glass, light cure" } })[0]).toContain(
      'Add "liner_systems": { "section": ',
    );
    expect(messages({ criteria: { liner_systems: { section: "glass, light cure" } } })[0]).toContain(
      '"criteria.liner_systems.section": found "glass, light cure", expected one of "felt, polyester"',
    );
    expect(messages({ criteria: { liner_system_changes: { fibre_mass_fraction: "50 %" } } })[0]).toContain(
      "no such key for a tube of felt",
    );
    const void15 = messages({ criteria: { liner_system_changes: { void_ratio: 1.5 } } })[0];
    expect(void15).toContain('"criteria.liner_system_changes.void_ratio": found "1.5", expected at most 1');

    const clay = { class: "plastic clay", compaction: "high" };
    expect(messages({ criteria: { soil: clay } })[0]).toContain("Consult a soils engineer");
    const soil = { class: "clean coarse", compaction: "high" };
    expect(messages({ criteria: { soil, design_changes: { soil_modulus: "500 psi" } } })[0]).toContain(
      "one of the two",
    );

    expect(messages({ criteria: { connection: { junction: "wye" } } })[0]).toContain(
      "90 degrees for a tee, less for a wye",
    );
    const brimOnly = { liner_systems: { connection: "connection, brim" } };
    expect(messages({ criteria: brimOnly })[0]).toContain('"brim"');
    expect(messages({ criteria: { ...brimOnly, connection: { main_part: "brim" } } })).toEqual([]);
  });

  it("wants a system of one-piece liners beside whatever it says of them, and refuses one that makes none", () => {
    const named = { liner_systems: { "one-piece": "one-piece, felt, polyester" } };
    expect(messages({ criteria: named })).toEqual([]);
    expect(messages({ criteria: { ...named, cure: { "one-piece": "steam" } } })).toEqual([]);
    expect(
      messages({ criteria: { ...named, liner_systems_changes: { "one-piece": { excess: "8 %" } } } }),
    ).toEqual([]);
    for (const said of [
      { cure: { "one-piece": "steam" } },
      { placing: { "one-piece": "launched from the main" } },
      { liner_systems_changes: { "one-piece": { excess: "8 %" } } },
    ])
      expect(messages({ criteria: said })).toEqual([
        expect.stringContaining(
          'Add "liner_systems": { "one-piece": "one-piece, felt, polyester" }, or take this out.',
        ),
      ]);
    expect(messages({ criteria: { liner_systems: { "one-piece": "felt, epoxy" } } })[0]).toContain(
      'found "felt, epoxy", expected one of "one-piece, felt, polyester"',
    );
    // A way for all liners must serve this one too.
    expect(messages({ criteria: { ...named, placing: "launched from the main" } })).not.toEqual([]);
    expect(messages({ criteria: { ...named, cure: "light" } })[0]).toContain('one of "hot water", "steam"');
  });

  it("wants a name behind a stated live load, and a stated load for the method", () => {
    expect(messages({ criteria: { design_changes: { stated_live_load: "10 psi" } } })[0]).toContain(
      "the engineer who states the live load",
    );
    expect(messages({ criteria: { design_changes: { live_load_method: "stated" } } })[0]).toContain(
      "needs stated_live_load",
    );
  });

  it("refuses __proto__ and two equal keys, which JSON.parse would quietly drop", () => {
    const text = settingsText(smallSettings);
    for (const put of ['"name": "again", ', '"__proto__": {}, ']) {
      expect(readSettingsText(bytesOf(text.replace('"units"', `${put}"units"`))).ok).toBe(false);
    }
  });
});

describe("program.json on disk", () => {
  it("wants the city's files there", async () => {
    const folder = await programFolder({ ...smallSettings, ...laterals({ file: "other.csv" }) });
    const reading = await readSettings(folder);
    expect(reading.ok ? [] : reading.problems.map(({ file, found }) => [file, found])).toEqual([
      ["other.csv", "no such file"],
    ]);
  });

  it("does not follow a link out of the folder", async () => {
    const folder = await programFolder({ ...smallSettings, ...laterals({ file: "link.csv" }) });
    const outside = join(await emptyFolder(), "secret.csv");
    await writeFile(outside, "x");
    await symlink(outside, join(folder, "link.csv"));
    const reading = await readSettings(folder);
    expect(reading.ok ? "" : reading.problems[0]?.found).toBe("a link that leads out of the folder");
  });

  it("says so when the folder is no program", async () => {
    const at = async (path: string) => {
      const reading = await readSettings(path);
      const [problem] = reading.ok ? [] : reading.problems;
      expect(problem).toMatchObject({
        file: path,
        expected: "the folder of a program, with its program.json",
      });
      return [problem?.found, problem?.remedy];
    };
    const folder = await emptyFolder();
    const list = join(folder, "laterals.csv");
    expect(await at(folder)).toEqual([
      "an empty folder",
      expect.stringContaining(`wyeplan new ${folder} --laterals`),
    ]);
    expect(await at(join(folder, "nosuch"))).toEqual([
      "no such file or folder",
      expect.stringContaining("Correct the name"),
    ]);
    await writeFile(list, "LAT_ID,DIAM\n1,4\n");
    const made = expect.stringContaining(`wyeplan new NEW-FOLDER --laterals ${list}`);
    expect(await at(list)).toEqual(["a file", made]);
    expect(await at(folder)).toEqual(["a folder without program.json", made]);
    const program = await programFolder();
    expect(await at(join(program, "program.json"))).toEqual(["a file", `Name its folder: ${program}.`]);
    await rename(program, join(folder, "city"));
    expect((await at(folder))[1]).toBe(`Name the program in it: ${join(folder, "city")}.`);
  });

  it("never writes over a damaged file, nor writes unusable settings", async () => {
    const folder = await programFolder();
    const attempt = await takeLock(folder, "2026-03-01T08:00:00Z");
    if (!attempt.ok) throw new Error("locked");
    const path = join(folder, "program.json");
    expect((await writeSettings(attempt.lock, { ...smallSettings, name: "B" })).ok).toBe(true);
    const whole = await readFile(path, "utf8");
    expect(whole).toBe(settingsText({ ...smallSettings, name: "B" }));
    const unusable = { ...smallSettings, criteria: { design: "none such" } };
    expect((await writeSettings(attempt.lock, unusable)).ok).toBe(false);
    await writeFile(path, `${whole.slice(0, -4)}`);
    expect((await writeSettings(attempt.lock, smallSettings)).ok).toBe(false);
    expect(await readFile(path, "utf8")).toBe(whole.slice(0, -4));
    await attempt.lock.release();
  });
});
