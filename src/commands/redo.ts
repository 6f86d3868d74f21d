import { changeDecisions, describeMove } from "./change-decisions.ts";
import type { CommandIo, ExitCode } from "./command-io.ts";

/** `wyeplan redo FOLDER`: brings back the change set undone last. Returns the exit code. */
export const redoLatest = (
  args: { readonly folder: string; readonly who?: string },
  io: CommandIo,
): Promise<ExitCode> =>
  changeDecisions(args.folder, { kind: "redo" }, io, args.who ?? io.who, (done) => [
    `Change set ${done.before.redoable?.number} holds again; wyeplan undo takes it back.`,
    ...(done.before.redoable?.records ?? []).map((record) => describeMove(done, record)),
  ]);
