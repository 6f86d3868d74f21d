/** What became of the rows of a file. Always read = kept + duplicates + rejected. */
export interface Tally {
  readonly read: number;
  readonly kept: number;
  readonly duplicates: number;
  /** Each with a problem that says why. */
  readonly rejected: number;
  /** Among the rejected: rows that add up other rows, and headings in the middle of the file. */
  readonly subtotals: number;
  readonly repeatedHeadings: number;
  /** Not rows of data, and not among the read. */
  readonly setAside: { readonly titles: number; readonly headings: number; readonly blanks: number };
}

export const tallyReconciles = ({ read, kept, duplicates, rejected }: Tally): boolean =>
  read === kept + duplicates + rejected;
