import type { Decisions } from "../columns/decided.ts";
import type { Problem } from "../quantity/problem.ts";
import { codesOf, type Table } from "../sheet/table.ts";
import { type ValueFiles, ValueProblems } from "./value-problems.ts";

/** Says of each lateral that a utility's line was found bored through that somebody has to be told, now: no plan answers it. */
export function checkCrossBores(table: Table, decisions: Decisions, files: ValueFiles): readonly Problem[] {
  const problems = new ValueProblems(table, decisions, files);
  const { codes, words } = codesOf(table, "cross_bore");
  const found = words.indexOf("found", 1);
  for (let row = codes.indexOf(found); found > 0 && row >= 0; row = codes.indexOf(found, row + 1))
    problems.note(
      row,
      ["cross_bore"],
      "a cross-bore",
      "no line of a utility through a sewer",
      'A cross-bore was found: tell the utility\'s owner now, no work and no cutting until it is made safe. Local codes and the utility govern. The season sends nobody there before cross_bore is decided as "made safe".',
    );
  return problems.finish();
}
