import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { writeCity } from "../../sample-programs/write-city.ts";
import { gatherProgram } from "../../src/commands/load-program.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import type { GatheredCity } from "./peers/peer-case.ts";

/** Runs the work in a folder of its own with an invented city of so many laterals in `city`, and takes it away again. */
export async function withCity<T>(
  laterals: number,
  work: (city: string, folder: string) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-bench-"));
  try {
    const city = join(folder, "city");
    await writeCity(city, {
      style: "us",
      laterals,
      seed: 1,
      plain: true,
      name: `Invented city of ${laterals}`,
    });
    return await work(city, folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

export async function gatherCity(city: string): Promise<GatheredCity> {
  const gathered = await gatherProgram(city);
  if (!gathered.ok) throw new Error(`the bench city cannot be read: ${JSON.stringify(gathered.problems)}`);
  return gathered;
}

/** The whole plan, as every command makes it. */
export const planCity = ({ tables, basis, problems, tallies }: GatheredCity): PlannedProgram =>
  planProgram(tables, basis, { problems, tallies });
