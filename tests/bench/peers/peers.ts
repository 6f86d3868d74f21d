import { execFile } from "node:child_process";
import { promisify } from "node:util";

/** How the peers come onto a Debian machine. The program itself needs none of them. */
export const HOW_TO_INSTALL =
  "apt-get install python3-pandas python3-xlsxwriter python3-openpyxl libreoffice-calc";

/** Debian's own Python has Debian's packages; another one first in the path has not. */
const PYTHONS = ["/usr/bin/python3", "python3"];

/** The first Python that has all the peers; null where none has. */
export async function peerPython(): Promise<string | null> {
  for (const python of PYTHONS)
    try {
      await promisify(execFile)(python, ["-c", "import pandas, numpy, xlsxwriter, openpyxl"]);
      return python;
    } catch {
      // The next one, if there is one.
    }
  return null;
}

export interface PeerTime {
  readonly step: string;
  readonly seconds: number;
  /** Most memory it has had so far, MB. */
  readonly peak: number;
  readonly bytes?: number;
}

export interface PeerRun {
  readonly times: readonly PeerTime[];
  readonly pandas: string;
  readonly numpy: string;
}

/** Runs the peer script on a case. */
export async function runPeer(python: string, script: string, caseFile: string): Promise<PeerRun> {
  const { stdout } = await promisify(execFile)(python, [script, caseFile], { maxBuffer: 1 << 20 });
  return JSON.parse(stdout);
}
