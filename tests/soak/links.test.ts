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
      expect(err).toMatch(/3,221,225,472 bytes/);
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

    describe("with --files-from", () => {
      const from = () => ["--files-from", outside];
      const plan = (...more: readonly string[]) => run("plan", ...more);
      /** What the plan says of a lateral: the files were read. */
      const READ = /Harbour +2 /;

      it("reads a city's file that lies there, the whole way to a saved run, and writes nothing there", async () => {
        await rename(join(folder, "laterals.csv"), join(outside, "laterals.csv"));
        const without = await plan();
        expect(without.code).toBe(2);
        expect(without.err).toMatch(/laterals\.csv.*no such file.*--files-from FOLDER/s);
        const saved = await plan("--save", "one", ...from());
        expect(saved.code, saved.err).toBe(0);
        expect(saved.out).toMatch(READ);
        expect((await run("workbook", ...from())).code).toBe(0);
        expect((await run("season", ...from())).err).not.toContain("no such file");
        expect(await readdir(outside)).toEqual(["laterals.csv"]);
        const before = await runProgram([...from(), "plan", folder], folder);
        expect(before.out).toMatch(READ);
      });

      it("follows a link that leads into that folder, and no other", async () => {
        await rename(join(folder, "laterals.csv"), join(outside, "all.csv"));
        await symlink(join(outside, "all.csv"), join(folder, "laterals.csv"));
        const refused = await plan();
        expect(refused.code).toBe(2);
        expect(refused.err).toMatch(/a link that leads out.*--files-from FOLDER/s);
        const read = await plan(...from());
        expect(read.out, read.err).toMatch(READ);
        const elsewhere = join(home, "elsewhere");
        await mkdir(elsewhere);
        expect((await plan("--files-from", elsewhere)).err).toContain("a link that leads out");
      });

      it("takes nothing through a link out of that folder either", async () => {
        await rename(join(folder, "laterals.csv"), join(home, "laterals.csv"));
        await symlink(join(home, "laterals.csv"), join(outside, "laterals.csv"));
        expect((await plan(...from())).err).toContain("a link that leads out");
      });

      it("opens none of the program's own files elsewhere, and no file that settings name by a path", async () => {
        const runs = ["decisions.csv", "program.json"];
        for (const name of runs) {
          await writeFile(join(outside, name), SECRET);
          await rm(join(folder, name), { force: true });
          await symlink(join(outside, name), join(folder, name));
          const { code, out, err } = await plan(...from());
          expect(code).toBeGreaterThan(0);
          expect(err).toContain("a link that leads out");
          expect(out + err).not.toContain(SECRET);
          await rm(join(folder, name));
          await writeFile(join(folder, "program.json"), settingsText);
        }
        await cp(join(folder, "laterals.csv"), join(outside, "laterals.csv"));
        const settings = settingsText.replace('"laterals.csv"', '"../outside/laterals.csv"');
        await writeFile(join(folder, "program.json"), settings);
        expect((await plan(...from())).err).toContain("inside the program folder");
      });

      it.each(["nowhere", "city/laterals.csv"])("says when %s is no folder", async (name) => {
        const { code, err } = await plan("--files-from", join(home, name));
        expect(code).toBe(2);
        expect(err).toMatch(/found "(no such|not a) folder".*expected a folder/s);
      });
    });
  },
);
