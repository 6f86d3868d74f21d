import fc from "fast-check";
import { expect, it } from "vitest";
import { surfaces } from "../../src/columns/lateral-columns.ts";
import type { ColumnValues } from "../../src/formula/read-values.ts";
import {
  type Amount,
  type Answer,
  answer,
  answerColumn,
  arithmetic,
  call,
  choice,
  comparison,
  extreme,
  ifMissing,
  known,
  lengthOf,
  logic,
  type Meaning,
  not,
  numberColumn,
  type OracleRow,
  plain,
  squared,
  textIs,
  textKnown,
} from "../oracle/formula-meaning.ts";
import { formulaOf } from "./sheet-vocabulary.ts";

const sign = fc.constantFrom("==", "!=", "<", "<=", ">", ">=");
const number = fc.oneof(
  fc.integer({ min: 0, max: 9 }),
  fc.double({ min: 0.001, max: 1000, noNaN: true }).map((value) => Number(value.toPrecision(6))),
);
const unit = fc.constantFrom("m", "mm", "cm", "ft", "in");
const places = ["North", "South", "Ürün"];

/** Any expression of the language over plain numbers, lengths and yes/no, with what it means. */
const { plainNumber, length, yesNo } = fc.letrec<{
  plainNumber: Meaning<Amount>;
  length: Meaning<Amount>;
  yesNo: Meaning<Answer>;
}>((tie) => ({
  plainNumber: fc.oneof(
    { maxDepth: 5, depthSize: "small" },
    fc.oneof(
      number.map(plain),
      fc.constantFrom("risk", "install_year", "structural_grade").map(numberColumn),
    ),
    fc
      .tuple(fc.constantFrom("+", "-", "*", "/"), tie("plainNumber"), tie("plainNumber"))
      .map((all) => arithmetic(...all)),
    fc.tuple(tie("length"), tie("length")).map(([a, b]) => arithmetic("/", a, b)),
    fc.tuple(tie("yesNo"), tie("plainNumber"), tie("plainNumber")).map((all) => choice(...all)),
    fc.tuple(tie("plainNumber"), tie("plainNumber")).map((all) => ifMissing(...all)),
    fc.tuple(fc.constantFrom("abs", "exp", "log", "sqrt"), tie("plainNumber")).map((all) => call(...all)),
    fc
      .tuple(fc.constantFrom("min", "max"), fc.array(tie("plainNumber"), { minLength: 1, maxLength: 3 }))
      .map((all) => extreme(...all)),
    tie("plainNumber").map(squared),
  ),
  length: fc.oneof(
    { maxDepth: 5, depthSize: "small" },
    fc.oneof(
      fc.tuple(number, unit).map((all) => lengthOf(...all)),
      fc.constantFrom("host_length", "host_diameter", "cover_main").map(numberColumn),
    ),
    fc.tuple(fc.constantFrom("+", "-"), tie("length"), tie("length")).map((all) => arithmetic(...all)),
    fc.tuple(fc.constantFrom("*", "/"), tie("length"), tie("plainNumber")).map((all) => arithmetic(...all)),
    fc.tuple(tie("yesNo"), tie("length"), tie("length")).map((all) => choice(...all)),
    fc.tuple(tie("length"), tie("length")).map(([a, b]) => call("sqrt", arithmetic("*", a, b))),
    fc
      .tuple(fc.constantFrom("min", "max"), fc.array(tie("length"), { minLength: 1, maxLength: 3 }))
      .map((all) => extreme(...all)),
  ),
  yesNo: fc.oneof(
    { maxDepth: 5, depthSize: "small" },
    fc.oneof(
      fc.constantFrom("cleanout", "reinspect").map(answerColumn),
      fc.boolean().map(answer),
      fc
        .tuple(fc.constant("surface"), fc.constantFrom("==", "!="), fc.constantFrom(...surfaces))
        .map((all) => textIs(...all)),
      fc
        .tuple(fc.constant("district"), fc.constantFrom("==", "!="), fc.constantFrom(...places, "Nowhere"))
        .map((all) => textIs(...all)),
      fc.constantFrom("surface", "district").map(textKnown),
    ),
    fc.tuple(sign, tie("plainNumber"), tie("plainNumber")).map((all) => comparison(...all)),
    fc.tuple(sign, tie("length"), tie("length")).map((all) => comparison(...all)),
    fc.tuple(fc.constantFrom("and", "or"), tie("yesNo"), tie("yesNo")).map((all) => logic(...all)),
    tie("yesNo").map(not),
    fc.tuple(tie("yesNo"), tie("yesNo"), tie("yesNo")).map((all) => choice(...all)),
    fc.oneof(tie("plainNumber"), tie("length"), tie("yesNo")).map(known),
  ),
}));

const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { freq: 3 });
const rowOf = fc.record({
  numbers: fc.record({
    risk: maybe(fc.integer({ min: 1, max: 25 })),
    install_year: maybe(fc.integer({ min: 1900, max: 2025 })),
    structural_grade: maybe(fc.integer({ min: 0, max: 5 })),
    host_length: maybe(fc.double({ min: 0.5, max: 60, noNaN: true })),
    // Metres here, millimetres in the sheet; binary fractions, so the conversion between them is exact enough.
    host_diameter: maybe(fc.constantFrom(0.0762, 0.1016, 0.1524, 0.2032, 0.15)),
    cover_main: maybe(fc.integer({ min: 1, max: 8 })),
  }),
  answers: fc.record({ cleanout: maybe(fc.boolean()), reinspect: maybe(fc.boolean()) }),
  texts: fc.record({
    surface: maybe(fc.constantFrom(...surfaces)),
    district: maybe(fc.constantFrom(...places)),
  }),
});

/** The value a sheet would store: millimetres for a diameter, 1 and 0 for yes and no, NaN and "" for missing. */
function stored(row: OracleRow, key: string): number | string {
  if (key in row.texts) return row.texts[key] ?? "";
  if (key in row.answers) return coded(row.answers[key] ?? null);
  const value = row.numbers[key];
  if (value === undefined) throw new Error(`no ${key} in the row`);
  return value === null ? Number.NaN : key === "host_diameter" ? value * 1000 : value;
}
const coded = (value: Answer | Amount) =>
  value === null ? Number.NaN : typeof value === "boolean" ? (value ? 1 : 0) : value;

function tableOf(rows: readonly OracleRow[]): ReadonlyMap<string, ColumnValues> {
  const numbers = [
    "risk",
    "install_year",
    "structural_grade",
    "host_length",
    "host_diameter",
    "cover_main",
    "cleanout",
    "reinspect",
  ];
  const table = new Map<string, ColumnValues>();
  for (const key of numbers) {
    const values = Float64Array.from(rows, (row) => Number(stored(row, key)));
    table.set(key, { kind: "number", values });
  }
  // One text column by code and one by bytes, the two ways in which the sheet keeps text.
  const words = ["", ...surfaces];
  table.set("surface", {
    kind: "code",
    words,
    codes: Uint32Array.from(rows, (row) => words.indexOf(String(stored(row, "surface")))),
  });
  const texts = rows.map((row) => new TextEncoder().encode(String(stored(row, "district"))));
  const ends = new Uint32Array(rows.length + 1);
  for (const [i, text] of texts.entries()) ends[i + 1] = (ends[i] ?? 0) + text.length;
  table.set("district", { kind: "text", bytes: Uint8Array.from(texts.flatMap((text) => [...text])), ends });
  return table;
}

const meaning = fc.oneof(
  plainNumber.map((of) => ({ of, measure: "factor" as const })),
  length.map((of) => ({ of, measure: "length" as const })),
  yesNo.map((of) => ({ of, measure: "flag" as const })),
);

it("the column form and the record form give the same bits, row by row, for any formula", () => {
  fc.assert(
    fc.property(meaning, fc.array(rowOf, { minLength: 1, maxLength: 12 }), ({ of, measure }, rows) => {
      const formula = formulaOf(of.text, measure);
      const out = new Float64Array(rows.length + 2).fill(-77);
      formula.fill(tableOf(rows), out, 0, rows.length);
      const records = rows.map((row) => formula.evaluate((key) => stored(row, key)));
      expect([...out.subarray(0, rows.length)]).toEqual(records);
      expect([...out.subarray(rows.length)]).toEqual([-77, -77]);
    }),
    { numRuns: 8000 },
  );
});

it("a part of the rows is filled as the whole is, and the other rows are left alone", () => {
  fc.assert(
    fc.property(
      meaning,
      fc.array(rowOf, { minLength: 4, maxLength: 8 }),
      fc.nat(3),
      ({ of, measure }, rows, from) => {
        const formula = formulaOf(of.text, measure);
        const table = tableOf(rows);
        const whole = new Float64Array(rows.length);
        formula.fill(table, whole, 0, rows.length);
        const part = new Float64Array(rows.length).fill(-77);
        formula.fill(table, part, from, rows.length - 1);
        expect(part.subarray(from, rows.length - 1)).toEqual(whole.subarray(from, rows.length - 1));
        expect([...part.subarray(0, from), part.at(-1)]).toEqual(Array(from + 1).fill(-77));
      },
    ),
    { numRuns: 100 },
  );
});

it("both mean what the oracle says, with missing values and unknown answers", () => {
  let missing = 0;
  let present = 0;
  fc.assert(
    fc.property(meaning, fc.array(rowOf, { minLength: 4, maxLength: 4 }), ({ of, measure }, rows) => {
      const formula = formulaOf(of.text, measure);
      for (const row of rows) {
        const found = formula.evaluate((key) => stored(row, key));
        const expected = coded(of.of(row));
        if (Number.isNaN(expected)) missing += 1;
        else present += 1;
        // The oracle keeps diameters in metres and the sheet in millimetres: the last bits may differ, and sums of
        // nearly equal lengths lose some more. A mistake in a unit or a table is larger by far.
        const close =
          Object.is(found, expected) ||
          found === expected ||
          Math.abs(found - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
        if (!close) expect({ text: of.text, row, found }).toEqual({ text: of.text, row, found: expected });
      }
    }),
    { numRuns: 30000 },
  );
  // Neither half of the claim is empty.
  expect(missing).toBeGreaterThan(500);
  expect(present).toBeGreaterThan(500);
});
