import { expect, it } from "vitest";
import { checkFolder } from "../../src/commands/check.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { recorded } from "./sample-copy.ts";
import { cityOf } from "./small-city.ts";

/** A late survey, a stranger among the rules of the season, a recipe that gives lateral 2 no score, and a material nobody knows. */
const faulty = () =>
  cityOf(
    "LAT_ID,DIAM,LEN,MAT,BACKUPS\n1,150,12.5,clay,1\n2,150,9,clay,\n3,150,9,loam,2\n",
    { host_material: "MAT", backups: "BACKUPS" },
    { text: "LAT_ID,SEEN,GRADE\n1,2026-05-01,3\n1,2025-05-01,2\n", columns: { structural_grade: "GRADE" } },
    {
      recipe: { score: "backups * 2" },
      season: { budget: 1_000, objective: "loss avoided", must_do: ["nobody"] },
    },
  );

it("check, plan and its JSON tell the same problems, and count them alike", async () => {
  const folder = await faulty();
  const { io, said, forget } = recorded();
  await checkFolder(folder, io);
  const checked = said.out;
  expect(checked).toContain('laterals.csv, row 4, column "MAT": found "loam"');
  expect(checked).toContain(
    'surveys.csv, row 2, column "SEEN": found "2026-05-01", expected a day up to 2026-03-01, that of the plan. 1 survey(s)',
  );
  expect(checked).toContain('program.json, key "season.must_do": found "nobody"');
  expect(checked).toContain('program.json, key "recipe.score": found "1 lateral(s) without a score"');
  expect(checked).toContain("\n4 problem(s), 1 of them rejected values or rows.\n");
  forget();
  await planFolder(folder, {}, io);
  expect(said.out).toContain("  4 problem(s), 1 of them rejected values or rows; wyeplan check lists them");
  forget();
  await planFolder(folder, { json: true, withAddresses: true }, io);
  const { problems } = JSON.parse(said.out) as { problems: readonly { message: string }[] };
  expect(problems).toHaveLength(4);
  for (const { message } of problems) expect(checked).toContain(message.split(":")[1]!);
});
