import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import { EXIT } from "../../src/commands/command-io.ts";
import { at, numberAt, runSize, sizeJson, whole } from "./size-run.ts";

describe("the sheet", () => {
  it("fits two pages of 82 lines at 100 columns with everything on it", () => {
    const { out, code } = runSize(whole);
    const lines = out.trimEnd().split("\n");
    expect(code).toBe(EXIT.done);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(lines.length).toBeLessThanOrEqual(164);
    expect(lines.every((line) => line === line.trimEnd())).toBe(true);
  });

  it("has every part asked for", () => {
    const { out } = runSize(whole);
    const headings = out.split("\n").filter((line) => /^\S/.test(line));
    expect(headings.map((line) => line.split(/[:,]/)[0])).toEqual([
      "Calculation sheet",
      "Inputs",
      "Effluent",
      "Loads",
      "Checks",
      "Wall",
      "Second opinion",
      "Resin",
      "Cure",
      "Placing forces",
      "Flow before and after",
      "Cautions",
      "Sources",
    ]);
  });

  it("names each source once, by a number that is cited", () => {
    const [body = "", sources = ""] = runSize(whole).out.split("\nSources\n");
    const cited = new Set([...body.matchAll(/\[(\d+)\]/g)].map(([, n]) => Number(n)));
    // A line may end after a number.
    const listed = [...sources.matchAll(/\[(\d+)\]\s/g)].map(([, n]) => Number(n));
    expect(listed).toEqual(Array.from(listed, (_, i) => i + 1));
    expect([...cited].sort((a, b) => a - b)).toEqual(listed);
    // In the order of their first mention.
    expect([...cited]).toEqual(listed);
  });

  it("has both parts of a connection liner, and the joint", () => {
    const options = { host: "4 in", use: "connection", main: "8 in", length: "42 ft" };
    const { out } = runSize(options);
    expect(out).toContain("Checks, part in the lateral");
    expect(out).toContain("Checks, part in the main");
    expect(out).toContain("\nConnection\n");
    const json = sizeJson(options);
    expect(numberAt(json, "rings", 1, "inside_diameter_mm")).toBeCloseTo(203.2, 9);
    expect(numberAt(json, "connection", "main_sheet_m2")).toBeGreaterThan(0.4);
  });

  it("has both parts of a one-piece liner: the whole host, the main at its own cover, and the length cut", () => {
    const pipe = { host: "4 in", main: "8 in", length: "40 ft", water: "4 ft", surface: "yard" };
    const json = sizeJson({ ...pipe, use: "one-piece", coverHouse: "12 ft", coverMain: "8 ft" });
    // The hand values of tests/plan/one-piece.test.ts: 0.09463 in under 12 ft at the house, 0.1575 in in the main under 8 ft.
    expect(numberAt(json, "rings", 0, "wall", "calculated_mm") / 25.4).toBeCloseTo(0.09463, 4);
    expect(numberAt(json, "rings", 1, "wall", "calculated_mm") / 25.4).toBeCloseTo(0.1575, 4);
    expect(numberAt(json, "rings", 1, "worst_cover_m")).toBeCloseTo(8 * 0.3048, 9);
    expect(numberAt(json, "connection", "lateral_sheet_m2")).toBeCloseTo(3.893647, 5);
    expect(numberAt(json, "resin", "cut_length_m")).toBeCloseTo(12.192 + 1.2, 9);
    expect(numberAt(json, "resin", "wall_L")).toBeCloseTo(20.49538, 4);
    expect(at(json, "resin", "end_seals")).toBe(3);
    const refused = runSize({ ...pipe, use: "one-piece", mainPart: "brim" });
    expect(refused.out).toContain("a brim is asked for in the main");
    expect(refused.out).not.toContain("Wall, part in the main");
  });

  it("says the worst cover along a slope and where it is", () => {
    const { out } = runSize({ host: "6 in", coverHouse: "2.5 ft", coverMain: "9 ft" });
    expect(out).toMatch(/Loads, under 2\.5 ft of cover, the worst along the pipe: 0\.0 % of the way/);
  });

  it("cautions where K is over what Glock implies", () => {
    // 4 in with 4.5 mm is DR 22.6: ½·21.6^0.8 = 5.84, under K = 7.
    expect(runSize({ host: "4 in" }).out).toContain("CAUTION: K = 7 is over the 5.8 that Glock implies");
    // 8 in with 4.5 mm is DR 45.2: ½·44.2^0.8 = 10.4.
    expect(runSize({ host: "8 in", water: "6 ft" }).out).not.toContain("CAUTION: K");
  });

  it("has no day and is the same twice", () => {
    expect(runSize(whole).out).toBe(runSize(whole).out);
    expect(runSize(whole).out).not.toMatch(/20\d\d-\d\d-\d\d/);
  });
});

describe("a wall that may not be given", () => {
  it.each([
    ["without a long-term modulus", { system: "glass, epoxy" }, "no long-term modulus"],
    ["over the resin's rating", { effluentTemperature: "150 °F" }, "no long-term modulus"],
    ["in acid that its resin does not stand", { effluent: "acid" }, "effluent refused"],
    ["under a railway whose load nobody states", { surface: "railway" }, "rail load left to an engineer"],
    ["at more than 10 % ovality", { ovality: "12 %" }, "wall design refused"],
    ["without cover", { cover: "0 ft" }, "wall design refused"],
    ["of no diameter", { host: "0 in" }, "wall design refused"],
  ] as const)("%s is refused with the reason, and the exit code says so", (_, options, code) => {
    const run = runSize({ host: "4 in", ...options });
    expect(run.code).toBe(EXIT.notDone);
    expect(run.out).toContain("No wall, because");
    const json = sizeJson({ host: "4 in", ...options });
    expect(at(json, "state")).toBe("refused");
    expect(at(json, "rings")).toEqual([]);
    expect((at(json, "against") as { code: string }[]).map((reason) => reason.code)).toContain(code);
  });

  it("is given once the owner's creep tests are, at their temperature", () => {
    const hot = { host: "4 in", effluentTemperature: "50 °C", measuredAt: "55 °C" };
    const json = sizeJson({ ...hot, longTermModulus: "500 MPa", longTermStrength: "10 MPa" });
    expect(numberAt(json, "rings", 0, "material", "long_term_modulus_MPa")).toBe(500);
  });
});

const root = new URL("../..", import.meta.url).pathname;

describe("what a run loads", () => {
  it("is zod and nothing heavier", () => {
    const seen = new Set<string>();
    const packages = new Set<string>();
    const visit = (file: string) => {
      if (seen.has(file)) return;
      seen.add(file);
      const text = readFileSync(file, "utf8");
      for (const [, clause, from] of text.matchAll(/^import\s+(type\s+)?[^"';]*?from\s*"([^"]+)"/gm)) {
        if (clause !== undefined || from === undefined || from.endsWith(".json")) continue;
        if (from.startsWith(".")) visit(join(file, "..", from));
        else if (!from.startsWith("node:")) packages.add(from);
      }
    };
    visit(join(root, "src/commands/size.ts"));
    expect([...packages]).toEqual(["zod"]);
    expect(seen.size).toBeGreaterThan(40);
    expect(
      [...seen]
        .map((file) => relative(root, file))
        .filter((file) => /^src\/(screen|workbook|season)\//.test(file)),
    ).toEqual([]);
  });
});
