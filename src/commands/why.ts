import { explainLateral } from "../plan/explain.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { fitProgram } from "../season/fits.ts";
import { lateralAt } from "../season/lateral-at.ts";
import { readPlanned } from "../season/read-planned.ts";
import { textAt } from "../sheet/table.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { explainOwnColumns } from "./explain-own-columns.ts";
import { explainedText } from "./explained-text.ts";
import { gatherProgram, sayProblems } from "./load-program.ts";
import { shownInLine } from "./shown-text.ts";

/** `wyeplan why FOLDER LATERAL [--json]`: every stage of one lateral's plan, with equations and sources. */
export async function whyLateral(
  folder: string,
  lateral: string,
  options: { readonly json?: boolean },
  io: CommandIo,
): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { laterals } = gathered.tables;
  let row = -1;
  for (let at = 0; at < laterals.rows && row < 0; at++)
    if (textAt(laterals, "lateral", at) === lateral) row = at;
  if (row < 0) {
    io.err(
      `No lateral ${JSON.stringify(lateral)} in ${gathered.settings.laterals.file}. Ids are text: leading zeros and marks count.\n`,
    );
    return EXIT.notDone;
  }
  const basis = fitProgram(gathered.tables, gathered.basis);
  const planned = planLateral(lateralAt(gathered.tables, row), basis);
  const stages = [
    ...explainLateral(planned, basis),
    ...explainOwnColumns(readPlanned(planned, gathered.tables, row, basis), basis),
  ];
  io.out(
    options.json === true
      ? `${JSON.stringify({ lateral, stages, record: planned }, null, 2)}\n`
      : `Lateral ${shownInLine(lateral)}\n\n${explainedText(stages, io.columns)}\n`,
  );
  return EXIT.done;
}
