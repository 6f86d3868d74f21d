import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type CommandIo, EXIT } from "../../src/commands/command-io.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { redoLatest } from "../../src/commands/redo.ts";
import { undoLatest } from "../../src/commands/undo.ts";
import { smallSettings } from "../program/sample-settings.ts";

let folder = "";
let out = "";
let err = "";
const io: CommandIo = {
  out: (text) => {
    out += text;
  },
  err: (text) => {
    err += text;
  },
  now: () => "2026-03-01T08:00:00.000Z",
  who: "R. Ames",
};

beforeEach(async () => {
  [out, err] = ["", ""];
  folder = await mkdtemp(join(tmpdir(), "wyeplan-test-"));
  await writeFile(join(folder, "program.json"), JSON.stringify(smallSettings));
  await writeFile(join(folder, "laterals.csv"), "LAT_ID,DIAM,LEN,MAT\n00417,4,37.5,VCP\n");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const decide = (value: string, more: object = {}) =>
  decideValue({ folder, lateral: "00417", column: "host_diameter", value, reason: "measured", ...more }, io, {
    hasLateral: async (id) => id === "00417",
    objectionsTo: async () => [],
  });

describe("wyeplan decide, undo, redo", () => {
  it("write a decision down, take it back and put it in place again, and say what holds", async () => {
    expect(await decide("6 in")).toBe(EXIT.done);
    expect(await decide("8 in", { who: "city engineer" })).toBe(EXIT.done);
    expect(out).toContain("Lateral 00417, Host dia.: 8 in (decision 3), before: 6 in (decision 1).\n");
    out = "";
    expect(await undoLatest({ folder }, io)).toBe(EXIT.done);
    expect(out).toContain("Change set 2 is undone");
    expect(out).toContain("Lateral 00417, Host dia.: 6 in (decision 1), before: 8 in (decision 3).\n");
    out = "";
    expect(await redoLatest({ folder }, io)).toBe(EXIT.done);
    expect(out).toContain("Change set 2 holds again");
    expect(out).toContain("Host dia.: 8 in (decision 3), before: 6 in (decision 1).\n");
    expect(err).toBe("");
    const log = await readFile(join(folder, "decisions.csv"), "utf8");
    expect(log).toContain(
      "3,2,set,,2026-03-01T08:00:00.000Z,city engineer,00417,host_diameter,8 in,measured\n",
    );
    expect((await readdir(folder)).sort()).toEqual(["decisions.csv", "laterals.csv", "program.json"]);
  });

  it("say which mark decimals have, and which way grades run", async () => {
    expect(await decide("0,15 m")).toBe(EXIT.notDone);
    expect(err).toContain("Write decimals with a point");
    expect(await decide("6 in")).toBe(EXIT.done);
    expect(out).not.toContain("5 worst");
    expect(await decide("4", { column: "structural_grade" })).toBe(EXIT.done);
    expect(out).toContain("Decided grades run from 1 best to 5 worst");
  });

  it("refuse what may not stand, and write nothing", async () => {
    expect(await decide("6")).toBe(EXIT.notDone);
    expect(err).toContain('Write "6 in" or "6 mm", whichever it is.\n');
    expect(await decide("6 in", { reason: "" })).toBe(EXIT.notDone);
    expect(await decide("6 in", { lateral: "417" })).toBe(EXIT.notDone);
    expect(err).toContain("leading zeros and marks count");
    expect(out).toBe("");
    expect((await readdir(folder)).sort()).toEqual(["laterals.csv", "program.json"]);
  });

  it("say in a sentence, and not as a fault of a file, that there is nothing to take back", async () => {
    expect(await undoLatest({ folder }, io)).toBe(EXIT.notDone);
    expect(await redoLatest({ folder }, io)).toBe(EXIT.notDone);
    expect(await decide("as given")).toBe(EXIT.notDone);
    expect(err.split("\n")).toEqual([
      "Nothing to undo: no decision stands.",
      "Nothing to redo: no decision was undone since the last one was made.",
      "Lateral 00417, host_diameter: nothing is decided there; it is as given already.",
      "",
    ]);
    expect(out).toBe("");
    expect((await readdir(folder)).sort()).toEqual(["laterals.csv", "program.json"]);
  });

  it("name what was typed by its column, not by the file it was not written to", async () => {
    await decide("6");
    await decide("6 in", { lateral: "417" });
    expect(err).toContain('column "host_diameter": found "6"');
    expect(err).toContain('column "lateral": found "417"');
    expect(err).not.toContain("decisions.csv");
  });

  it("say who is writing, and what is wrong with the settings", async () => {
    const held = { pid: process.ppid, host: hostname(), started: "2026-03-01T07:00:00Z" };
    await writeFile(join(folder, ".wyeplan-lock"), JSON.stringify(held));
    expect(await decide("6 in")).toBe(EXIT.notDone);
    expect(err).toContain(`process ${process.ppid}`);
    await writeFile(join(folder, "program.json"), "{");
    expect(await decide("6 in")).toBe(EXIT.notDone);
    expect(err).toContain("program.json, line 1");
  });
});
