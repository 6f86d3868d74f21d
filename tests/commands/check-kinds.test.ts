import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { emptyFolder, smallSettings } from "../program/sample-settings.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";
import { cityOf } from "./small-city.ts";

/** A city of so many laterals whose material is a word that the program does not know. */
async function checked(laterals: number): Promise<string> {
  const folder = await emptyFolder();
  await writeFile(join(folder, "program.json"), JSON.stringify(smallSettings));
  const words = ["Grey ware", "Grey ware", "Loam"];
  const rows = Array.from({ length: laterals }, (_, i) => `${i + 1},4,37.5,${words[i % 3]}`);
  await writeFile(join(folder, "laterals.csv"), `LAT_ID,DIAM,LEN,MAT\n${rows.join("\n")}\n`);
  const { io, said } = recorded();
  expect(await checkFolder(folder, io)).toBe(EXIT.doneWithProblems);
  return said.out;
}

it("tells a word of a column once, with the first of its rows and how many more there are", async () => {
  const said = (await checked(30)).split("\n").filter((line) => line.startsWith("rejected"));
  // Row 1 is the headings; every third word is Loam: rows 2, 3, 5, 6 and so on are 20, rows 4, 7 and so on 10.
  expect(said).toHaveLength(2);
  expect(said[0]).toContain(
    'laterals.csv, rows 2, 3, 5 and 17 more, column "MAT": found "Grey ware", expected clay, ',
  );
  expect(said[1]).toContain(
    'laterals.csv, rows 4, 7, 10 and 7 more, column "MAT": found "Loam", expected clay, ',
  );
});

it("tells a word that stands in many rows once more at the end, with how often", async () => {
  expect(await checked(30)).toMatch(
    /30 problem\(s\), 30 of them .*\n30 × laterals\.csv, column "MAT": rejected; found "Grey ware", "Loam"; expected clay, /,
  );
  expect(await checked(6)).not.toContain("×");
});

it("tells what contradicts itself in several laterals once, with their rows", async () => {
  const folder = await emptyFolder();
  const { laterals } = smallSettings;
  const columns = {
    ...laterals.columns,
    permission_signed: { heading: "SIGNED" },
    permission_expires: { heading: "ENDS" },
  };
  const settings = { ...smallSettings, laterals: { ...laterals, columns } };
  await writeFile(join(folder, "program.json"), JSON.stringify(settings));
  const rows = ["1", "2", "3"].map((id) => `${id},4,37.5,clay,2026-02-01,2026-01-01`);
  await writeFile(join(folder, "laterals.csv"), `LAT_ID,DIAM,LEN,MAT,SIGNED,ENDS\n${rows.join("\n")}\n`);
  const { io, said } = recorded();
  await checkFolder(folder, io);
  expect(said.out).toContain(
    'laterals.csv, rows 2, 3, 4: found "a permission that ends before it was signed"',
  );
});

it("notes surveys of a day after the plan's, which do not count", async () => {
  const { io, said } = recorded();
  await checkFolder(
    sampleCopy("quennock-falls", (settings) => {
      settings.as_of = "2022-01-01";
    }),
    io,
  );
  expect(said.out).toMatch(
    /noted +inspections\.csv, row \d+, column ".+": found "20\d\d-.*", expected a day up to 2022-01-01, that of the plan\. \d+ survey\(s\), this the first, are of a day after it and do not count/,
  );
});

it("tells kinds that differ by a number once, with the number left open", async () => {
  // Parts of 4 m and 4 m of laterals that are 9.1, 9.2 … m long.
  const rows = Array.from({ length: 25 }, (_, i) => `${i + 1},150,${9 + (i + 1) / 10},4,4`);
  const folder = await cityOf(`LAT_ID,DIAM,LEN,PUBLIC,PRIVATE\n${rows.join("\n")}\n`, {
    lower_length: "PUBLIC m",
    upper_length: "PRIVATE m",
  });
  const { io, said } = recorded();
  await checkFolder(folder, io);
  expect(said.out.split("\n").filter((line) => line.includes("×"))).toEqual([
    '25 × laterals.csv: noted; found "lower 4.00 m + upper 4.00 m = 8.00 m"; expected the length of the lateral, … m.',
  ]);
});

it("prints a formula that cannot be read on its own line, with the caret under the character", async () => {
  const folder = await cityOf("LAT_ID,DIAM,LEN\n1,150,9\n", {}, null, {
    recipe: { filters: { long: "host_length > 3" } },
  });
  const { io, said } = recorded();
  expect(await checkFolder(folder, { ...io, columns: 60 })).toBe(EXIT.notDone);
  expect(said.err).not.toContain("\\u000a");
  const lines = said.err.split("\n");
  const at = lines.indexOf("    host_length > 3");
  expect(at).toBeGreaterThan(0);
  expect(lines[at + 1]).toMatch(/^ {4} +\^$/);
  expect(lines[at]![lines[at + 1]!.indexOf("^")]).toMatch(/[>3]/);
});
