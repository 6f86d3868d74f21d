import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/*
 * One folder for all that a run of the tests writes beside the project, and gone with it: what a test forgets, or cannot take away because it is
 * stopped, would stay on the machine for ever. Programs that tests start take it from the environment.
 */

let folder: string | null = null;

/** Called once for each project of the run: they share the folder. */
export function setup(): void {
  if (folder !== null) return;
  folder = mkdtempSync(join(tmpdir(), "wyeplan-"));
  Object.assign(process.env, { TMPDIR: folder });
}

export function teardown(): void {
  if (folder !== null) rmSync(folder, { recursive: true, force: true });
  folder = null;
}
