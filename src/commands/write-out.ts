import { writeAtomically } from "../program/atomic-write.ts";
import type { CommandIo } from "./command-io.ts";

/** Text into a file, put there whole or not at all; or, where none is named, to where the command's words go. */
export async function writeOut(text: string, out: string | undefined, io: CommandIo): Promise<void> {
  if (out === undefined) io.out(text);
  else await writeAtomically(out, text);
}
