import { expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { EXIT } from "../../src/commands/command-io.ts";
import { gatherProgram } from "../../src/commands/load-program.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { numbersOf } from "../../src/sheet/table.ts";
import { recorded } from "./sample-copy.ts";
import { cityOf } from "./small-city.ts";

async function checked(folder: string): Promise<string> {
  const { io, said } = recorded();
  expect(await checkFolder(folder, io)).toBe(EXIT.done);
  return said.out;
}

it("a cross-bore that was found is a problem of its own, and the plan begins its cautions with how many there are", async () => {
  const folder = await cityOf(
    "LAT_ID,DIAM,LEN,GAS\n1,150,12.5,found\n2,150,9,found\n3,150,9,cleared\n4,150,9,\n",
    { cross_bore: "GAS" },
  );
  expect(await checked(folder)).toMatch(
    /noted +laterals\.csv, rows 2, 3: found "a cross-bore".*tell the utility's owner now, no work and no cutting until it is made safe.*\n.*\n2 problem\(s\)/,
  );
  const { io, said } = recorded();
  await planFolder(folder, {}, io);
  expect(said.out).toMatch(/Cautions\n {2}A cross-bore was found: tell .* govern\. Laterals: 2\.\n/);
});

it("no cross-bore is spoken of where none was found", async () => {
  const folder = await cityOf("LAT_ID,DIAM,LEN,GAS\n1,150,12.5,cleared\n2,150,9,not cleared\n", {
    cross_bore: "GAS",
  });
  expect(await checked(folder)).not.toContain("cross-bore");
  const { io, said } = recorded();
  await planFolder(folder, {}, io);
  expect(said.out).not.toContain("A cross-bore was found");
});

it("a lateral wider than its main is noted, one as wide is not", async () => {
  const folder = await cityOf("LAT_ID,DIAM,LEN,MAIN\n1,150,12.5,100\n2,150,9,150\n3,150,9,\n", {
    main_diameter: "MAIN mm",
  });
  const said = await checked(folder);
  expect(said).toContain(
    'laterals.csv, row 2: found "a lateral of 150 mm on a main of 100 mm", expected a lateral no wider than its main.',
  );
  expect(said).toContain("\n1 problem(s)");
});

it("a survey of far more than the lateral is noted: over half as much again, and over 1 m beyond it", async () => {
  const folder = await cityOf(
    "LAT_ID,DIAM,LEN\n1,150,3\n2,150,3\n3,150,1.5\n4,150,1.3\n",
    {},
    {
      columns: { surveyed_length: "SAW m" },
      // 4.5 m are 1.5 × 3 m; 2.5 m are 1 m beyond 1.5 m; 2.74 m are more than twice 1.3 m.
      text: "LAT_ID,SEEN,SAW\n1,2025-05-01,25\n2,2025-05-01,4.5\n3,2025-05-01,2.5\n4,2025-05-02,2.74\n",
    },
  );
  const { io, said } = recorded();
  await checkFolder(folder, io);
  const noted = said.out.split("\n").filter((line) => line.includes(" surveyed on "));
  expect(noted).toEqual([
    expect.stringContaining(
      'laterals.csv, row 2: found "25.00 m surveyed on 2025-05-01", expected about the length of the lateral, 3.00 m',
    ),
    expect.stringContaining('laterals.csv, row 5: found "2.74 m surveyed on 2025-05-02"'),
  ]);
});

const PARTS = { lower_length: "PUBLIC m", upper_length: "PRIVATE m" };

it("two rows of one id, one with the lower and one with the upper length, look like the owners' parts, and no part passes for the whole", async () => {
  const folder = await cityOf(
    "LAT_ID,DIAM,LEN,PUBLIC,PRIVATE\n1,150,1.30,1.30,\n1,150,1.44,,1.44\n2,150,9,4,5\n2,150,9,4,5\n",
    PARTS,
  );
  const { io, said } = recorded();
  expect(await checkFolder(folder, io)).toBe(EXIT.doneWithProblems);
  expect(said.out).toMatch(
    /rejected +laterals\.csv, row 3, column "LAT_ID": found "1", expected both lengths of a lateral in one row\. Row 2 has only its lower length, this one only its upper: the rows look like the two owners' parts of one lateral\. The length of row 2 is its lower part's, so that of the lateral is taken as missing: put both/,
  );
  expect(said.out).toMatch(/noted +laterals\.csv, row 5, .*Row 4 is the same in every column/);
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) throw new Error("the program is not read");
  expect([...numbersOf(gathered.tables.laterals, "host_length")]).toEqual([Number.NaN, 9]);
});

it("the whole length of a lateral is kept where the first of its parts' rows has it", async () => {
  const folder = await cityOf("LAT_ID,DIAM,LEN,PUBLIC,PRIVATE\n1,150,2.74,,1.44\n1,150,2.74,1.30,\n", PARTS);
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) throw new Error("the program is not read");
  expect([...numbersOf(gathered.tables.laterals, "host_length")]).toEqual([2.74]);
  expect(gathered.problems).toMatchObject([{ severity: "rejected", row: 3 }]);
});
