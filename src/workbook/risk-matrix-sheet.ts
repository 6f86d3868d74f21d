import { showCount } from "../quantity/show-quantity.ts";
import type { BookContents } from "./book-contents.ts";
import { WHOLE } from "./number-format.ts";
import { columnLetter, sumBelow } from "./references.ts";
import { firstRow, formula, type Row, type SheetModel } from "./sheet-model.ts";

const LEVELS = [1, 2, 3, 4, 5] as const;

/** How many laterals lie in each field of likelihood and consequence, the worst row on top. */
export function riskMatrixSheet({ picture }: BookContents): SheetModel {
  const { counts, unplaced } = picture.matrix;
  const notes = [
    "Scores from 1 to 5: they order, they are not probabilities. Points between two levels count in the nearer, halves in the worse.",
    unplaced === 0
      ? "Every lateral has a place."
      : `${showCount(unplaced)} lateral(s) without a place: they have no likelihood or no consequence from 1 to 5.`,
  ];
  const first = firstRow(notes);
  const rows = LEVELS.toReversed().map((likelihood, i): Row => {
    const line = counts[likelihood - 1]!;
    const sum = line.reduce((total, count) => total + count, 0);
    const at = first + i;
    return [`Likelihood ${likelihood}`, ...line, formula(`SUM(B${at}:F${at})`, sum, WHOLE)];
  });
  const total = (of: (line: readonly number[]) => number) => counts.reduce((sum, line) => sum + of(line), 0);
  return {
    name: "Risk matrix",
    title: "Laterals by likelihood and consequence",
    notes,
    columns: [
      { heading: "Likelihood", width: 14 },
      ...LEVELS.map((level) => ({ heading: `Consequence ${level}`, width: 14, format: WHOLE })),
      { heading: "All", width: 8, format: WHOLE },
    ],
    rows,
    foot: [
      [
        "All",
        ...LEVELS.map((level, i) =>
          sumBelow(
            columnLetter(i + 1),
            first,
            LEVELS.length,
            total((line) => line[level - 1]!),
          ),
        ),
        sumBelow(
          columnLetter(LEVELS.length + 1),
          first,
          LEVELS.length,
          total((line) => line.reduce((sum, count) => sum + count, 0)),
        ),
      ],
    ],
    frozenColumns: 1,
    pagesWide: 1,
    locked: false,
  };
}
