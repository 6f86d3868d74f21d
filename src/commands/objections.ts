import { planLateral } from "../plan/plan-lateral.ts";
import { describeReason } from "../plan/reason.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import { describeProblem } from "../quantity/problem.ts";
import { fitProgram } from "../season/fits.ts";
import { lateralAt } from "../season/lateral-at.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import { gatherProgram } from "./load-program.ts";

/** Whether the city's file has a lateral of this id; true too when the program cannot be read: the command that asks says that better. */
export async function hasLateral(folder: string, id: string): Promise<boolean> {
  const gathered = await gatherProgram(folder);
  return !gathered.ok || rowOfEach(gathered.tables.laterals, "lateral").has(id);
}

/** What is to be said against a decision on a lateral, in sentences: values at odds with each other, or why the plan does not follow it. */
export async function objectionsTo(
  folder: string,
  id: string,
  column = "treatment",
): Promise<readonly string[]> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) return [];
  if (column !== "treatment")
    return gathered.problems
      .filter(({ file, lateral }) => file === DECISIONS_FILE && lateral === id)
      .map(describeProblem);
  const row = rowOfEach(gathered.tables.laterals, "lateral").get(id);
  if (row === undefined) return [];
  const basis = fitProgram(gathered.tables, gathered.basis);
  const { choice, verdicts } = planLateral(lateralAt(gathered.tables, row), basis);
  const against = choice.reasons.flatMap((reason) => {
    if (reason.code !== "decision not allowed") return [];
    const refused = verdicts.all.find(({ treatment }) => treatment === reason.treatment)?.reasons ?? [];
    return [reason, ...refused].map((each) => describeReason(each, basis.program));
  });
  return against.length === 0 ? [] : [`The plan does not follow it: ${against.join("; ")}.`];
}
