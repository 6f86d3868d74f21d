import type { Problem } from "../quantity/problem.ts";

/** A cell that cannot be taken as it stands. `value` is what stands in the table for it: NaN or "" for missing. */
export interface CellProblem<T> {
  readonly severity: Problem["severity"];
  readonly value: T;
  readonly expected: string;
  readonly remedy: string;
}

export const refusedNumber = (expected: string, remedy: string): CellProblem<number> => ({
  severity: "rejected",
  value: Number.NaN,
  expected,
  remedy,
});

export const notedNumber = (value: number, expected: string, remedy: string): CellProblem<number> => ({
  severity: "noted",
  value,
  expected,
  remedy,
});

/** A reader of one column's cells, already trimmed and not empty. */
export type NumberReading = (text: string) => number | CellProblem<number>;
export type TextReading = (text: string) => string | CellProblem<string>;

/** The problems of one file, in the order of its rows at the end. */
export class ProblemList {
  readonly #file: string;
  readonly #problems: Problem[] = [];

  constructor(file: string) {
    this.#file = file;
  }

  add(
    severity: Problem["severity"],
    row: number | null,
    column: string | null,
    found: string,
    expected: string,
    remedy: string,
  ): void {
    this.#problems.push({ severity, file: this.#file, row, column, found, expected, remedy });
  }

  /** Problems of the file first, then by row; problems of one row in the order they were met. */
  finish(): readonly Problem[] {
    return this.#problems.sort((a, b) => (a.row ?? 0) - (b.row ?? 0));
  }
}
