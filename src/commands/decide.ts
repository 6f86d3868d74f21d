import { findColumn } from "../columns/dictionary.ts";
import { changeDecisions, describeMove, refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { checkedKeys } from "./value-problems.ts";
import { fitted } from "./wrapped.ts";

export interface DecideArgs {
  readonly folder: string;
  readonly lateral: string;
  readonly column: string;
  readonly value: string;
  readonly reason: string;
  /** Instead of the person who runs the command. */
  readonly who?: string;
}

/** A city may count the other way, and a grade typed its way round would be the opposite. */
const GRADES =
  "Decided grades run from 1 best to 5 worst, 0 no defect, whichever way the city's own files count.";

/** A rule may refuse the treatment, and these values may be at odds with others: only then is the program looked at again. */
const mayMeetObjections: ReadonlySet<string> = new Set(["treatment", ...checkedKeys]);

/** What the command asks of the program it decides in. */
export interface DecidedProgram {
  /** Whether the city's file has a lateral of this id. */
  readonly hasLateral: (id: string) => Promise<boolean>;
  /** What is to be said against what was decided of it, in sentences; empty where nothing is. */
  readonly objectionsTo: (id: string, column: string) => Promise<readonly string[]>;
}

/**
 * `wyeplan decide FOLDER LATERAL COLUMN VALUE --reason "…" [--who NAME]`: writes one decision down, and says
 * at once when a rule keeps the plan from following it.
 */
export async function decideValue(
  args: DecideArgs,
  io: CommandIo,
  program: DecidedProgram,
): Promise<ExitCode> {
  const { folder, lateral, column, value, reason } = args;
  if (!(await program.hasLateral(lateral))) {
    const problem = {
      severity: "rejected",
      file: "",
      row: null,
      column: "lateral",
      found: lateral,
      expected: "the id of a lateral of the city's file",
      remedy: "Ids are text: leading zeros and marks count.",
    } as const;
    return refuse(io, [problem]);
  }
  const change = { kind: "set", decisions: [{ lateral, column, value, reason }] } as const;
  const code = await changeDecisions(folder, change, io, args.who ?? io.who, (done) => [
    describeMove(done, { lateral, column }),
    ...(findColumn(column)?.measure === "grade" ? [GRADES] : []),
    `Change set ${done.written.number}; wyeplan undo takes it back.`,
  ]);
  if (code !== EXIT.done || !mayMeetObjections.has(column)) return code;
  for (const objection of await program.objectionsTo(lateral, column)) io.err(`${fitted(objection, io)}\n`);
  return code;
}
