import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";

const hasTmux = ((): boolean => {
  try {
    execFileSync("tmux", ["-V"]);
    return true;
  } catch {
    return false;
  }
})();
if (!hasTmux) console.warn("tests/screen/terminal.test.ts is skipped: there is no tmux to run the sheet in.");

/** Our own tmux server, so nobody's sessions are touched; another for each test, for one that ends takes a while. */
let servers = 0;
const socket = () => `wyeplan-test-${process.pid}-${servers}`;
let folder = "";

const tmux = (...args: readonly string[]): string =>
  execFileSync("tmux", ["-L", socket(), "-f", "/dev/null", ...args], { encoding: "utf8" });

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** The screen as somebody sees it. */
const seen = (): readonly string[] =>
  tmux("capture-pane", "-p", "-t", "sheet").replace(/\n$/, "").split("\n");

/** Waits until the screen is as wanted; the machine may be busy. Fails with the screen it saw last. */
async function see(wanted: (text: string) => boolean): Promise<readonly string[]> {
  for (let waited = 0; waited < 20_000; waited += 100) {
    if (wanted(seen().join("\n"))) return seen();
    await pause(100);
  }
  throw new Error(`The screen never came to what was wanted:\n${seen().join("\n")}`);
}

/** Opens the sheet over an invented program, in a shell that says how it ended. */
async function openSheet(columns: number, rows: number, args = "60"): Promise<readonly string[]> {
  servers++;
  const program = join(folder, "fixture-sheet.mjs");
  const shell = `echo before the sheet; '${process.execPath}' '${program}' ${args}; echo code $?; stty -a | grep -o -e '-\\?icanon'; exec sh`;
  tmux("new-session", "-d", "-x", String(columns), "-y", String(rows), "-s", "sheet", shell);
  const drawn = await see((text) => text.includes("q leave") || text.includes("code "));
  if (drawn.join().includes("code 1") && args === "60")
    throw new Error(`The sheet did not open:\n${drawn.join("\n")}`);
  return drawn;
}

const press = (...keys: readonly string[]) => tmux("send-keys", "-t", "sheet", ...keys);

/** What the shell shows afterwards: the screen from before, the sheet gone, the terminal in its usual mode. */
async function expectRestored(code: number): Promise<string> {
  const after = (await see((text) => text.includes("icanon"))).join("\n");
  expect(after).toContain("before the sheet");
  expect(after).toContain(`code ${code}`);
  expect(after).not.toContain("-icanon");
  expect(after).not.toContain("L-0024");
  expect(
    tmux("display-message", "-p", "-t", "sheet", "#{alternate_on} #{cursor_flag} #{wrap_flag}").trim(),
  ).toBe("0 1 1");
  return after;
}

const processOfSheet = (): number => {
  const shell = tmux("display-message", "-p", "-t", "sheet", "#{pane_pid}").trim();
  return Number(execFileSync("pgrep", ["-P", shell], { encoding: "utf8" }).trim().split("\n")[0]);
};

describe.skipIf(!hasTmux)("the sheet in a terminal", () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "wyeplan-sheet-"));
    await build({
      entryPoints: [new URL("fixture-sheet.tsx", import.meta.url).pathname],
      outdir: folder,
      outExtension: { ".js": ".mjs" },
      bundle: true,
      splitting: true,
      format: "esm",
      platform: "node",
      target: "node20",
      jsx: "automatic",
      define: { "process.env.NODE_ENV": '"production"' },
      external: ["react-devtools-core"],
      banner: {
        js: "import { createRequire as __r } from 'node:module'; const require = __r(import.meta.url);",
      },
    });
  });

  afterEach(() => {
    try {
      tmux("kill-server");
    } catch {
      // The server ends by itself with its last session.
    }
  });

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each([
    [80, 24],
    [160, 50],
    [60, 15],
  ])("fills a window of %i by %i, moves, and opens the reasons", async (columns, rows) => {
    const first = await openSheet(columns, rows);
    expect(first.length).toBe(rows);
    expect(first[0]).toMatch(/1 of 60/);
    expect(first[3]).toContain(">[L-0024 ]    1");
    expect(first[rows - 3]).toContain("All 60 laterals");
    expect(first[rows - 1]).toContain("? help");
    press("Down", "Down");
    const moved = await see((text) => text.includes("3 of 60"));
    expect(moved.filter((line) => line.startsWith(">"))).toEqual([expect.stringContaining("[L-0012 ]    3")]);
    press("w");
    const why = await see((text) => text.includes("Why L-0012"));
    expect(why.length).toBe(rows);
    expect(why.join("\n")).toContain("Choice");
    press("Escape");
    await see((text) => !text.includes("Why L-0012"));
    press("q");
    await expectRestored(0);
  });

  it("keeps the id and the headings in view at the far end of the sheet", async () => {
    await openSheet(80, 24);
    press("End", "C-End");
    const end = await see((text) => text.includes("60 of 60") && text.includes("Crew time: "));
    expect(end[1]).toMatch(/^‹ Lateral .*Crew time/);
    expect(end[19]).toMatch(/^> L-\d{4} .*\[.*\]$/);
  });

  it("keeps wide characters in line with what is beside them", async () => {
    await openSheet(100, 24);
    press("s");
    await see((text) => text.includes("A to Z"));
    // The district of L-0003 is written in wide characters, that of L-0004 in Latin letters.
    const cellsBefore = seen()
      .filter((line) => /L-000[34]/.test(line))
      .map((line) => [...line.slice(0, line.search(/ 4\.0 /))])
      .map((before) => before.reduce((cells, character) => cells + (character > "\u3000" ? 2 : 1), 0));
    expect(cellsBefore.length).toBe(2);
    expect(cellsBefore[0]).toBe(cellsBefore[1]);
  });

  it("follows the window's size at any moment", async () => {
    await openSheet(80, 24);
    press("w");
    await see((text) => text.includes("Why L-0024"));
    for (const [columns, rows] of [
      [120, 30],
      [60, 15],
      [25, 6],
      [200, 50],
      [80, 24],
    ] as const) {
      tmux("resize-window", "-t", "sheet", "-x", String(columns), "-y", String(rows));
      // What tmux keeps of the old window is soon drawn over: in the end everything is there once, at its place.
      await see((text) => {
        if (columns < 30) return text.includes("too small");
        const lines = text.split("\n");
        const once = ["Why L-0024", "All 60 laterals", "? help"].every(
          (words) => lines.filter((line) => line.includes(words)).length === 1,
        );
        return once && /1 of 60$/.test(lines[0]!) && lines[rows - 1]!.startsWith("? help");
      });
    }
  });

  it("gives the terminal back on Ctrl-C", async () => {
    await openSheet(80, 24);
    press("C-c");
    await expectRestored(0);
  });

  it.each([
    ["SIGTERM", 143],
    ["SIGHUP", 129],
    ["SIGINT", 130],
  ] as const)("gives the terminal back on %s and says so", async (signal, code) => {
    await openSheet(80, 24);
    process.kill(processOfSheet(), signal);
    expect(await expectRestored(code)).toContain(`The sheet was closed by ${signal}.`);
  });

  it("gives the terminal back when something else in the process goes wrong", async () => {
    await openSheet(80, 24, "60 fail");
    expect(await expectRestored(1)).toContain("a planted mistake");
  });
});
