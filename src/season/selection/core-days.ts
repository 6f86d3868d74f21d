import { countOf, daysBy, type Filling, mostOf } from "./fillings.ts";
import type { Limits } from "./limits.ts";
import type { GrowingModel } from "./linear-solver.ts";
import type { SelectionProblem } from "./selection-problem.ts";

/** A row that counts days of one kind of crew in one district. */
interface FillingRow {
  readonly row: number;
  readonly filling: Filling;
}

/**
 * The part of a core in which crews come to districts and work whole days there: for each kind of crew and district a column 0 or 1 for
 * its coming and a column of whole days y, with the rows
 *
 *   Σ_d (y_d + mobilisation·coming_d) ≤ days
 *   Σ count·x ÷ most ≤ y_d          for each filling
 *   coming_d ≤ y_d, and Σ x of a lateral's offers that bring the crew ≤ coming_d
 *
 * Rows come first, then the entries of each offer's column, then the columns of the districts, then those of the crews.
 */
export function daysInCore(problem: SelectionProblem, limits: Limits, model: GrowingModel) {
  const { arrivals = [], districts } = problem;
  const FREE = Number.NEGATIVE_INFINITY;
  const kinds = arrivals.map((arrival) => ({
    arrival,
    dayRow: model.addRow(FREE, arrival.days),
    /** coming − days ≤ 0, by district. */
    comeRows: Array.from({ length: districts }, () => model.addRow(FREE, 0)),
    /** district opened − coming ≤ 0: only where what is settled brings the crew. */
    sureRows: Array.from({ length: districts }, () => model.addRow(FREE, 0)),
    fillingRows: Array.from({ length: districts }, (_, d): readonly FillingRow[] =>
      arrival.fillings
        .filter((each) => each.district === null || each.district === d)
        .map(({ filling }) => ({
          filling,
          row: model.addRow(FREE, -arrival.ratio[d]! * daysBy(filling, arrival.done[d]!)),
        })),
    ),
    links: Array.from({ length: districts }, (): number[] => []),
    isSure: new Uint8Array(districts),
    /** Days counted of what is settled, by district and filling. */
    sure: Array.from({ length: districts }, () => new Float64Array(arrival.fillings.length)),
  }));
  return {
    /** Rows that tie the offers of one lateral of the core to the coming of the crews they bring; −1 where nothing ties them. */
    linkRows(d: number, offers: readonly number[]): readonly number[] {
      return kinds.map(({ arrival: { shares, isThere }, links }) => {
        if (isThere[d] === 1 || !offers.some((j) => shares[j]! > 0)) return -1;
        const row = model.addRow(FREE, 0);
        links[d]!.push(row);
        return row;
      });
    },
    /** Entries of an offer's column, which is the one added last. */
    addEntries(d: number, j: number, linkRows: readonly number[]): void {
      for (const [kind, { arrival, fillingRows }] of kinds.entries()) {
        const share = arrival.shares[j]!;
        if (share === 0) continue;
        if (linkRows[kind]! >= 0) model.addEntry(linkRows[kind]!, 1);
        for (const { row, filling } of fillingRows[d]!)
          model.addEntry(row, (arrival.ratio[d]! * countOf(filling, share)) / mostOf(filling));
      }
    },
    /** Counts an offer that is settled: it is done where its district is open. */
    settle(d: number, j: number): void {
      for (const { arrival, fillingRows, sure, isSure } of kinds) {
        const share = arrival.shares[j]!;
        if (share === 0) continue;
        isSure[d] = 1;
        for (const [i, { filling }] of fillingRows[d]!.entries())
          sure[d]![i]! += (arrival.ratio[d]! * countOf(filling, share)) / mostOf(filling);
      }
    },
    /** Entries of the column that opens a district, which is the one added last. */
    openEntries(d: number): void {
      for (const { fillingRows, sure, isSure, sureRows } of kinds) {
        for (const [i, { row }] of fillingRows[d]!.entries()) model.addEntry(row, sure[d]![i]!);
        model.addEntry(sureRows[d]!, isSure[d]!);
      }
    },
    /** A column of whole days more for one kind of crew, each at a cost of 1. */
    addMoreDays(kind: number): void {
      model.addColumn(1, 0, Number.POSITIVE_INFINITY);
      model.addEntry(kinds[kind]!.dayRow, -1);
    },
    /** The columns of coming and of days, after all others. @param most whole days of a kind of crew in one district */
    addColumns(most: (kind: number) => number = (kind) => Math.max(0, arrivals[kind]!.days)): void {
      for (const [kind, { arrival, dayRow, comeRows, sureRows, fillingRows, links }] of kinds.entries())
        for (let d = 0; d < districts; d++) {
          const isThere = arrival.isThere[d] === 1;
          model.addColumn(0, isThere ? 1 : 0, 1);
          model.addEntry(comeRows[d]!, 1);
          model.addEntry(sureRows[d]!, -1);
          for (const link of links[d]!) model.addEntry(link, -1);
          if (!isThere) {
            model.addEntry(dayRow, arrival.mobilisation);
            for (const [crew, each] of arrival.takes.entries()) {
              const row = limits.crewRows[crew]!;
              if (row >= 0) model.addEntry(row, each / limits.scale[row]!);
            }
          }
          model.addColumn(0, 0, most(kind));
          model.addEntry(dayRow, 1);
          model.addEntry(comeRows[d]!, -1);
          for (const { row } of fillingRows[d]!) model.addEntry(row, -1);
        }
    },
  };
}
