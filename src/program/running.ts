import { errorCode } from "./program-files.ts";

/** Whether a process of this number runs on this machine. Signal 0 asks without disturbing it. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it runs, and belongs to somebody else.
    return errorCode(error) === "EPERM";
  }
}
