import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { smallSettings } from "../program/sample-settings.ts";
import { recorded } from "./sample-copy.ts";
import { cityOf } from "./small-city.ts";

/** Surveys without a column of grades, of laterals 1 and 2, beside observations of these rows. */
async function checked(observations: string): Promise<string> {
  const { laterals } = smallSettings;
  const columns = {
    lateral: { heading: "LAT_ID" },
    inspected_on: { heading: "SEEN" },
    kind: { heading: "KIND" },
    grade: { heading: "GRADE" },
  };
  const folder = await cityOf(
    "LAT_ID,DIAM,LEN\n1,150,12.5\n2,150,9\n",
    {},
    { text: "LAT_ID,SEEN,Note\n1,2026-02-10,1\n2,2026-02-10,5\n", columns: {} },
    { observations: { ...laterals, file: "seen.csv", worst_grade: 5, columns } },
  );
  await writeFile(join(folder, "seen.csv"), `LAT_ID,SEEN,KIND,GRADE\n${observations}`);
  const { io, said } = recorded();
  await checkFolder(folder, io);
  return said.out;
}

it("a file of observations that sees nothing of these surveys is no grade of theirs", async () => {
  expect(await checked("")).toMatch(
    /rejected +surveys\.csv: found "no column of grades".*none of them leads over an older one with grades.*Headings not used: Note\./,
  );
});

it("where some are graded by their observations, the others are counted", async () => {
  expect(await checked("1,2026-02-10,crack,3\n")).toMatch(
    /noted +surveys\.csv: found "no column of grades, and 1 of 2 surveys without graded ob/,
  );
});

it("nothing is said where observations grade each", async () => {
  expect(await checked("1,2026-02-10,crack,3\n2,2026-02-10,crack,4\n")).not.toContain("no column of grades");
});
