import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { joinBlocks, planBlocks, sharePlan } from "../../src/season/plan-blocks.ts";
import { type PlannedSheet, planSheet } from "../../src/season/plan-sheet.ts";
import { visitKeys } from "../../src/season/visit-keys.ts";
import { numberAt, numbersOf, pickRows, type Table, textAt } from "../../src/sheet/table.ts";

const sample = new URL("../../sample-programs/quennock-falls", import.meta.url).pathname;
const loaded = await loadProgram(sample);
if (!loaded.ok) throw new Error("the sample does not load");
const { tables, basis, laterals, offers, lines } = loaded.program;

describe("a sheet planned in blocks", () => {
  it("is the same, cell by cell, whoever takes which block and however long the blocks are", () => {
    const whole = {
      everything: planSheet(tables, basis),
      totals: planSheet(tables, basis, () => {}, "totals"),
    };
    const wanted = fc.constantFrom("everything", "totals");
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.boolean(), wanted, (blockRows, turned, of) => {
        const plan = sharePlan(tables.laterals.rows, basis, of, blockRows);
        const blocks = planBlocks(tables, basis, plan);
        // As if one thread had taken the odd blocks and was heard first.
        const heard = turned ? blocks.toSorted((a, b) => (b.block % 2) - (a.block % 2)) : blocks;
        expect(joinBlocks(tables, { plan, blocks: heard })).toEqual(whole[of]);
      }),
      { numRuns: 6 },
    );
  });

  it("for totals holds in the columns it has what a plan of everything holds of the chosen treatments", () => {
    const totals = planSheet(tables, basis, () => {}, "totals");
    const whole = planSheet(tables, basis);
    const chosen = Uint32Array.from(
      Array.from({ length: offers.rows }, (_, at) => at).filter((at) => numberAt(offers, "chosen", at) === 1),
    );
    const everything = { ...whole, offers: pickRows(whole.offers, chosen) };
    for (const key of ["laterals", "offers", "materials", "seconds"] as const) {
      expect(totals[key].rows).toBe(everything[key].rows);
      expect(totals[key].columns.size).toBeGreaterThan(1);
      for (const [name, column] of totals[key].columns)
        expect(column, `${key}: ${name}`).toEqual(everything[key].columns.get(name));
    }
    expect(totals.laterals.columns.size).toBeLessThan(whole.laterals.columns.size);
  });

  it("for totals has the lines of everything, summed by district and by whether all of a lateral's items are priced", () => {
    // Without a price of open cut some laterals have no cost, and of their lines some an extension and some none.
    const prices = Object.fromEntries(
      Object.entries(basis.prices).filter(([key]) => !key.startsWith("open-cut")),
    );
    const unpriced = { ...basis, prices };
    const of = (wanted: "everything" | "totals") => planSheet(tables, unpriced, () => {}, wanted);
    const sums = (sheet: PlannedSheet) => {
      const found = new Map<string, { hundredths: number; extension: number; first: number }>();
      for (let at = 0; at < sheet.lines.rows; at++) {
        const row = numberAt(sheet.lines, "lateral_row", at);
        const priced = Number.isNaN(numberAt(sheet.laterals, "cost", row)) ? "not priced" : "priced";
        const key = [textAt(sheet.laterals, "district", row), textAt(sheet.lines, "line", at), priced].join(
          ", ",
        );
        const sum = found.get(key) ?? { hundredths: 0, extension: 0, first: row };
        sum.hundredths += numberAt(sheet.lines, "hundredths", at);
        sum.extension += numberAt(sheet.lines, "extension", at);
        found.set(key, sum);
      }
      return [...found];
    };
    const [totals, everything] = [of("totals"), of("everything")];
    expect(sums(totals)).toEqual(sums(everything));
    expect(totals.lines.rows).toBe(sums(totals).length);
    expect(new Set(sums(totals).map(([key]) => key.split(", ").at(-1)))).toEqual(
      new Set(["priced", "not priced"]),
    );
  });

  it("for totals refuses whoever asks for a column it does not have", () => {
    const { laterals, materials, uses } = planSheet(tables, basis, () => {}, "totals");
    expect(() => numberAt(laterals, "pull", 0)).toThrow("pull");
    expect(() => numbersOf(materials, visitKeys("lining").handsOn)).toThrow("hands_on_minutes:lining");
    expect(() => numbersOf(uses, "amount")).toThrow("amount");
  });
});

describe("what the sheet keeps of a lateral", () => {
  it("is what its full record says, every part of every offer asked for in any order", () => {
    for (let row = 0; row < tables.laterals.rows; row++) {
      const planned = planLateral(lateralAt(tables, row), basis);
      // The full record, last things first: what is worked out when asked must not depend on what was asked before.
      for (const offer of planned.offers.toReversed()) {
        for (const part of ["after", "life", "split", "crewTime", "permission", "cost", "works"] as const)
          expect(offer[part]).toBeDefined();
      }
      for (const verdict of planned.verdicts.all.toReversed())
        expect(verdict.reasons.length).toBeGreaterThan(0);
      const { chosen, choice, risk } = planned;
      expect(textAt(laterals, "treatment", row)).toBe(choice.treatment);
      expect(numberAt(laterals, "risk", row)).toBe(risk.score ?? Number.NaN);
      expect(numberAt(laterals, "cost", row)).toBe(chosen.cost.total ?? Number.NaN);
      expect(numberAt(laterals, "wall", row)).toBe(chosen.wall?.specified.stocked ?? Number.NaN);
      expect(numberAt(laterals, "crew_minutes", row)).toBe(
        chosen.works.length === 0 ? 0 : chosen.crewTime.visits.reduce((sum, { whole }) => sum + whole, 0),
      );
    }
    const total = (table: Table, key: string) =>
      Array.from({ length: table.rows }, (_, at) => numberAt(table, key, at)).reduce(
        (sum, each) => (Number.isNaN(each) ? sum : sum + each),
        0,
      );
    expect(total(lines, "extension")).toBe(
      Array.from({ length: tables.laterals.rows }, (_, row) =>
        planLateral(lateralAt(tables, row), basis).chosen.cost.lines.reduce(
          (sum, { extension }) => sum + (extension ?? 0),
          0,
        ),
      ).reduce((sum, each) => sum + each, 0),
    );
  });
});
