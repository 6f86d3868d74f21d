import { watch } from "node:fs";
import { readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { costBookCopy } from "../commands/sample-copy.ts";
import { fill, smallDisk } from "./disk-faults.ts";
import { builtProgram, runProgram } from "./run-program.ts";
import { root } from "./seeds.ts";
import { SheetPty } from "./sheet-pty.ts";
import { ADDED_NAME, addedText, makeSmallCity, settingsText } from "./small-city.ts";

/** Room for everything the program writes of five laterals, some 400 kB, twice. */
const DISK_BYTES = 1 << 20;
const disk = builtProgram === undefined ? null : smallDisk(DISK_BYTES);
if (disk === null)
  console.warn(
    "tests/soak/disk-outputs.test.ts is skipped: not built, or this user may not mount a disk in memory.",
  );
const folder = join(disk?.folder ?? "", "city");
const filler = join(disk?.folder ?? "", "filler");
const costs = costBookCopy();
const added = join(disk?.folder ?? "", ADDED_NAME);

/** Stands for a name that nothing has been saved under: a name that is taken is refused before anything is written. */
const NEW_NAME = "(a new name)";
let named = 0;
const withNewName = (args: readonly string[]): readonly string[] =>
  args.map((arg) => (arg === NEW_NAME ? `two-${++named}` : arg));

/** Each command that writes, but for decisions, with the most that it may leave new or changed. */
const writers: readonly (readonly [string, readonly string[], RegExp])[] = [
  ["both books", ["workbook", folder], /^outputs\/(bid|planning)-book\.xlsx$/],
  ["a report", ["report", folder], /^outputs\/report\.html$/],
  ["a saved run", ["plan", folder, "--save", NEW_NAME], /^snapshots(\/two-\d+\.json)?$/],
  ["a saved season", ["season", folder, "--save", NEW_NAME], /^runs(\/two-\d+\.json)?$/],
  ["a table", ["table", folder, "Laterals", "--out", join(folder, "outputs/x.csv")], /^outputs\/x\.csv$/],
  [
    "a priced book",
    ["price", folder, "--book", costs, "--out", join(folder, "outputs/priced.xlsx")],
    /^outputs\/priced.*$/,
  ],
  [
    "a tabulation",
    ["bids", folder, join(folder, "outputs/bid.xlsx"), "--book", costs],
    /^outputs\/bid-tabulation\.xlsx$/,
  ],
  [
    "an issue",
    ["issue", folder, "--addendum", "a change"],
    /^(outputs\/bid-book-\d\.xlsx|issues(\/\d\.json)?)$/,
  ],
  [
    "later inspections",
    ["add", folder, "--inspections", added],
    /^(inspections(\/.*)?|program\.json|snapshots(\/.*)?)$/,
  ],
];
/** A folder made for a file that then found no room; a file of inspections that program.json does not name. */
const HARMLESS = /^(snapshots|runs|inspections)$|^inspections\/winter\.csv$/;
const SAYS_WHY = /no space left|read-only|no such file|not there/;

/** Every file of the folder with its bytes, and every folder. */
async function everything(): Promise<ReadonlyMap<string, string>> {
  const found = new Map<string, string>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    found.set(path.slice(folder.length + 1), entry.isFile() ? (await readFile(path)).toString("base64") : "");
  }
  return found;
}

const changes = (before: ReadonlyMap<string, string>, after: ReadonlyMap<string, string>) =>
  [...new Set([...before.keys(), ...after.keys()])].filter((name) => before.get(name) !== after.get(name));

const decide = (value: string) =>
  runProgram(["decide", folder, "00417", "host_length", value, "--reason", "x"], folder);

describe.skipIf(disk === null)("what the built program writes on a disk that fails", () => {
  beforeAll(async () => {
    await makeSmallCity(folder);
    await writeFile(added, addedText);
    const sample = JSON.parse(
      await readFile(join(root, "sample-programs/quennock-falls/program.json"), "utf8"),
    ) as Record<string, unknown>;
    const settings = {
      ...(JSON.parse(settingsText) as object),
      season: { budget: 9000, objective: "loss avoided" },
      unit_prices: sample["unit_prices"],
    };
    await writeFile(join(folder, "program.json"), JSON.stringify(settings));
    for (const args of [
      ["workbook", folder],
      ["report", folder],
      ["issue", folder],
      ["price", folder, "--book", costs, "--out", join(folder, "outputs/bid.xlsx")],
    ]) {
      const { code, err } = await runProgram(args, folder);
      expect(code, err).toBe(0);
    }
    // What was written so far is out of date: whatever is written again differs.
    expect((await decide("61 ft")).code).toBe(0);
  }, 120_000);
  afterAll(() => disk?.close());

  describe.each(writers)("%s", (_, args, mayWrite) => {
    it.each([0, 8192])("on a full disk with %i bytes left: all of it or nothing, and why", async (free) => {
      const before = await everything();
      await fill(disk!.folder, free);
      const { code, err } = await runProgram(withNewName(args), folder);
      await rm(filler);
      const changed = changes(before, await everything());
      if (code === 0) return void expect(changed.filter((name) => !mayWrite.test(name))).toEqual([]);
      expect(code, err).toBe(2);
      expect(err).toMatch(SAYS_WHY);
      expect(changed.filter((name) => !HARMLESS.test(name))).toEqual([]);
    });

    it("on a read-only disk: nothing, and why", async () => {
      const before = await everything();
      disk!.remount("ro");
      const { code, err } = await runProgram(withNewName(args), folder);
      disk!.remount("rw");
      expect(code, err).toBe(2);
      expect(err).toMatch(SAYS_WHY);
      expect(changes(before, await everything())).toEqual([]);
    });

    it("in a folder that vanishes while it is written: whole or not at all, and once it is back as ever", async () => {
      const before = await everything();
      const away = `${folder}-away`;
      const watching = watch(folder, { recursive: true });
      let gone: Promise<void> | null = null;
      watching.once("change", () => {
        gone = rename(folder, away);
      });
      const { code, err } = await runProgram(withNewName(args), disk!.folder);
      watching.close();
      expect(gone, err).not.toBeNull();
      await gone;
      await rename(away, folder);
      expect([0, 2], err).toContain(code);
      if (code === 2) expect(err).toMatch(SAYS_WHY);
      const changed = changes(before, await everything());
      const left = changed.filter((name) => !/\.part$|^\.wyeplan-lock/.test(name) && !mayWrite.test(name));
      expect(left).toEqual([]);
      const well = await runProgram(withNewName(args), folder);
      // What was done before the folder vanished need not be done again.
      expect([0, 2], well.err).toContain(well.code);
      if (well.code === 2)
        expect(well.err).toMatch(/already|never overwritten|nothing (has changed|differs)/i);
      const after = [...(await everything()).keys()];
      expect(after.filter((name) => /\.part$|^\.wyeplan-lock/.test(name))).toEqual([]);
    });
  });

  it("the sheet stays open, says why and keeps deciding once there is room", async () => {
    const sheet = new SheetPty(folder);
    await sheet.see(/lateral \d of 5/);
    for (let right = 0; right < 6; right++) sheet.press("\u001b[C");
    await sheet.see(/Host dia\.: \S/);
    const decideThere = async (value: string) => {
      let from = sheet.text.length;
      sheet.press(value);
      await sheet.see(/takes it as/, from);
      sheet.press("\r");
      await sheet.see(/Why:/, from);
      sheet.press("because");
      await sheet.see(/because/, from);
      from = sheet.text.length;
      sheet.press("\r");
      return (await sheet.see(/before: |Not done: .*/, from))?.[0];
    };
    const log = await readFile(join(folder, "decisions.csv"), "utf8");
    await fill(disk!.folder, 0);
    // The last block of the log has room for some decisions: until one finds none.
    let done = 0;
    let said = await decideThere("3");
    for (; said?.startsWith("Not done") !== true; said = await decideThere(String(3 + (done % 5)))) done++;
    expect(said).toMatch(/Not done: .*no space left/);
    const full = await readFile(join(folder, "decisions.csv"), "utf8");
    expect(full.startsWith(log)).toBe(true);
    expect(full.slice(log.length).split("\n").length - 1).toBe(2 * done);
    await rm(filler);
    expect(await decideThere("8")).toBe("before: ");
    sheet.press("q");
    await sheet.closed();
    expect((await readFile(join(folder, "decisions.csv"), "utf8")).startsWith(full)).toBe(true);
  }, 240_000);
});
