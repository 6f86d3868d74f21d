import { writeAtomically } from "../program/atomic-write.ts";
import type { CommandIo } from "./command-io.ts";

/**
 * Text into a file, put there whole or not at all; or, where none is named, to where the command's words go, in the terminal's own line
 * ends: a carriage return would be shown there as an escape.
 */
export async function writeOut(text: string, out: string | undefined, io: CommandIo): Promise<void> {
  if (out === undefined) io.out(text.replaceAll("\r\n", "\n"));
  else await writeAtomically(out, text);
}
