import { constants } from "node:os";
import { type Ending, runScreen } from "../screen/run-screen.tsx";
import type { PlannedProgram } from "../season/planned-program.ts";
import { LiveProgram, noPlace, type SheetPlace } from "./live-program.ts";
import type { SheetRights } from "./sheet-rights.ts";

/** Where the sheet runs: the process's own streams. */
export interface SheetStreams {
  readonly stdin: NodeJS.ReadStream;
  readonly stdout: NodeJS.WriteStream;
  readonly stderr: NodeJS.WritableStream;
}

/**
 * Opens the sheet and returns the exit code when somebody leaves. However it ends, the terminal is given back first
 * and the message comes after.
 *
 * @param at the program's folder, and what is saved in it
 * @param isPlanned false for a program whose plan is made while somebody looks at it already
 * @throws whatever went wrong in the sheet, or anywhere else in the process while it was open
 */
export async function openSheet(
  program: PlannedProgram,
  { stdin, stdout, stderr }: SheetStreams,
  environment: Readonly<Record<string, string | undefined>>,
  rights: SheetRights,
  at: SheetPlace = noPlace,
  isPlanned = true,
): Promise<number> {
  if (!stdin.isTTY || !stdout.isTTY) {
    stderr.write("The sheet needs a terminal for its input and output; neither may be a file or a pipe.\n");
    return 2;
  }
  const live = new LiveProgram(program, rights, () => screen.changed(), at, isPlanned);
  // Bold, dim and reverse are no colours, so NO_COLOR has nothing to switch off here.
  const attributes = environment["TERM"] !== "dumb";
  const screen = runScreen(live.view, { input: stdin, output: stdout }, attributes, (effect) =>
    live.perform(effect),
  );
  live.onFailure = (error) => screen.end({ kind: "failed", error });
  if (!isPlanned) live.settle().catch((error: unknown) => live.onFailure(error));

  const onSignal = (signal: NodeJS.Signals) => screen.end({ kind: "signal", signal });
  const onError = (error: unknown) => screen.end({ kind: "failed", error });
  const onContinue = () => screen.resume();
  // Somebody calls process.exit: the last moment at which the terminal can be given back.
  const onExit = () => screen.end({ kind: "left" });
  for (const signal of endingSignals) process.on(signal, onSignal);
  process.on("SIGCONT", onContinue);
  process.on("uncaughtException", onError);
  process.on("unhandledRejection", onError);
  process.on("exit", onExit);
  try {
    return exitCode(await screen.ended, stderr, live.whereWorkIs());
  } finally {
    live.close();
    for (const signal of endingSignals) process.off(signal, onSignal);
    process.off("SIGCONT", onContinue);
    process.off("uncaughtException", onError);
    process.off("unhandledRejection", onError);
    process.off("exit", onExit);
  }
}

const endingSignals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

function exitCode(ending: Ending, stderr: NodeJS.WritableStream, whereWorkIs: string): number {
  switch (ending.kind) {
    case "left":
      return 0;
    case "hung up":
      return 128 + constants.signals.SIGHUP;
    case "signal":
      stderr.write(`The sheet was closed by ${ending.signal}. ${whereWorkIs}\n`);
      // The way shells tell of a program ended by a signal.
      return 128 + constants.signals[ending.signal];
    case "failed":
      stderr.write(`The sheet has failed. ${whereWorkIs}\n`);
      throw ending.error;
    default:
      return ending satisfies never;
  }
}
