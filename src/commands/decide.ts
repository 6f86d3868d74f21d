import { changeDecisions, describeMove, refuse } from "./change-decisions.ts";
import type { CommandIo, ExitCode } from "./command-io.ts";

export interface DecideArgs {
  readonly folder: string;
  readonly lateral: string;
  readonly column: string;
  readonly value: string;
  readonly reason: string;
  /** Instead of the person who runs the command. */
  readonly who?: string;
}

/**
 * `wyeplan decide FOLDER LATERAL COLUMN VALUE --reason "…" [--who NAME]`: writes one decision down.
 *
 * @param lateralExists whether the city's file has a lateral of this id
 */
export async function decideValue(
  args: DecideArgs,
  io: CommandIo,
  lateralExists: (id: string) => Promise<boolean>,
): Promise<ExitCode> {
  const { folder, lateral, column, value, reason } = args;
  if (!(await lateralExists(lateral))) {
    const problem = {
      severity: "rejected",
      file: "decisions.csv",
      row: null,
      column: "lateral",
      found: lateral,
      expected: "the id of a lateral of the city's file",
      remedy: "Ids are text: leading zeros and marks count.",
    } as const;
    return refuse(io, [problem]);
  }
  const change = { kind: "set", decisions: [{ lateral, column, value, reason }] } as const;
  return changeDecisions(folder, change, io, args.who ?? io.who, (done) => [
    describeMove(done, { lateral, column }),
    `Change set ${done.written.number}; wyeplan undo takes it back.`,
  ]);
}
