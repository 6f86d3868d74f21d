import { execFileSync } from "node:child_process";

export const hasTmux = ((): boolean => {
  try {
    execFileSync("tmux", ["-V"]);
    return true;
  } catch {
    return false;
  }
})();

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** A program in a window of a tmux server of its own, so that nobody's sessions are touched. */
export class TmuxWindow {
  static #servers = 0;
  readonly #socket = `wyeplan-${process.pid}-${TmuxWindow.#servers++}`;

  constructor(columns: number, rows: number, shell: string) {
    this.#tmux(
      "new-session",
      "-d",
      "-x",
      String(columns),
      "-y",
      String(rows),
      "-s",
      "w",
      `${shell}; exec sh`,
    );
  }

  #tmux(...args: readonly string[]): string {
    return execFileSync("tmux", ["-L", this.#socket, "-f", "/dev/null", ...args], { encoding: "utf8" });
  }

  /** The screen as somebody sees it. */
  get lines(): readonly string[] {
    return this.#tmux("capture-pane", "-p", "-t", "w").replace(/\n$/, "").split("\n");
  }

  /** Waits until the screen is as wanted; the machine may be busy. Fails with the screen it saw last. */
  async see(wanted: (text: string) => boolean): Promise<readonly string[]> {
    for (let waited = 0; waited < 40_000; waited += 100) {
      const { lines } = this;
      if (wanted(lines.join("\n"))) return lines;
      await pause(100);
    }
    throw new Error(`The screen never came to what was wanted:\n${this.lines.join("\n")}`);
  }

  press(...keys: readonly string[]): void {
    this.#tmux("send-keys", "-t", "w", ...keys);
  }

  type(text: string): void {
    this.#tmux("send-keys", "-l", "-t", "w", text);
  }

  /** As a terminal hands over what was copied elsewhere: between the marks of a bracketed paste. */
  paste(text: string): void {
    this.#tmux("set-buffer", "-b", "b", text);
    this.#tmux("paste-buffer", "-p", "-r", "-b", "b", "-t", "w");
  }

  /** The id of the process that runs in the window's shell. */
  get child(): number {
    const shell = this.#tmux("display-message", "-p", "-t", "w", "#{pane_pid}").trim();
    return Number(execFileSync("pgrep", ["-P", shell], { encoding: "utf8" }).trim().split("\n")[0]);
  }

  close(): void {
    try {
      this.#tmux("kill-server");
    } catch {
      // The server ends by itself with its last session.
    }
  }
}
