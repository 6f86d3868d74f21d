/** What a planted row may need to know of the rows before it. */
export interface RunningTotal {
  readonly district: string;
  /** Sum of the lengths of the district's rows up to this one, in the file's unit. */
  readonly length: number;
}

/** One oddity of real city files, put into a sample once. */
export interface Planted<Thing> {
  /** For people: what it is and where it comes from. */
  readonly what: string;
  /** Part of the city's laterals that come before it; the first row after them that suits takes it. */
  readonly at: number;
  readonly suits?: (thing: Thing, cells: readonly string[]) => boolean;
  /** The rows to write in place of the row. */
  readonly turn: (
    cells: readonly string[],
    thing: Thing,
    running: RunningTotal,
  ) => readonly (readonly string[])[];
}

/** Puts each oddity into the first row that suits it, never two into one row. Short cities may have no row for some. */
export class Planting<Thing> {
  readonly #waiting: Planted<Thing>[];
  readonly #laterals: number;

  constructor(planted: readonly Planted<Thing>[], laterals: number) {
    this.#waiting = planted.toSorted((a, b) => a.at - b.at || (a.what < b.what ? -1 : 1));
    this.#laterals = laterals;
  }

  /** @param index of the row's lateral in the city */
  rowsFor(
    cells: readonly string[],
    thing: Thing,
    index: number,
    running: RunningTotal,
  ): readonly (readonly string[])[] {
    for (let i = 0; i < this.#waiting.length; i++) {
      const planted = this.#waiting[i]!;
      if (index < planted.at * this.#laterals) break;
      if (planted.suits !== undefined && !planted.suits(thing, cells)) continue;
      this.#waiting.splice(i, 1);
      return planted.turn(cells, thing, running);
    }
    return [cells];
  }
}

/** The same row with one cell changed. */
export const withCell = (cells: readonly string[], place: number, text: string): readonly string[] =>
  cells.map((cell, i) => (i === place ? text : cell));
