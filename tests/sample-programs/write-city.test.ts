import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sampleStyles } from "../../sample-programs/city-spec.ts";
import { describeSamples } from "../../sample-programs/describe-samples.ts";
import { type Order, trackedSamples, writeCity } from "../../sample-programs/write-city.ts";
import { readSettings, settingsText } from "../../src/program/settings.ts";
import { bytesOf, column, FILES, recordsOf, SAMPLES, temporaryFolder } from "./sample-files.ts";

const order = (changes: Partial<Order>): Order => ({
  style: "us",
  laterals: 300,
  seed: 5,
  plain: false,
  name: "test",
  ...changes,
});

describe("a generated program", () => {
  it("is the same to the byte for the same seed, and another for another seed", async () => {
    const [once, again, other] = [temporaryFolder(), temporaryFolder(), temporaryFolder()];
    await writeCity(once, order({}));
    await writeCity(again, order({}));
    await writeCity(other, order({ seed: 6 }));
    for (const file of [...FILES, "observations.csv"])
      expect(bytesOf(again, file).equals(bytesOf(once, file))).toBe(true);
    expect(bytesOf(other, "laterals.csv").equals(bytesOf(once, "laterals.csv"))).toBe(false);
  });

  it.each(sampleStyles)("has as many laterals as asked for, each once, in plain %s files", async (style) => {
    const folder = temporaryFolder();
    const written = await writeCity(folder, order({ style, laterals: 1_234, plain: true }));
    const reading = await readSettings(folder);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const { laterals, inspections } = reading.settings;
    const text = bytesOf(folder, "laterals.csv").toString(style === "us" ? "utf8" : "latin1");
    const records = recordsOf(text, laterals.delimiter, 0);
    const ids = column(records, laterals.columns.lateral!.heading);
    expect(ids).toHaveLength(1_234);
    expect(new Set(ids).size).toBe(1_234);
    expect(written).toMatchObject({ laterals: 1_234, lateralRows: 1_234 });

    const surveys = recordsOf(
      bytesOf(folder, "inspections.csv").toString(style === "us" ? "utf8" : "latin1"),
      inspections!.delimiter,
      0,
    );
    expect(surveys).toHaveLength(written.inspectionRows);
    const known = new Set(ids);
    for (const id of column(surveys, inspections!.columns.lateral!.heading)) expect(known.has(id)).toBe(true);
  });

  it("has 32 columns of laterals and 24 of inspections in a US city", async () => {
    const folder = temporaryFolder();
    await writeCity(folder, order({ plain: true }));
    for (const [file, columns] of [
      ["laterals.csv", 32],
      ["inspections.csv", 24],
    ] as const) {
      const [headings, ...rows] = bytesOf(folder, file).toString().trimEnd().split("\r\n");
      expect(headings!.split(",")).toHaveLength(columns);
      // Plain files hold nothing that needs quotes.
      for (const row of rows) expect(row.split(",")).toHaveLength(columns);
    }
  });
});

describe.each(sampleStyles)("the tracked %s sample", (style) => {
  const { folder, order: asTracked } = trackedSamples[style];

  it("is what the generator writes, byte for byte", async () => {
    const made = temporaryFolder();
    await writeCity(made, asTracked);
    for (const file of style === "us" ? [...FILES, "observations.csv"] : FILES) {
      expect(bytesOf(made, file).equals(bytesOf(SAMPLES + folder, file)), `${folder}/${file}`).toBe(true);
    }
  });

  it("has settings that the program reads, in the form the program itself writes", async () => {
    const reading = await readSettings(SAMPLES + folder);
    expect(reading).toMatchObject({ ok: true });
    if (reading.ok)
      expect(settingsText(reading.settings)).toBe(bytesOf(SAMPLES + folder, "program.json").toString());
  });
});

describe("the generator as a program", () => {
  let folder = "";
  let program = "";
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "generator-"));
    program = join(folder, "generate.mjs");
    await build({
      entryPoints: [`${SAMPLES}generate.ts`],
      outfile: program,
      bundle: true,
      format: "esm",
      platform: "node",
      target: "node20",
      logLevel: "silent",
    });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const run = (args: string[], env: Record<string, string> = {}) =>
    execFileSync(process.execPath, [program, ...args], {
      encoding: "utf8",
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, ...env },
    });

  it("writes the same bytes whatever the machine's locale and time zone", () => {
    const [here, there] = [temporaryFolder(), temporaryFolder()];
    run(["--sample", "si", "--out", here], { TZ: "Pacific/Kiritimati", LC_ALL: "C", LANG: "C" });
    run(["--sample", "si", "--out", there], {
      TZ: "America/Los_Angeles",
      LC_ALL: "de_DE.UTF-8",
      LANG: "de_DE",
    });
    for (const file of FILES) expect(bytesOf(there, file).equals(bytesOf(here, file))).toBe(true);
  });

  it.each([
    [["--laterals", "0", "--out", "x"], "--laterals is a whole number from 1"],
    [["--laterals", "1e3", "--out", "x"], 'not "1e3"'],
    [["--laterals", "10"], "--out DIR"],
    [["--laterals", "10", "--out", "x", "--style", "uk"], 'not "uk"'],
    [["--sample", "fr"], 'not "fr"'],
    [["--wat"], "--wat"],
  ])("refuses %j in words and with exit code 2", (args, words) => {
    try {
      run(args);
    } catch (error) {
      const { status, stderr } = error as { status: number; stderr: string };
      expect(status).toBe(2);
      expect(stderr).toContain(words);
      return;
    }
    throw new Error("it was taken");
  });
});

describe("about-the-samples.md", () => {
  it("prints the tables that the generator measures", () => {
    const [, measured] = bytesOf(SAMPLES, "about-the-samples.md")
      .toString()
      .split(/<!-- measured:.*-->\n/);
    expect(measured?.trim()).toBe(describeSamples().trim());
  });
});
