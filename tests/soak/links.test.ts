import { execFileSync } from "node:child_process";
import {
  cp,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  symlink,
  truncate,
  writeFile,
} from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { builtProgram, runProgram } from "./run-program.ts";
import { ADDED_NAME, addedText, makeSmallCity, settingsText } from "./small-city.ts";

/** A secret that stands outside of the program folder: nothing printed or written may hold it. */
const SECRET = "sentinel-outside";

describe.skipIf(builtProgram === undefined)(
  "a program folder with something in the place of a file or folder of its own",
  () => {
    let home = "";
    let folder = "";
    let outside = "";
    beforeEach(async () => {
      home = await mkdtemp(join(tmpdir(), "wyeplan-links-"));
      folder = join(home, "city");
      outside = join(home, "outside");
      await mkdir(outside);
      await makeSmallCity(folder);
      await writeFile(join(home, ADDED_NAME), addedText);
    });
    afterEach(() => rm(home, { recursive: true, force: true }));
    const run = (command: string, ...more: readonly string[]) =>
      runProgram([command, folder, ...more], folder);

    it.each([
      ["laterals.csv", ["plan"]],
      ["inspections.csv", ["plan"]],
      ["program.json", ["plan"]],
      ["decisions.csv", ["plan"]],
      ["decisions.csv", ["decide", "00417", "host_diameter", "6 in", "--reason", "x"]],
      ["inspections/winter.csv", ["plan"]],
      ["snapshots/one.json", ["compare", "one"]],
      ["runs/one.json", ["plan", "--season", "one"]],
      ["curves/one.json", ["season", "--curve", "one"]],
      ["issues/1.json", ["issue"]],
      ["outputs/bid-book.xlsx", ["bids", "none.xlsx"]],
    ] as const)("does not follow %s out of the folder in %j", async (name, [command, ...more]) => {
      if (name.startsWith("inspections/")) {
        expect((await run("add", "--inspections", join(home, ADDED_NAME))).code).toBe(0);
      } else if (name === "decisions.csv") {
        await run("decide", "00417", "host_diameter", "5 in", "--reason", SECRET);
      } else if (name.includes("/")) {
        await mkdir(join(folder, name, ".."), { recursive: true });
        await writeFile(join(folder, name), SECRET);
      }
      const there = join(outside, "file");
      await rename(join(folder, name), there);
      const before = await readFile(there);
      await symlink(there, join(folder, name));
      const { code, out, err } = await run(command!, ...more);
      // A plan without its decisions is a plan; it says so, and a change is refused.
      expect(code, err).toBe(command === "plan" && name === "decisions.csv" ? 1 : 2);
      expect(out + err).toMatch(/a link that leads out of the folder|not a folder/);
      expect(out + err).not.toContain(SECRET);
      expect((await readFile(there)).equals(before)).toBe(true);
    });

    it.each([
      ["outputs", ["workbook"]],
      ["outputs", ["issue"]],
      ["outputs", ["report"]],
      ["snapshots", ["plan", "--save", "one"]],
      ["issues", ["issue"]],
      ["inspections", ["add", "--inspections", "WINTER"]],
    ] as const)("writes nothing through %s in %j", async (name, [command, ...more]) => {
      await symlink(outside, join(folder, name));
      const words = more.map((word) => (word === "WINTER" ? join(home, ADDED_NAME) : word));
      const { code, err } = await run(command!, ...words);
      expect(code).toBe(2);
      expect(err).toContain("not a folder");
      expect(await readdir(outside)).toEqual([]);
    });

    it.each(["laterals.csv", "program.json", "decisions.csv", ".wyeplan-lock"])(
      "does not wait for a pipe in the place of %s",
      async (name) => {
        await rm(join(folder, name), { force: true });
        execFileSync("mkfifo", [join(folder, name)]);
        const { code, err } = await run("decide", "00417", "host_diameter", "6 in", "--reason", "x");
        expect(code).toBe(2);
        expect(err).toMatch(/not a file|a lock that cannot be read/);
      },
    );

    it.each([
      ["program.json", ["plan"], 2],
      ["decisions.csv", ["plan"], 1],
      ["runs/one.json", ["plan", "--season", "one"], 2],
      ["curves/one.json", ["season", "--curve", "one"], 2],
      ["snapshots/one.json", ["compare", "one"], 2],
    ] as const)("does not read %s of three gigabytes", async (name, [command, ...more], ends) => {
      await mkdir(join(folder, name, ".."), { recursive: true });
      await writeFile(join(folder, name), "");
      // A file with nothing in it but its length: it takes no room on the disk.
      await truncate(join(folder, name), 3 * 2 ** 30);
      const { code, err } = await run(command!, ...more);
      expect(code, err).toBe(ends);
      expect(err).toMatch(/3221225472 bytes/);
    });

    it.each([
      "../laterals.csv",
      "/etc/hosts",
      "sub/../../laterals.csv",
      "C:\\laterals.csv",
      "program.json",
      ".",
    ])("refuses the file name %j in the settings, with its line", async (name) => {
      await cp(join(folder, "laterals.csv"), join(home, "laterals.csv"));
      const settings = settingsText.replace('"laterals.csv"', JSON.stringify(name));
      await writeFile(join(folder, "program.json"), settings);
      const { code, err } = await run("plan");
      expect(code).toBe(2);
      expect(err).toContain("inside the program folder");
      expect(err).toMatch(/Line \d+|line \d+|Row \d+/i);
      expect(await readFile(join(folder, "program.json"), "utf8")).toBe(settings);
    });
  },
);
