import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";

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

/** Problems of a file that are kept word by word; further ones are counted. */
export const MOST_PROBLEMS = 500_000;
/** Characters of a cell that a problem keeps. */
const LONGEST_FOUND = 1_000;

/** The problems of one file, in the order of its rows at the end. */
export class ProblemList {
  readonly #file: string;
  readonly #most: number;
  readonly #problems: Problem[] = [];
  /** Problems of the block being read, column by column; null between blocks. */
  #ofBlock: Problem[] | null = null;
  #more = 0;
  #moreRejected = false;

  /** @param most for tests */
  constructor(file: string, most = MOST_PROBLEMS) {
    this.#file = file;
    this.#most = most;
  }

  /** @param lateral of a problem between the values of one, its id */
  add(
    severity: Problem["severity"],
    row: number | null,
    column: string | null,
    found: string,
    expected: string,
    remedy: string,
    lateral?: string,
  ): void {
    const kept = found.length > LONGEST_FOUND ? `${found.slice(0, LONGEST_FOUND)}…` : found;
    const bare = { severity, file: this.#file, row, column, found: kept, expected, remedy };
    const problem = lateral === undefined ? bare : { ...bare, lateral };
    if (this.#ofBlock === null) this.#keep(problem);
    else this.#ofBlock.push(problem);
  }

  /** What is added from here on is put in the order of its rows before the last ones are counted only. */
  startBlock(): void {
    this.#ofBlock ??= [];
  }

  endBlock(): void {
    for (const problem of this.#ofBlock?.sort(byRow) ?? []) this.#keep(problem);
    this.#ofBlock = null;
  }

  #keep(problem: Problem): void {
    if (this.#problems.length < this.#most || problem.row === null) this.#problems.push(problem);
    else {
      this.#more++;
      this.#moreRejected ||= problem.severity === "rejected";
    }
  }

  /** Problems of the file first, then by row; problems of one row in the order they were met. */
  finish(): readonly Problem[] {
    if (this.#more > 0)
      this.#problems.push({
        severity: this.#moreRejected ? "rejected" : "noted",
        file: this.#file,
        row: null,
        column: null,
        found: `${showCount(this.#more)} more problems`,
        expected: `at most ${this.#most}`,
        remedy:
          "They are counted, not listed: look whether the file's columns, units and decimal mark are right.",
      });
    this.#more = 0;
    return this.#problems.sort(byRow);
  }
}

const byRow = (a: Problem, b: Problem): number => (a.row ?? 0) - (b.row ?? 0);
