import type { Decisions } from "../columns/decided.ts";
import type { Problem } from "../quantity/problem.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** Where values come from: the laterals' file and the log of decisions. */
export interface ValueFiles {
  readonly laterals: string;
  readonly log: string;
}

/**
 * Problems between the values of a lateral, each of them right alone: by row of the city's file, or, where somebody decided one of the
 * values, of the lateral in the log. Nothing is changed: which value is wrong, only the city can know.
 */
export class ValueProblems {
  readonly #inFile: ProblemList;
  readonly #inLog: ProblemList;
  readonly #table: Table;
  readonly #decisions: Decisions;

  /** @param table the city's columns with the decisions over them */
  constructor(table: Table, decisions: Decisions, { laterals, log }: ValueFiles) {
    this.#inFile = new ProblemList(laterals);
    this.#inLog = new ProblemList(log);
    this.#table = table;
    this.#decisions = decisions;
  }

  /** @param between columns of the values, any of which a decision may have changed */
  note(row: number, between: readonly string[], found: string, expected: string, remedy: string): void {
    const id = textAt(this.#table, "lateral", row);
    const decided = this.#decisions.get(id);
    if (between.some((key) => decided?.has(key) === true))
      this.#inLog.add("noted", null, null, found, expected, remedy, id);
    else this.#inFile.add("noted", numberAt(this.#table, FILE_ROW, row), null, found, expected, remedy, id);
  }

  finish(): readonly Problem[] {
    return [...this.#inFile.finish(), ...this.#inLog.finish()];
  }
}

/** Whether a problem is one between values: another decision may have mended it. */
export const isOfValues = ({ lateral }: Problem): boolean => lateral !== undefined;
