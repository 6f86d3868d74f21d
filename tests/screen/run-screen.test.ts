import { EventEmitter } from "node:events";
import { describe, expect, it, vi } from "vitest";
import { type RunningScreen, runScreen } from "../../src/screen/run-screen.tsx";
import type { SheetView } from "../../src/screen/sheet-view.ts";
import type { Terminal } from "../../src/screen/terminal.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

/** A terminal that remembers what was done to it. */
class Played extends EventEmitter {
  readonly isTTY = true;
  columns = 80;
  rows = 24;
  written = "";
  raw: boolean[] = [];
  write(text: string): void {
    this.written += text;
  }
  setRawMode(on: boolean): void {
    this.raw.push(on);
  }
  resume(): void {}
  pause(): void {}
  press(text: string): void {
    this.emit("data", Buffer.from(text));
  }
  /** What was written since the last look. */
  look(): string {
    const text = this.written;
    this.written = "";
    return text;
  }
}

function open(sheet: SheetView = plainSheet(numbered(100))): { screen: RunningScreen; played: Played } {
  const played = new Played();
  return { screen: runScreen(sheet, { input: played, output: played } as unknown as Terminal, true), played };
}

/** The lines of the screen that a text writes to, by the cursor positions in it. */
const linesWritten = (written: string): readonly number[] =>
  written
    .split("\x1b[")
    .flatMap((part) => /^(\d+);1H/.exec(part)?.[1] ?? [])
    .map(Number);

const LEFT = "\x1b[?2004l\x1b[?25h\x1b[?7h\x1b[?1049l";

describe("runScreen", () => {
  it("takes the terminal, draws, and gives it back when somebody leaves", async () => {
    const { screen, played } = open();
    const drawn = played.look();
    expect(drawn.startsWith("\x1b[?1049h\x1b[?7l\x1b[?25l\x1b[?2004h")).toBe(true);
    expect(drawn).toContain("Plain town");
    played.press("q");
    expect(await screen.ended).toEqual({ kind: "left" });
    expect(played.look().endsWith(LEFT)).toBe(true);
    expect(played.raw).toEqual([true, false]);
    expect(played.listenerCount("data")).toBe(0);
  });

  it("leaves on Ctrl-C", async () => {
    const { screen, played } = open();
    played.press("\x03");
    expect(await screen.ended).toEqual({ kind: "left" });
  });

  it("writes only the lines that a key changed, and never clears the screen for it", () => {
    const { screen, played } = open();
    played.look();
    played.press("\x1b[B");
    const written = played.look();
    // The title, the two rows between which the cursor moved, and the line that shows the cell.
    expect(linesWritten(written)).toEqual([1, 4, 5, 23]);
    expect(written).not.toContain("\x1b[2J");
    screen.end({ kind: "left" });
  });

  it("takes an escape for the Escape key when nothing follows it in time", () => {
    vi.useFakeTimers();
    try {
      const { screen, played } = open();
      played.press("w");
      expect(played.look()).toContain("Why row 0");
      played.press("\x1b");
      expect(played.look()).toBe("");
      vi.advanceTimersByTime(60);
      expect(played.look()).toContain("L008");
      screen.end({ kind: "left" });
    } finally {
      vi.useRealTimers();
    }
  });

  it("takes an escape for a sequence when the rest comes in time", () => {
    const { screen, played } = open();
    played.look();
    played.press("\x1b");
    played.press("[B");
    expect(played.look()).toContain("lateral 2 of 100");
    screen.end({ kind: "left" });
  });

  it("draws all of it again in a window of another size", () => {
    const { screen, played } = open();
    played.look();
    Object.assign(played, { columns: 60, rows: 15 });
    played.emit("resize");
    const written = played.look();
    expect(written).toContain("\x1b[2J");
    expect(written).toContain("\x1b[15;1H");
    expect(written).not.toContain("\x1b[16;1H");
    screen.end({ kind: "left" });
  });

  it("draws all of it again when asked to, and after the process was stopped", () => {
    const { screen, played } = open();
    played.look();
    played.press("\x0c");
    expect(played.look()).toContain("\x1b[2J");
    screen.resume();
    const written = played.look();
    expect(written.startsWith("\x1b[?1049h")).toBe(true);
    expect(written).toContain("\x1b[2J");
    screen.end({ kind: "left" });
  });

  it("gives the terminal back when the program makes a mistake, and says which", async () => {
    const broken = {
      ...plainSheet(numbered(3)),
      pane: () => {
        throw new Error("a planted mistake");
      },
    };
    const { screen, played } = open(broken);
    played.press("w");
    expect(await screen.ended).toEqual({ kind: "failed", error: new Error("a planted mistake") });
    expect(played.look().endsWith(LEFT)).toBe(true);
    expect(played.raw).toEqual([true, false]);
  });

  it("ends when the terminal is gone", async () => {
    const { screen, played } = open();
    played.emit("end");
    expect(await screen.ended).toEqual({ kind: "hung up" });
  });

  it("ends once: the first ending counts, and keys after it do nothing", async () => {
    const { screen, played } = open();
    played.press("qwww");
    screen.end({ kind: "signal", signal: "SIGTERM" });
    expect(await screen.ended).toEqual({ kind: "left" });
    expect(played.look().split("\x1b[?1049l").length).toBe(2);
  });

  it("reads many keys in one draw", () => {
    const { screen, played } = open();
    played.look();
    played.press("\x1b[B".repeat(50));
    const written = played.look();
    expect(written).toContain("lateral 51 of 100");
    expect(written.split("\x1b[?2026h").length).toBe(2);
    screen.end({ kind: "left" });
  });
});
