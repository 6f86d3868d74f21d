import { cp, mkdtemp, rename, rm, stat } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { namedByPlace } from "../program/program-files.ts";
import { type CommandIo, EXIT } from "./command-io.ts";
import { planFolder } from "./plan.ts";

/** The sample program that ships with wyeplan, seen from dist/. */
const SAMPLE = fileURLToPath(new URL("../sample-programs/quennock-falls", import.meta.url));

/**
 * `npm start`: makes a working copy of the sample program and opens it in the sheet. Where there is no terminal it
 * plans it, prints the district table and writes the workbooks. The tracked sample is never touched; a working copy
 * that is there already is used as it is, with what was decided in it.
 */
export async function trySample(
  folder: string | undefined,
  io: CommandIo,
  atTerminal: boolean,
): Promise<number> {
  const copy = folder ?? "working-copy";
  if (await exists(copy)) io.err(`Using the working copy in ${copy}/ that is there already.\n`);
  else {
    // Copied beside its place and renamed there, so that a copy cut short is never taken for a program.
    const beside = `${copy}.new-`;
    const building = await mkdtemp(beside).catch((error: unknown) => {
      throw namedByPlace(error, beside, copy);
    });
    try {
      await cp(SAMPLE, building, { recursive: true });
      await rename(building, copy);
    } finally {
      await rm(building, { recursive: true, force: true });
    }
    io.err(`Made a working copy of the sample program in ${copy}/.\n`);
  }
  if (atTerminal) return (await import("./open.ts")).openProgram(copy, io);
  const planned = await planFolder(copy, {}, io);
  if (planned === EXIT.notDone) return planned;
  const written = await (await import("./workbook.ts")).workbookOf(copy, {}, io);
  // The sample's files have planted problems on purpose; they do not make the demonstration fail.
  return written === EXIT.doneWithProblems ? EXIT.done : written;
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );
