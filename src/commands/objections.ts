import { planLateral } from "../plan/plan-lateral.ts";
import { describeReason } from "../plan/reason.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import { describeProblem } from "../quantity/problem.ts";
import { fitProgram } from "../season/fits.ts";
import { lateralAt } from "../season/lateral-at.ts";
import type { DecidedProgram } from "./decide.ts";
import { gatherCity } from "./gather-city.ts";
import { type GatheredProgram, withItsDecisions } from "./load-program.ts";

/** The program of a folder, to decide one value in: the city's files are read once, before and not again after the decision. */
export function decidedProgram(folder: string): DecidedProgram {
  const gathering = gatherCity(folder);
  return {
    // The command that decides says better why the program cannot be read.
    hasLateral: async (id) => {
      const city = await gathering;
      return !city.ok || city.index.has(id);
    },
    objectionsTo: async (id, column) => {
      const city = await gathering;
      if (!city.ok) return [];
      const gathered = await withItsDecisions(folder, city);
      if (column !== "treatment")
        return gathered.problems
          .filter(({ file, lateral }) => file === DECISIONS_FILE && lateral === id)
          .map(describeProblem);
      const row = city.index.get(id);
      return row === undefined ? [] : againstTreatment(gathered, row);
    },
  };
}

/** Why the plan does not follow the treatment that was decided; empty where it does. */
function againstTreatment({ tables, basis: given }: GatheredProgram, row: number): readonly string[] {
  const basis = fitProgram(tables, given);
  const { choice, verdicts } = planLateral(lateralAt(tables, row), basis);
  const against = choice.reasons.flatMap((reason) => {
    if (reason.code !== "decision not allowed") return [];
    const refused = verdicts.all.find(({ treatment }) => treatment === reason.treatment)?.reasons ?? [];
    return [reason, ...refused].map((each) => describeReason(each, basis.program));
  });
  return against.length === 0 ? [] : [`The plan does not follow it: ${against.join("; ")}.`];
}
