import { all as allOfFull, create as createFull } from "mathjs";
import { all, create } from "mathjs/number";
import type { Column } from "../../src/columns/column.ts";
import { readFormula } from "../../src/formula/formula.ts";
import type { ColumnValues } from "../../src/formula/read-values.ts";
import { day } from "../../src/quantity/si.ts";

/** One measured expression: nanoseconds a row, best of several runs over the same million rows. */
export interface Row {
  readonly expression: string;
  readonly columnForm: number;
  readonly handWritten: number;
  readonly recordForm: number;
  /** The evaluator of mathjs, parsed and compiled once, in its fastest use: number build, a plain object as scope; over fewer rows. */
  readonly mathjs: number;
  /** The same with a Map as scope. */
  readonly mathjsMap: number;
  /** The whole library, which also knows units and matrices, with a plain object: what most people import. */
  readonly mathjsFull: number;
  /** Rows on which the column form and the hand-written loop differ: must be 0. */
  readonly differences: number;
}

const ROWS = 1_000_000;
const INTERPRETED_ROWS = 50_000;
const names = ["cond", "age", "len", "diam", "root", "infil", "depth"] as const;
type Values = Readonly<Record<(typeof names)[number], Float64Array>>;

const near = (a: number, b: number) =>
  a === b || Math.abs(a - b) <= Math.max(1e-12 * Math.max(Math.abs(a), Math.abs(b)), 1e-15);

/** Each expression beside what a programmer would write for it, missing values going through as NaN. */
const cases: readonly {
  readonly text: string;
  readonly byHand: (v: Values, out: Float64Array) => void;
}[] = [
  {
    text: "0.35*cond/5 + 0.25*root/100 + 0.2*min(len/100, 1) + 0.2*infil/900",
    byHand: ({ cond, root, len, infil }, out) => {
      for (let i = 0; i < out.length; i++)
        out[i] =
          (0.35 * cond[i]!) / 5 +
          (0.25 * root[i]!) / 100 +
          0.2 * Math.min(len[i]! / 100, 1) +
          (0.2 * infil[i]!) / 900;
    },
  },
  {
    text: "1 - exp(-(age/75)^2.4) * (1 - 0.1*(cond-1)/4) + log(len+1)/10",
    byHand: ({ age, cond, len }, out) => {
      for (let i = 0; i < out.length; i++)
        out[i] =
          1 -
          Math.exp(-((age[i]! / 75) ** 2.4)) * (1 - (0.1 * (cond[i]! - 1)) / 4) +
          Math.log(len[i]! + 1) / 10;
    },
  },
  {
    text: "cond >= 4 and age > 50 ? len*(120 + 8*depth^1.2)*(diam > 6 ? 1.15 : 1) + max(0, infil - 300)*2 : (root > 60 or infil > 700 ? 0.5*len*110 : 0)",
    byHand: ({ cond, age, len, depth, diam, infil, root }, out) => {
      for (let i = 0; i < out.length; i++) {
        if (cond[i]! >= 4 && age[i]! > 50 && !near(age[i]!, 50))
          out[i] =
            len[i]! * (120 + 8 * depth[i]! ** 1.2) * (diam[i]! > 6 && !near(diam[i]!, 6) ? 1.15 : 1) +
            Math.max(0, infil[i]! - 300) * 2;
        else if ((root[i]! > 60 && !near(root[i]!, 60)) || (infil[i]! > 700 && !near(infil[i]!, 700)))
          out[i] = 0.5 * len[i]! * 110;
        else out[i] = Number.isNaN(root[i]!) ? Number.NaN : 0;
      }
    },
  },
  {
    text: "cond >= 4 and diam <= 6",
    byHand: ({ cond, diam }, out) => {
      for (let i = 0; i < out.length; i++) out[i] = cond[i]! >= 4 && diam[i]! <= 6 ? 1 : 0;
    },
  },
];

export function benchFormula(): Row[] {
  const values = madeUpValues();
  const table = new Map<string, ColumnValues>(
    names.map((name) => [name, { kind: "number", values: values[name] }]),
  );
  const columns: readonly Column[] = names.map((key) => ({
    key,
    heading: key,
    measure: "factor",
    stage: "given",
    help: "",
  }));
  const mathjs = create(all!);
  const full = createFull(allOfFull!);
  return cases.map(({ text, byHand }) => {
    const read = readFormula(text, { columns, stage: "sheet", asOf: day(20_000), currency: "USD" }, null);
    if (!read.ok) throw new Error(`benchFormula: ${text}: ${read.problem.found}`);
    const { formula } = read;
    const out = new Float64Array(ROWS);
    const expected = new Float64Array(ROWS);
    const columnForm = best(ROWS, () => formula.fill(table, out, 0, ROWS));
    const handWritten = best(ROWS, () => byHand(values, expected));
    const differences = out.reduce((n, value, i) => n + (Object.is(value, expected[i]!) ? 0 : 1), 0);

    let row = 0;
    const lookup = (key: string) => values[key as keyof Values][row]!;
    const recordForm = best(INTERPRETED_ROWS, () => {
      for (row = 0; row < INTERPRETED_ROWS; row++) out[row] = formula.evaluate(lookup);
    });
    const scope: Record<string, number> = {};
    const map = new Map<string, number>();
    const interpreted = (compiled: { evaluate(scope: object): unknown }, useMap: boolean) =>
      best(
        INTERPRETED_ROWS,
        () => {
          for (let i = 0; i < INTERPRETED_ROWS; i++) {
            if (useMap) for (const name of names) map.set(name, values[name][i]!);
            else for (const name of names) scope[name] = values[name][i]!;
            out[i] = Number(compiled.evaluate(useMap ? map : scope));
          }
        },
        3,
      );
    return {
      expression: text,
      columnForm,
      handWritten,
      recordForm,
      mathjs: interpreted(mathjs.compile(text), false),
      mathjsMap: interpreted(mathjs.compile(text), true),
      mathjsFull: interpreted(full.compile(text), false),
      differences,
    };
  });
}

function best(rows: number, run: () => void, times = 7): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    run();
    least = Math.min(least, performance.now() - start);
  }
  return (least * 1e6) / rows;
}

/** The same rows every time, from a linear congruential generator; one root value in twenty is missing. */
function madeUpValues(): Values {
  const values = Object.fromEntries(names.map((name) => [name, new Float64Array(ROWS)])) as Record<
    (typeof names)[number],
    Float64Array
  >;
  let state = 7;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (let i = 0; i < ROWS; i++) {
    values.age[i] = next() * 110;
    values.len[i] = 20 + next() * 100;
    values.diam[i] = 4 + 2 * Math.floor(next() * 3);
    values.cond[i] = 1 + Math.floor(next() * 5);
    values.root[i] = next() < 0.05 ? Number.NaN : next() * 100;
    values.infil[i] = next() * 900;
    values.depth[i] = 3 + next() * 14;
  }
  return values;
}
