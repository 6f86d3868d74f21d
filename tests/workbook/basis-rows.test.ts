import { describe, expect, it } from "vitest";
import type { Basis } from "../../src/reference/basis.ts";
import { allBasisRows } from "../../src/workbook/basis-rows.ts";
import { basisSheets } from "../../src/workbook/basis-sheet.ts";
import { UNIT_NOT_KNOWN } from "../../src/workbook/table-rows.ts";
import { siBasis, usBasis } from "../plan/examples.ts";

type Path = readonly (string | number)[];

/** Every number and text in a value, by the way to it. */
function leaves(value: unknown, path: Path = []): readonly Path[] {
  if (Array.isArray(value)) return value.flatMap((each, i) => leaves(each, [...path, i]));
  if (value !== null && typeof value === "object")
    return Object.entries(value).flatMap(([key, each]) => leaves(each, [...path, key]));
  return [path];
}

/** A copy with the value at the end of the path made another one. */
function withOther(value: unknown, [step, ...rest]: Path): unknown {
  if (step === undefined) return typeof value === "number" ? value * 1.5 + 1 : `${value}§`;
  if (Array.isArray(value)) return value.map((each, i) => (i === step ? withOther(each, rest) : each));
  const record = value as Record<string, unknown>;
  return { ...record, [step]: withOther(record[step], rest) };
}

/** What the sheet need not show: what a table is, and the wording that other sheets print. */
const notShown = (path: Path): boolean => {
  const way = path.join(".");
  return (
    /(^|\.)what$/.test(way) ||
    // Only ever true or absent.
    /^steps\.steps\..*\.(crewMayLeave|noWater)$/.test(way) ||
    /^bidItems\.items\./.test(way) ||
    // The included length and the depths of the program's own units are those that count.
    /^bidItems\.(includedLength|cleanoutDepths)\.si\b/.test(way) ||
    // Units are shown as the program's; the whole sheet changes with them.
    /^assumptions\.\w+\.unit$/.test(way) ||
    way === "treatments.sectional.stockedLengths.unit" ||
    way === "program.units" ||
    // Compiled from the text of the recipe and the rules, which is shown.
    /^(scores|ownColumns|filters|ruleBook)(\.|$)/.test(way)
  );
};

describe("the basis sheet", () => {
  it("shows every value of the basis: change any one and the rows change", () => {
    const shown = (basis: Basis): string => JSON.stringify(allBasisRows(basis));
    const recipe = { ...usBasis.recipe, columns: { age: "1 + 1" }, filters: { old: "risk > 9" } };
    const full = { ...usBasis, recipe };
    const before = shown(full);
    // The fits are worked out from the city's tables: results, not basis, and a hundred thousand of them.
    const given = Object.fromEntries(Object.entries(full).filter(([key]) => key !== "fits"));
    const paths = leaves(given).filter((path) => !notShown(path));
    expect(paths.length).toBeGreaterThan(300);
    const unseen = paths.filter((path) => shown(withOther(full, path) as Basis) === before);
    expect(unseen.map((path) => path.join("."))).toEqual([]);
    // A whole sheet is made for each of some nine hundred values: a busy machine takes more than a minute.
  }, 240_000);

  it("knows the unit of every number", () => {
    const unknown = allBasisRows(usBasis).filter(({ unit }) => unit === UNIT_NOT_KNOWN);
    expect(unknown.map(({ group, what }) => `${group}: ${what}`)).toEqual([]);
  });

  it("shows a table it knows nothing of, with its values as they are stored", () => {
    const later = { ...usBasis, laterTable: { oddNumber: 7, source: { document: "Some handbook" } } };
    expect(allBasisRows(later)).toContainEqual({
      group: "Later table",
      what: "Odd number",
      value: { kind: "number", value: 7, format: "#,##0" },
      unit: UNIT_NOT_KNOWN,
      source: { document: "Some handbook" },
    });
  });

  it("spells mobilization as the bid items do", () => {
    const said = allBasisRows(usBasis).flatMap(({ what }) => (/mobili/i.test(what) ? [what] : []));
    expect(said).toContain("Mobilization days");
    expect(said.filter((what) => /mobilis/i.test(what))).toEqual([]);
  });

  it("gives every value a source and marks the assumptions", () => {
    const rows = allBasisRows(usBasis);
    expect(rows.filter(({ source }) => source.document === "")).toEqual([]);
    const [sheet] = basisSheets(rows, false);
    const marked = [...(sheet?.rows ?? [])].filter((row) => row[4] === "assumption");
    expect(marked.length).toBe(rows.filter(({ source }) => source.document === "Assumption").length);
    expect(marked.length).toBeGreaterThan(20);
  });

  it("shows values in the program's units", () => {
    const inBasis = (basis: Basis, what: string) => {
      const row = allBasisRows(basis).find((each) => each.what === what);
      return [row?.value, row?.unit];
    };
    // 2.4 m / 0.3048 = 7.87401574803 ft; 3.44738 MPa / 0.00689475729 = 500.0000 psi.
    expect(inBasis(usBasis, "Cover over the crown")).toEqual([
      { kind: "number", value: 7.87401574803, format: "#,##0.00" },
      "ft",
    ]);
    expect(inBasis(siBasis, "Cover over the crown")).toEqual([
      { kind: "number", value: 2.4, format: "#,##0.0" },
      "m",
    ]);
    expect(inBasis(usBasis, "Soil modulus")).toMatchObject([{ value: expect.closeTo(500, 3) }, "psi"]);
    expect(inBasis(siBasis, "Soil modulus")).toEqual([
      { kind: "number", value: 3.44738, format: "#,##0.00" },
      "MPa",
    ]);
  });
});
