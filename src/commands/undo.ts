import { changeDecisions, describeMove } from "./change-decisions.ts";
import type { CommandIo, ExitCode } from "./command-io.ts";

/** `wyeplan undo FOLDER`: takes back the latest change set that stands. Returns the exit code. */
export const undoLatest = (
  args: { readonly folder: string; readonly who?: string },
  io: CommandIo,
): Promise<ExitCode> =>
  changeDecisions(args.folder, { kind: "undo" }, io, args.who ?? io.who, (done) => [
    `Change set ${done.before.undoable?.number} is undone; wyeplan redo brings it back.`,
    ...(done.before.undoable?.records ?? []).map((record) => describeMove(done, record)),
  ]);
