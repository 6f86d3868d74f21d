import { describe, expect, it } from "vitest";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { readSettingsText } from "../../src/program/settings.ts";
import { describeProblem } from "../../src/quantity/problem.ts";
import { houseUncertainty } from "../../src/reference/uncertainty.ts";
import { bytesOf, smallSettings } from "./sample-settings.ts";

const reading = (uncertainty: unknown) =>
  readSettingsText(bytesOf(JSON.stringify({ ...smallSettings, criteria: { uncertainty } }, null, 2)));
const tableWith = (uncertainty: unknown) => {
  const read = reading(uncertainty);
  if (!read.ok) throw new Error(read.problems.map(describeProblem).join("\n"));
  return basisForSettings(read.settings).uncertainty;
};
const saidOf = (uncertainty: unknown) => {
  const read = reading(uncertainty);
  return read.ok ? [] : read.problems.map(({ column, expected }) => `${column}: ${expected}`);
};

describe("criteria.uncertainty of program.json", () => {
  it("changes what it names, says so in the source of that group, and leaves the rest", () => {
    const table = tableWith({
      shape: "triangular",
      draws: 500,
      time: { productivity: { least: 0.9, best: 1, most: 1.2 } },
      price: { of_class: { least: 1, best: 1, most: 1 } },
      contingency_level: "90 %",
    });
    expect(table.shape).toBe("triangular");
    expect(table.time.productivity).toEqual({ least: 0.9, best: 1, most: 1.2 });
    expect(table.time.own).toEqual(houseUncertainty.time.own);
    expect(table.price.ofClass).toEqual({ least: 1, best: 1, most: 1 });
    expect(table.contingencyLevel).toBeCloseTo(0.9, 12);
    expect(table.time.source).toMatchObject({ document: "program.json", at: "criteria.uncertainty.time" });
    expect(table.price.source.document).toBe("program.json");
    expect(table.weather.source).toEqual(houseUncertainty.weather.source);
    expect(tableWith({})).toMatchObject({ shape: "beta-PERT", draws: houseUncertainty.draws });
  });

  it("takes classes of prices whole, and one change on opening at a time", () => {
    const table = tableWith({
      price: { classes: { lining: ["full-length liner"], digging: ["open-cut replacement"] } },
      changes: {
        on: {
          "full-length liner": {
            to: "open-cut replacement",
            chance: "2 %",
            found_grade: 5,
            prices: "digging",
            by_length: true,
          },
        },
      },
    });
    expect(table.price.classes).toEqual({
      lining: ["full-length liner"],
      digging: ["open-cut replacement"],
    });
    expect(table.changes.on["full-length liner"]).toEqual({
      to: "open-cut replacement",
      chance: 0.02,
      foundGrade: 5,
      prices: "digging",
      byLength: true,
    });
    expect(table.changes.on["sectional liner"]).toEqual(houseUncertainty.changes.on["sectional liner"]);
  });

  it("is refused where it cannot be: words nobody knows, factors out of order, a class that is not there", () => {
    expect(saidOf({ spreads: 1 })).not.toEqual([]);
    expect(saidOf({ shape: "normal" })[0]).toContain('"beta-PERT"');
    expect(saidOf({ time: { own: { least: 1.2, best: 1, most: 2 } } })[0]).toContain("factors in order");
    expect(saidOf({ draws: 10 })[0]).toContain("criteria.uncertainty.draws");
    expect(saidOf({ price: { classes: { digging: ["new cleanout"] } } })[0]).toContain(
      "one of the classes of prices: digging",
    );
  });
});
