import { describe, expect, it } from "vitest";
import { districtKey } from "../../src/intake/districts.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { column, laterals } from "./sample-files.ts";

const rowsIn = (...labels: string[]) => labels.map((label, i) => `L${i},${label},,,,,,`);

describe("districts", () => {
  it("have one key for spellings that differ in case, spaces and punctuation", () => {
    for (const label of ["LS-14", "LS14", "L.S. 14", "ls 14", "(LS14)"])
      expect(districtKey(label)).toBe("ls14");
  });

  it("have two keys when a mark between digits tells them apart", () => {
    expect(districtKey("1-14")).toBe(districtKey("1 / 14"));
    expect(districtKey("1-14")).not.toBe(districtKey("11-4"));
    expect(districtKey("1-14")).not.toBe(districtKey("114"));
  });

  it("go under their most frequent spelling, and it is said", async () => {
    const { table, problems } = await laterals(rowsIn("LS14", "LS-14", "L.S. 14", "LS14", "Oak"));
    expect(column(table, "district")).toEqual(["LS14", "LS14", "LS14", "LS14", "Oak"]);
    expect(problems.map(describeProblem)).toEqual([
      'laterals.csv, column "BASIN": found "L.S. 14 (1), LS-14 (1)", expected one spelling of a district. Taken as "LS14". If that is right, say so in program.json: "district_aliases": { "LS14": ["L.S. 14","LS-14"] }.',
    ]);
  });

  it("of equally frequent spellings take the same one in any order of rows", async () => {
    for (const labels of [
      ["LS-14", "LS14"],
      ["LS14", "LS-14"],
    ])
      expect(column((await laterals(rowsIn(...labels))).table, "district")).toEqual(["LS-14", "LS-14"]);
  });

  it("follow the alias table, in any spelling of an alias", async () => {
    const { table, problems } = await laterals(
      rowsIn("ls 14", "Station 14", "LS-14"),
      {},
      { districts: { "Lift station 14": ["LS-14", "Station-14"] } },
    );
    expect(column(table, "district")).toEqual(Array(3).fill("Lift station 14"));
    expect(problems).toEqual([]);
  });

  it("that the alias table does not have are kept and said", async () => {
    const { table, problems } = await laterals(rowsIn("North", "Elm"), {}, { districts: { North: [] } });
    expect(column(table, "district")).toEqual(["North", "Elm"]);
    expect(problems.map(({ found, expected }) => [found, expected])).toEqual([
      ["Elm", "a district of the program's alias table"],
    ]);
  });

  it("written NA or UNKNOWN are missing, unless the city has a district of that name", async () => {
    expect(column((await laterals(rowsIn("NA", "UNKNOWN", "<Null>"))).table, "district")).toEqual([
      "",
      "",
      "",
    ]);
    expect(column((await laterals(rowsIn("NA"), {}, { districts: { NA: [] } })).table, "district")).toEqual([
      "NA",
    ]);
  });

  it("of two names sharing an alias are a problem of the settings", async () => {
    const { table, problems } = await laterals(
      rowsIn("LS-14"),
      {},
      { districts: { A: ["LS14"], B: ["LS 14"] } },
    );
    expect(column(table, "district")).toEqual(["A"]);
    expect(problems[0]).toMatchObject({ severity: "rejected", found: "LS 14" });
  });
});
