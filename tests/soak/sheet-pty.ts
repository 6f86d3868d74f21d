import { type ChildProcessByStdio, execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import type { Readable, Writable } from "node:stream";
import { builtProgram } from "./run-program.ts";

/** `script` makes the pseudo-terminal; it is part of every Linux (util-linux). */
export const hasScript = ((): boolean => {
  try {
    return execFileSync("script", ["--version"], { encoding: "utf8" }).includes("util-linux");
  } catch {
    return false;
  }
})();

/** A screen that shows nothing new for so long has hung. */
const LONGEST_WAIT_MS = 60_000;

/** The built program's sheet on a pseudo-terminal: keys in, and everything it ever wrote. */
export class SheetPty {
  readonly #script: ChildProcessByStdio<Writable, Readable, null>;
  readonly #closed: Promise<unknown>;
  #written = "";
  #heard: () => void = () => undefined;
  #isClosed = false;

  constructor(folder: string) {
    if (builtProgram === undefined) throw new Error("SheetPty: dist/main.js is not built (npm run build)");
    const program = [process.execPath, builtProgram, folder].map((word) => `'${word}'`).join(" ");
    this.#script = spawn(
      "script",
      ["-qfec", `stty cols 100 rows 20; echo "process $$."; exec ${program}`, "/dev/null"],
      {
        env: { ...process.env, SHELL: "/bin/sh", WYEPLAN_WHO: "a tester" },
        stdio: ["pipe", "pipe", "ignore"],
      },
    );
    this.#script.stdout.setEncoding("utf8").on("data", (text: string) => {
      this.#written += text;
      this.#heard();
    });
    // Keys pressed after the program has gone go nowhere.
    this.#script.stdin.on("error", () => undefined);
    this.#closed = once(this.#script, "close").then(() => {
      this.#isClosed = true;
      this.#heard();
    });
  }

  /** Everything written so far, without what moves the cursor or colours. */
  get text(): string {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escapes of the terminal are what goes.
    return this.#written.replace(/\u001b\[[0-9;?]*[A-Za-z]/g, "\n");
  }

  get isClosed(): boolean {
    return this.#isClosed;
  }

  press(keys: string): void {
    this.#script.stdin.write(keys);
  }

  /** Waits for text written after `from`; null when the program ended instead. */
  async see(wanted: RegExp, from = 0): Promise<RegExpExecArray | null> {
    const until = performance.now() + LONGEST_WAIT_MS;
    for (;;) {
      const found = wanted.exec(this.text.slice(from));
      if (found !== null || this.#isClosed) return found;
      if (performance.now() > until)
        throw new Error(`the sheet never showed ${String(wanted)}: ${this.text.slice(-1500)}`);
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, 1000);
        this.#heard = () => {
          clearTimeout(timer);
          resolve();
        };
      });
    }
  }

  /** SIGKILL to the program itself, not to its terminal. */
  async kill(): Promise<void> {
    const id = /process (\d+)\./.exec(this.#written)?.[1];
    if (id === undefined) throw new Error(`SheetPty: no process: ${this.#written}`);
    try {
      process.kill(Number(id), "SIGKILL");
    } catch {
      // It has ended by itself; whoever looks after it will see that.
    }
    await this.closed();
  }

  /** Until the terminal is closed too. */
  async closed(): Promise<void> {
    this.#script.stdin.end();
    await this.#closed;
  }
}
