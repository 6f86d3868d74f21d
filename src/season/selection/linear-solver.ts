/** A linear program, columns first: minimise Σ cost·x within the bounds of columns and rows. */
export interface LinearModel {
  readonly cost: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly rowLower: Float64Array;
  readonly rowUpper: Float64Array;
  readonly starts: Int32Array;
  readonly indices: Int32Array;
  readonly values: Float64Array;
  /** 1 for columns of whole numbers; null where none is. */
  readonly whole: Int32Array | null;
}

/** When to stop: on what was reached, never on the clock, so that runs repeat. */
export interface SolverStops {
  /** Part of the objective between best and bound. */
  readonly gap: number;
  readonly nodes: number;
  /** An objective that is good enough: the search ends with the first solution that reaches it. */
  readonly target?: number;
  /**
   * Limits and whole numbers kept to a billionth in place of a millionth of the row's largest entry: a millionth of an offer of
   * USD 40,000 is 4 cents, and a season is right to the cent.
   */
  readonly closely?: boolean;
  /** Told the best value so far and the bound on it, as the solver goes. */
  readonly progress?: (best: number, bound: number) => void;
  /** Asked now and then; true ends the run with what was found. */
  readonly stopAsked?: () => boolean;
}

export interface LinearAnswer {
  readonly status: "solved" | "no solution" | "node limit" | "stopped" | "failed";
  /** Null where no solution was found. */
  readonly values: Float64Array | null;
  /** Of rows; empty for whole numbers. */
  readonly duals: Float64Array;
  readonly objective: number;
  /** No solution is below it. */
  readonly bound: number;
}

/** Solves one model. Given to the season from outside, which itself stays free of the solver's loading. */
export type LinearSolver = (model: LinearModel, stops: SolverStops) => LinearAnswer;

/** A linear model written column by column. */
export class GrowingModel {
  readonly #cost: number[] = [];
  readonly #lower: number[] = [];
  readonly #upper: number[] = [];
  readonly #whole: number[] = [];
  readonly #starts: number[] = [0];
  readonly #indices: number[] = [];
  readonly #values: number[] = [];
  readonly #rowLower: number[] = [];
  readonly #rowUpper: number[] = [];

  addRow(lower: number, upper: number): number {
    this.#rowLower.push(lower);
    return this.#rowUpper.push(upper) - 1;
  }

  /** A column is whole unless said otherwise; its entries follow by {@link addEntry}. */
  addColumn(cost: number, lower: number, upper: number, whole = true): number {
    this.#cost.push(cost);
    this.#lower.push(lower);
    this.#upper.push(upper);
    this.#whole.push(whole ? 1 : 0);
    this.#starts.push(this.#indices.length);
    return this.#cost.length - 1;
  }

  /** Of the column added last; one entry a row. */
  addEntry(row: number, value: number): void {
    if (value === 0) return;
    this.#indices.push(row);
    this.#values.push(value);
    this.#starts[this.#cost.length] = this.#indices.length;
  }

  finish(): LinearModel {
    return {
      cost: Float64Array.from(this.#cost),
      lower: Float64Array.from(this.#lower),
      upper: Float64Array.from(this.#upper),
      rowLower: Float64Array.from(this.#rowLower),
      rowUpper: Float64Array.from(this.#rowUpper),
      starts: Int32Array.from(this.#starts),
      indices: Int32Array.from(this.#indices),
      values: Float64Array.from(this.#values),
      whole: this.#whole.includes(1) ? Int32Array.from(this.#whole) : null,
    };
  }
}
