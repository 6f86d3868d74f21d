import type { Size } from "./sheet-view.ts";

/** The terminal as the sheet uses it: standard input and output, or a test's stand-in. */
export interface Terminal {
  readonly input: TerminalInput;
  readonly output: TerminalOutput;
}

interface TerminalInput {
  readonly isTTY?: boolean;
  setRawMode(on: boolean): unknown;
  on(event: "data" | "end" | "error", listener: (chunk: Uint8Array) => void): unknown;
  off(event: "data" | "end" | "error", listener: (chunk: Uint8Array) => void): unknown;
  resume(): unknown;
  pause(): unknown;
}

interface TerminalOutput {
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly rows?: number;
  write(text: string): unknown;
  on(event: "resize" | "error", listener: () => void): unknown;
  off(event: "resize" | "error", listener: () => void): unknown;
}

/** Some terminals say nothing of their size; then it is the size that all have been able to show since the first. */
export const sizeOf = ({ columns, rows }: TerminalOutput): Size =>
  columns && rows ? { columns, rows } : { columns: 80, rows: 24 };

/**
 * Another screen, so that what was on this one comes back; no line wrapping, so that text a terminal draws wider
 * than expected spoils its own line only; no cursor; pastes told from typing.
 */
const ENTER = "\x1b[?1049h\x1b[?7l\x1b[?25l\x1b[?2004h";
const LEAVE = "\x1b[?2026l\x1b[0m\x1b[?2004l\x1b[?25h\x1b[?7h\x1b[?1049l";

/** Takes the terminal for the sheet. */
export function takeTerminal({ input, output }: Terminal): void {
  input.setRawMode(true);
  output.write(ENTER);
}

/** Gives it back as it was. It may be gone already; then there is nothing to give back. */
export function restoreTerminal({ input, output }: Terminal): void {
  try {
    output.write(LEAVE);
    input.setRawMode(false);
  } catch {
    // A terminal that hung up refuses both.
  }
}
