import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { zipMembers } from "../workbook/written-book.ts";
import { builtProgram, runProgram } from "./run-program.ts";

/**
 * The same program in other places: 14 hours ahead with commas for decimals, 3½ behind, and nowhere in particular. Between the
 * first two it is never the same hour, and mostly not the same day.
 */
const places: readonly Readonly<Record<string, string>>[] = [
  {
    TZ: "Pacific/Kiritimati",
    LC_ALL: "de_DE.UTF-8",
    LANG: "de_DE.UTF-8",
    LANGUAGE: "de",
    TERM: "dumb",
    NO_COLOR: "1",
  },
  {
    TZ: "America/St_Johns",
    LC_ALL: "en_US.UTF-8",
    LANG: "en_US.UTF-8",
    LANGUAGE: "en",
    TERM: "xterm-256color",
  },
  { TZ: "UTC", LC_ALL: "C", LANG: "C", LANGUAGE: "", TERM: "", COLORTERM: "truecolor" },
];

const commands: readonly (readonly [string, ...string[]])[] = [
  ["plan", "--json"],
  ["table", "Ranking"],
  ["season"],
  ["calendar"],
  ["report"],
  ["workbook"],
];

/** Everything a program says and writes, by command and by file. */
async function everythingIn(place: Readonly<Record<string, string>>, folder: string) {
  const made: Record<string, string> = {};
  for (const [command, ...more] of commands) {
    const { out, err, code } = await runProgram([command, folder, ...more], folder, { kind: "never" }, place);
    // Times taken are said on standard error; what is said of the folder names it.
    made[command] = `${code}\n${out.replaceAll(folder, "FOLDER")}`;
    if (code === 3 || code === 2) made[command] += err;
  }
  const outputs = join(folder, "outputs");
  for (const file of (await readdir(outputs)).sort()) {
    const bytes = await readFile(join(outputs, file));
    // A zip file says of each member when it was written, to two seconds; what is in it is what counts.
    made[file] = file.endsWith(".xlsx") ? JSON.stringify([...zipMembers(bytes)]) : bytes.toString("utf8");
  }
  return made;
}

describe.skipIf(builtProgram === undefined)("another locale, time zone, terminal or hour", () => {
  let home = "";
  const made: Record<string, string>[] = [];
  beforeAll(async () => {
    home = await mkdtemp(join(tmpdir(), "wyeplan-places-"));
    const sample = new URL("../../sample-programs/kaltwendel", import.meta.url).pathname;
    const folders = places.map((_, i) => join(home, `${i}`, "city"));
    for (const folder of folders) {
      await cp(sample, folder, { recursive: true });
      // A few laterals of a city that writes commas for decimals: more would only take longer.
      const lines = (await readFile(join(folder, "laterals.csv"), "latin1")).split("\n");
      await writeFile(join(folder, "laterals.csv"), lines.slice(0, 45).join("\n"), "latin1");
    }
    made.push(...(await Promise.all(places.map((place, i) => everythingIn(place, folders[i]!)))));
  }, 300_000);
  afterAll(() => rm(home, { recursive: true, force: true }));

  it("is another indeed: Node takes the zone and the locale from the environment", async () => {
    const { execFileSync } = await import("node:child_process");
    const shown = places.map((place) =>
      execFileSync(
        process.execPath,
        ["-p", "new Date(1e12).toString().slice(0, 33) + (0.5).toLocaleString()"],
        {
          env: { ...process.env, ...place },
          encoding: "utf8",
        },
      ).trim(),
    );
    expect(shown).toEqual([
      "Sun Sep 09 2001 15:46:40 GMT+14000,5",
      "Sat Sep 08 2001 23:16:40 GMT-02300.5",
      "Sun Sep 09 2001 01:46:40 GMT+00000.5",
    ]);
  });

  it.each([...commands.map(([command]) => command), "bid-book.xlsx", "planning-book.xlsx", "report.html"])(
    "changes no byte of %s",
    (name) => {
      const [first, ...others] = made.map((of) => of[name]);
      expect(first?.length).toBeGreaterThan(50);
      for (const other of others)
        expect(other === first, firstDifference(first ?? "", other ?? "")).toBe(true);
    },
  );
});

function firstDifference(a: string, b: string): string {
  const at = [...a].findIndex((letter, i) => letter !== b[i]);
  return `differs at ${at}: ${a.slice(Math.max(0, at - 40), at + 80)} | ${b.slice(Math.max(0, at - 40), at + 80)}`;
}
