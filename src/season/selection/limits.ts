import { bringsOf } from "./arrivals.ts";
import { lateralsOf, type SelectionProblem } from "./selection-problem.ts";

/** A rule of the season that binds laterals to each other. */
export type Rule =
  | { readonly kind: "money" }
  | { readonly kind: "crew"; readonly crew: number }
  | { readonly kind: "district laterals"; readonly district: number }
  | { readonly kind: "district money"; readonly district: number }
  | { readonly kind: "needs"; readonly lateral: number; readonly needed: number };

/**
 * The rules as rows lower ≤ Σ value·x ≤ upper over the offers, by offer. The money row also has each district's mobilisation. Values
 * are exact (cents, minutes, laterals); `scale` is the largest of a row, for solvers.
 */
export interface Limits {
  readonly rules: readonly Rule[];
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly scale: Float64Array;
  /** Entries of offer j are `starts[j]` … `starts[j + 1]` − 1. */
  readonly starts: Uint32Array;
  readonly rows: Uint32Array;
  readonly values: Float64Array;
  /** The row of each crew type, −1 where nobody limits it. */
  readonly crewRows: readonly number[];
  /** Kinds of crew each offer brings, as bits: see arrivals. */
  readonly brings: Uint8Array;
}

/** The row of the money: always the first. */
export const MONEY_ROW = 0;

export function limitsOf(problem: SelectionProblem): Limits {
  const rules: Rule[] = [{ kind: "money" }];
  const lower = [Number.NEGATIVE_INFINITY];
  const upper = [problem.money];
  const add = (rule: Rule, least: number, most: number): number => {
    rules.push(rule);
    lower.push(least > 0 ? least : Number.NEGATIVE_INFINITY);
    upper.push(most);
    return rules.length - 1;
  };
  const crewRows = problem.crewMinutes.map((most, crew) =>
    most < Infinity ? add({ kind: "crew", crew }, 0, most) : -1,
  );
  const isLimited = (least: number, most: number) => least > 0 || most < Infinity;
  const lateralRows: number[] = [];
  const moneyRows: number[] = [];
  for (let district = 0; district < problem.districts; district++) {
    const { least, most } = problem;
    const count = [least.laterals[district]!, most.laterals[district]!] as const;
    const money = [least.money[district]!, most.money[district]!] as const;
    lateralRows.push(isLimited(...count) ? add({ kind: "district laterals", district }, ...count) : -1);
    moneyRows.push(isLimited(...money) ? add({ kind: "district money", district }, ...money) : -1);
  }
  const needRows = new Map<number, (readonly [row: number, value: number])[]>();
  for (const [lateral, needed] of problem.needs) {
    const row = add({ kind: "needs", lateral, needed }, 0, 0);
    for (const [l, value] of [
      [lateral, 1],
      [needed, -1],
    ] as const)
      needRows.set(l, [...(needRows.get(l) ?? []), [row, value]]);
  }
  return {
    rules,
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    crewRows,
    brings: bringsOf(problem.arrivals ?? [], problem.worth.length),
    ...entriesOf(problem, { crewRows, lateralRows, moneyRows, needRows }, rules.length),
  };
}

interface RowPlaces {
  readonly crewRows: readonly number[];
  readonly lateralRows: readonly number[];
  readonly moneyRows: readonly number[];
  readonly needRows: ReadonlyMap<number, readonly (readonly [row: number, value: number])[]>;
}

function entriesOf(problem: SelectionProblem, places: RowPlaces, rows: number) {
  const offers = problem.worth.length;
  const starts = new Uint32Array(offers + 1);
  const most = offers * (3 + problem.minutes.length) + countNeeds(problem, places);
  const into = { rows: new Uint32Array(most), values: new Float64Array(most) };
  const scale = new Float64Array(rows).fill(0);
  let end = 0;
  const push = (row: number, value: number) => {
    if (row < 0 || value === 0) return;
    into.rows[end] = row;
    into.values[end++] = value;
    scale[row] = Math.max(scale[row]!, Math.abs(value));
  };
  for (let l = 0; l < lateralsOf(problem); l++) {
    const d = problem.district[l]!;
    const needs = places.needRows.get(l) ?? [];
    for (let j = problem.firstOffer[l]!; j < problem.firstOffer[l + 1]!; j++) {
      push(MONEY_ROW, problem.cost[j]!);
      for (const [crew, row] of places.crewRows.entries()) push(row, problem.minutes[crew]![j]!);
      push(places.lateralRows[d]!, 1);
      push(places.moneyRows[d]!, problem.cost[j]!);
      for (const [row, value] of needs) push(row, value);
      starts[j + 1] = end;
    }
  }
  return {
    starts,
    rows: into.rows.subarray(0, end),
    values: into.values.subarray(0, end),
    scale: scale.map((largest) => (largest > 0 ? largest : 1)),
  };
}

function countNeeds({ firstOffer }: SelectionProblem, { needRows }: RowPlaces): number {
  let count = 0;
  for (const [l, rows] of needRows) count += rows.length * (firstOffer[l + 1]! - firstOffer[l]!);
  return count;
}
