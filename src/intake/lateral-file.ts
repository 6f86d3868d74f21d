import type { LateralFile } from "../columns/city-file.ts";
import { lateralColumns } from "../columns/lateral-columns.ts";
import { firstOf } from "../quantity/first-of.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { ValueWords } from "../reference/value-words.ts";
import { type ColumnData, numberAt, numbersOf, type Table, textAt } from "../sheet/table.ts";
import { TextIndex } from "../sheet/text-index.ts";
import { ProblemList } from "./cell-problem.ts";
import type { ColumnReader } from "./cell-readers.ts";
import { type Layout, readCityRows } from "./city-rows.ts";
import type { ReadingRules } from "./column-readers.ts";
import { type DistrictAliases, DistrictReader } from "./districts.ts";
import { findZerosBefore } from "./leading-zeros.ts";
import { MissingWords } from "./missing-words.ts";
import { isLengthOfPart, partsOfOne } from "./part-rows.ts";
import { refusePlaces } from "./places.ts";
import { FILE_ROW, NO_LAYOUT, RowColumns } from "./row-columns.ts";
import { RowsAhead } from "./rows-ahead.ts";
import { differingColumns } from "./same-cells.ts";
import type { Tally } from "./tally.ts";
import { idDamage, mayBeDamaged } from "./text-cells.ts";
import type { OwnWords } from "./word-cells.ts";

/** What the program's settings say about reading, besides the file itself. */
export interface LateralReading {
  readonly words: ValueWords;
  /** The program's own words for code and flag columns: column key → city's word → our word. */
  readonly ownWords: Readonly<Record<string, OwnWords>>;
  readonly districts: DistrictAliases;
  /** The year of the program's day, where it is known: a year after it is refused. */
  readonly latestYear?: number;
  /** Of the file, where known: columns take their room at once. */
  readonly bytes?: number | undefined;
  /** The program's; without it coordinates are taken to be in metres. */
  readonly units?: UnitSystem;
}

/** Row of a lateral in its table, by id. */
export interface LateralIndex {
  get(id: string): number | undefined;
  /** Of the id `bytes[from … to)` in UTF-8; -1 for one that is not there. */
  find(bytes: Uint8Array, from: number, to: number): number;
  /** The same, looked for first right after a row: many files are in the order of the laterals. */
  findAfter(row: number, bytes: Uint8Array, from: number, to: number): number;
  has(id: string): boolean;
  keys(): Iterable<string>;
  readonly size: number;
}

export interface LateralsRead {
  /** All lateral columns, `file_row`, and `other:<heading>` for what the dictionary does not have. */
  readonly table: Table;
  readonly index: LateralIndex;
  readonly problems: readonly Problem[];
  readonly tally: Tally;
}

/**
 * Reads a city's lateral file. The first row of an id is kept; later rows of the same id are duplicates and noted,
 * and the problems of their cells are not told, since no cell of theirs is used.
 *
 * @param chunks the file's text as UTF-8, cut anywhere
 */
export async function readLaterals(
  chunks: AsyncIterable<Uint8Array>,
  file: LateralFile,
  reading: LateralReading,
): Promise<LateralsRead> {
  const problems = new ProblemList(file.file);
  const unheard = new ProblemList(file.file);
  const missing = new MissingWords(reading.words.missing);
  const ahead = new RowsAhead(reading.bytes);
  const { expected } = ahead;
  const { words, ownWords, latestYear } = reading;
  const rules: ReadingRules = { file, words, ownWords, latestYear, expected };
  const index = new TextIndex(expected);
  const keptColumns = (layout: Layout) =>
    new RowColumns(lateralColumns, file, layout, rules, problems, {
      district: (heading) => new DistrictReader(missing, reading.districts, heading, problems, expected),
      lateral: () => new IdColumn(index),
    });
  const laterColumns = (layout: Layout) =>
    new RowColumns(lateralColumns, file, layout, { ...rules, expected: () => 0 }, unheard, {
      district: (heading) => new DistrictReader(missing, reading.districts, heading, unheard, () => 0),
    });
  const again: { readonly id: string; readonly keptRow: number; readonly row: number }[] = [];
  let kept = keptColumns(NO_LAYOUT);
  let later = laterColumns(NO_LAYOUT);
  let idHeading = "";

  const tally = await readCityRows(chunks, file, reading.words, problems, ahead, (layout) => {
    kept = keptColumns(layout);
    later = laterColumns(layout);
    idHeading = layout.headings[layout.placeOf.get("lateral") ?? -1] ?? "";
    const damaged: { readonly id: string; readonly row: number }[] = [];
    return {
      take(block, row, from, to) {
        const { bytes, firstRow } = block;
        const rows = index.size;
        const keptRow = index.addBytes(bytes, from, to);
        if (keptRow < rows) {
          later.choose(row);
          again.push({ id: block.text(from, to), keptRow, row: firstRow + row });
          return "duplicate";
        }
        kept.choose(row);
        if (mayBeDamaged(bytes, from, to)) damaged.push({ id: block.text(from, to), row: firstRow + row });
        return "kept";
      },
      end(block) {
        kept.take(block);
        later.take(block);
        for (const { id, row } of damaged.splice(0)) {
          const damage = idDamage(id);
          if (damage !== null)
            problems.add(damage.severity, row, idHeading, id, damage.expected, damage.remedy);
        }
      },
    };
  });

  const table = kept.finish();
  refusePlaces(table, reading.units ?? "si", problems);
  noteZerosBefore(table, index, idHeading, problems);
  const duplicates = later.finish();
  for (const [i, { id, keptRow, row }] of again.entries()) {
    const first = numberAt(table, FILE_ROW, keptRow);
    const kept = { table, row: keptRow };
    const parts = partsOfOne(kept, { table: duplicates, row: i });
    if (parts !== null) {
      const isPart = isLengthOfPart(kept, parts.kept);
      if (isPart) numbersOf(table, "host_length")[keptRow] = Number.NaN;
      problems.add(
        "rejected",
        row,
        idHeading,
        id,
        "both lengths of a lateral in one row",
        `Row ${first} has only its ${parts.kept} length, this one only its ${parts.again}: the rows look like the two owners' parts of one lateral. ${isPart ? `The length of row ${first} is its ${parts.kept} part's, so that of the lateral is taken as missing` : `Row ${first} is used, this one is not`}: put both lengths, and that of the whole, in one row.`,
      );
      continue;
    }
    const differing = differingColumns(table, keptRow, duplicates, i, new Set([FILE_ROW]));
    problems.add(
      "noted",
      row,
      idHeading,
      id,
      "an id that no other row has",
      differing.length === 0
        ? `Row ${first} is the same in every column: it is used, this one is not.`
        : `Row ${first} has other values in ${firstOf(differing, 3)}: it is used, this one is not. Remove one of them.`,
    );
  }
  return { table, index, problems: problems.finish(), tally };
}

/** Ids are text, so `34` and `0034` are two laterals; where a spreadsheet has dropped the zeros of one, they are the same pipe. */
function noteZerosBefore(table: Table, index: LateralIndex, heading: string, problems: ProblemList): void {
  const found = findZerosBefore(table, index);
  if (found === null) return;
  const { count, row, of } = found;
  problems.add(
    "noted",
    null,
    heading,
    `${textAt(table, "lateral", row)} beside ${textAt(table, "lateral", of)}`,
    "ids that differ in more than leading zeros",
    `${showCount(count)} id(s) differ from another in leading zeros only; the first two are in rows ${numberAt(table, FILE_ROW, row)} and ${numberAt(table, FILE_ROW, of)}. Each is planned as a lateral of its own: where two are the same pipe its work counts twice. Remove one of the rows, and export ids as text, so that no zeros are lost.`,
  );
}

/** The rows of a lateral table by id, for a table that was not just read. */
export function indexLaterals(table: Table): LateralIndex {
  const index = new TextIndex(() => table.rows);
  for (let row = 0; row < table.rows; row++) index.add(textAt(table, "lateral", row));
  return index;
}

/** The ids as the index of laterals has them: they are written once. */
class IdColumn implements ColumnReader {
  readonly #index: TextIndex;

  constructor(index: TextIndex) {
    this.#index = index;
  }

  take(): void {}

  finish(): ColumnData {
    return this.#index.finish();
  }
}
