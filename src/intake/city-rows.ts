import type { CityFile } from "../columns/city-file.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { ValueWords } from "../reference/value-words.ts";
import type { ProblemList } from "./cell-problem.ts";
import { uniqueHeadings } from "./headings.ts";
import { MissingWords } from "./missing-words.ts";
import { LONGEST_RECORD, MOST_READ, type RecordBatch, readRecords } from "./records.ts";
import { RowBlock } from "./row-block.ts";
import type { RowsAhead } from "./rows-ahead.ts";
import type { Tally } from "./tally.ts";
import { TotalWords } from "./total-words.ts";
import { isMark, trimmed } from "./trimmed.ts";

/** How many rows from the top the heading row is looked for. */
const HEADING_WITHIN = 50;

/** Columns a file may have: each is kept for every row. A city's widest list has some two hundred. */
export const MOST_COLUMNS = 1_000;

/** Cells from which on a remark is unlikely to have as many separators as a row. */
const WIDE = 4;

/** Column in our words that both of a city's files must have. */
const ID = "lateral";

/** Where the columns of a file stand, once its heading row is found. */
export interface Layout {
  /** Every heading, made unique, by place. */
  readonly headings: readonly string[];
  /** Place of each mapped column that the file has. */
  readonly placeOf: ReadonlyMap<string, number>;
}

export type Outcome = "kept" | "duplicate" | "rejected";

/** Takes rows of data, block after block. */
export interface RowTaker {
  /** Takes a row of a block, counted from 0; its id, trimmed and not missing, is `block.bytes[from … to)`. */
  take(block: RowBlock, row: number, from: number, to: number): Outcome;
  /** No more rows of the block follow: its cells are still there. */
  end(block: RowBlock): void;
}

const NOBODY: RowTaker = { take: () => "rejected", end: () => {} };

/**
 * Reads a city's file row by row: finds the heading row by the headings the settings name, sets aside titles and
 * blank lines, rejects what is not a row of data (totals, repeated headings, rows out of step, rows without an id)
 * and hands over the rest. Every row is counted once.
 *
 * @param chunks the file's text as UTF-8, cut anywhere
 * @param ahead told how far the file is read
 * @param begin called once, when the heading row is found; makes the taker of rows
 */
export async function readCityRows(
  chunks: AsyncIterable<Uint8Array>,
  file: CityFile<string>,
  words: ValueWords,
  problems: ProblemList,
  ahead: RowsAhead,
  begin: (layout: Layout) => RowTaker,
): Promise<Tally> {
  const rows = new CityRows(file, words, problems, begin);
  for await (const batch of readRecords(chunks, file.delimiter)) {
    ahead.met(batch.block.firstRow + batch.rows, batch.characters);
    if (!rows.takeBatch(batch)) break;
  }
  return rows.finish();
}

class CityRows {
  readonly #file: CityFile<string>;
  readonly #problems: ProblemList;
  readonly #begin: (layout: Layout) => RowTaker;
  readonly #missing: MissingWords;
  readonly #totals: TotalWords;
  /** Rows from the top, while the heading row is not found. */
  #waiting: (readonly string[])[] = [];
  #layout: Layout | null = null;
  /** Cells of the heading row. */
  #width = 0;
  #taker = NOBODY;
  #idPlace = -1;
  /** The id's heading as the cell has it, to know the heading row again further down. */
  #idCell = "";
  #failed = false;
  readonly #outcomes = { kept: 0, duplicate: 0, rejected: 0 };
  readonly #count = { read: 0, subtotals: 0, repeatedHeadings: 0, titles: 0, headings: 0, blanks: 0 };
  #damaged = { rows: 0, first: 0 };

  constructor(
    file: CityFile<string>,
    words: ValueWords,
    problems: ProblemList,
    begin: (layout: Layout) => RowTaker,
  ) {
    this.#file = file;
    this.#problems = problems;
    this.#begin = begin;
    this.#missing = new MissingWords(words.missing);
    this.#totals = new TotalWords(words.totals);
  }

  /** False when the rest of the file cannot be read. */
  takeBatch(batch: RecordBatch): boolean {
    const { block, rows, ending, damaged } = batch;
    const sound = ending === "ends" ? rows : rows - 1;
    this.#takeRows(block, sound);
    if (damaged) this.#noteDamage(block, rows);
    if (ending === "too much") this.#stopAt(block.cells(sound), block.firstRow + sound);
    else if (ending !== "ends") this.#rejectUnended(block.cells(sound), block.firstRow + sound, ending);
    return ending !== "runaway" && ending !== "too much" && !this.#failed;
  }

  #takeRows(block: RowBlock, count: number): void {
    this.#problems.startBlock();
    for (let row = 0; row < count; row++) this.#takeRow(block, row);
    this.#taker.end(block);
    this.#problems.endBlock();
  }

  finish(): Tally {
    if (this.#layout === null && !this.#failed) this.#findHeadings();
    if (this.#damaged.rows > 0)
      this.#problems.add(
        "noted",
        null,
        null,
        "\ufffd",
        `text in ${this.#file.encoding}`,
        `${showCount(this.#damaged.rows)} rows, the first of them row ${this.#damaged.first}, have characters that cannot be read: set the file's "encoding" in program.json (often "windows-1252"), or export it as UTF-8.`,
      );
    const { read, subtotals, repeatedHeadings, titles, headings, blanks } = this.#count;
    const { kept, duplicate, rejected } = this.#outcomes;
    return {
      read,
      kept,
      duplicates: duplicate,
      rejected,
      subtotals,
      repeatedHeadings,
      setAside: { titles, headings, blanks },
    };
  }

  #takeRow(block: RowBlock, row: number): void {
    if (this.#layout === null) this.#await(block.cells(row));
    else if (block.isBlank(row)) this.#count.blanks++;
    else {
      this.#count.read++;
      this.#outcomes[this.#outcomeOf(block, row)]++;
    }
  }

  #await(cells: readonly string[]): void {
    if (this.#failed) return;
    this.#waiting.push(cells);
    if (this.#waiting.length === HEADING_WITHIN || this.#mappedIn(cells) === this.#mapped().length)
      this.#findHeadings();
  }

  /** Settles on the waiting row that has most of the headings the settings name, and takes the rows after it. */
  #findHeadings(): void {
    const mapped = this.#mapped();
    let best = 0;
    for (const [i, cells] of this.#waiting.entries())
      if (this.#mappedIn(cells) > this.#mappedIn(this.#waiting[best] ?? [])) best = i;
    if ((this.#waiting[best]?.length ?? 0) > MOST_COLUMNS) {
      this.#failed = true;
      this.#problems.add(
        "rejected",
        best + 1,
        null,
        `${this.#waiting[best]?.length} columns`,
        `at most ${MOST_COLUMNS} columns`,
        "Nothing is read. Export the columns that are needed, and look whether the separator is the right one.",
      );
      return;
    }
    const headings = uniqueHeadings(this.#waiting[best] ?? []);
    const placeOf = new Map<string, number>();
    for (const [key, heading] of mapped) {
      const place = headings.indexOf(heading);
      if (place >= 0) placeOf.set(key, place);
      else
        this.#problems.add(
          "rejected",
          null,
          heading,
          headings.join(", "),
          `a heading ${JSON.stringify(heading)}`,
          `The file has no such heading in its first ${HEADING_WITHIN} rows: correct ${JSON.stringify(key)} in program.json.${key === ID ? " Nothing is read without it." : " Until then the column is missing."}`,
        );
    }
    const idPlace = placeOf.get(ID);
    if (idPlace === undefined) {
      this.#failed = true;
      if (!mapped.some(([key]) => key === ID))
        this.#problems.add(
          "rejected",
          null,
          null,
          "",
          `the heading of the column "${ID}"`,
          `Add "${ID}" to the file's "columns" in program.json. Nothing is read without it.`,
        );
      return;
    }
    this.#idPlace = idPlace;
    this.#idCell = this.#waiting[best]?.[idPlace]?.trim() ?? "";
    this.#layout = { headings, placeOf };
    this.#width = headings.length;
    this.#taker = this.#begin(this.#layout);
    const waiting = this.#waiting;
    this.#waiting = [];
    this.#count.headings = 1;
    for (const cells of waiting.slice(0, best)) this.#count[isBlank(cells) ? "blanks" : "titles"]++;
    const after = new RowBlock();
    after.firstRow = best + 2;
    after.takeRecords(waiting.slice(best + 1), true);
    this.#takeRows(after, after.rows);
  }

  #outcomeOf(block: RowBlock, row: number): Outcome {
    if (block.count(row) !== this.#width || block.multiline) return this.#judge(block, row);
    const from = block.from(row, this.#idPlace);
    const to = block.to(row, this.#idPlace);
    return this.#isPlainId(block.bytes, from, to)
      ? this.#taker.take(block, row, from, to)
      : this.#judge(block, row);
  }

  /** An id without spaces at its ends that is no heading, total or word for missing: most are told apart by their first letter. */
  #isPlainId(bytes: Buffer, from: number, to: number): boolean {
    const initial = bytes[from]!;
    if (from === to || !isMark(initial) || !isMark(bytes[to - 1]!)) return false;
    const maySayMore =
      initial === this.#idCell.charCodeAt(0) ||
      this.#totals.mayBegin(initial) ||
      this.#missing.mayBe(initial, to - from);
    if (!maySayMore) return true;
    const id = bytes.toString("utf8", from, to);
    return id !== this.#idCell && !this.#totals.begins(id) && !this.#missing.has(id);
  }

  /** What becomes of a row that may be something else than a row of data. */
  #judge(block: RowBlock, row: number): Outcome {
    const fileRow = block.firstRow + row;
    const width = this.#width;
    const cells = block.cells(row);
    const idCell = block.cell(row, this.#idPlace);
    const id = trimmed(idCell);
    if (id === this.#idCell && this.#repeatsHeadings(cells)) {
      this.#count.repeatedHeadings++;
      return this.#reject(
        fileRow,
        "the headings again",
        "a row of data",
        "Nothing is lost; remove the line if you like.",
      );
    }
    const noId = this.#missing.has(id);
    if (this.#totals.begins(id) || (noId && cells.some((cell) => this.#totals.begins(cell.trim())))) {
      this.#count.subtotals++;
      return this.#reject(
        fileRow,
        cells.filter((cell) => cell.trim() !== "").join(", "),
        "a lateral, not a sum of laterals",
        "The row adds up other rows and is not used. If it is a lateral, give it an id.",
      );
    }
    if (cells.slice(width).some((cell) => cell.trim() !== ""))
      return this.#reject(
        fileRow,
        `${cells.length} cells`,
        `${width} cells, as the heading row has`,
        `A cell seems to hold the file's separator: put quote marks around it.${strayQuote(cells)}`,
      );
    const holding = block.multiline ? cells.find((cell) => this.#holdsRows(cell, width)) : undefined;
    if (holding !== undefined)
      return this.#reject(
        fileRow,
        holding,
        "one row",
        "A cell of this row holds the end of one row and the beginning of another: look for a stray quote mark.",
      );
    if (cells.length === 1 && width > 1)
      return this.#reject(
        fileRow,
        cells[0] ?? "",
        `${width} cells, as the heading row has`,
        `A remark is not a row of data. If it is a lateral, write all its cells.${strayQuote(cells)}`,
      );
    if (noId) {
      this.#problems.add(
        "rejected",
        fileRow,
        this.#layout?.headings[this.#idPlace] ?? null,
        id,
        "the id of a lateral",
        "A row without an id cannot be planned: give it one.",
      );
      return "rejected";
    }
    if (cells.length < width)
      this.#problems.add(
        "noted",
        fileRow,
        null,
        `${cells.length} cells`,
        `${width} cells, as the heading row has`,
        `The cells after the last one are taken as missing.${strayQuote(cells)}`,
      );
    const from =
      block.from(row, this.#idPlace) + Buffer.byteLength(idCell) - Buffer.byteLength(idCell.trimStart());
    return this.#taker.take(block, row, from, from + Buffer.byteLength(id));
  }

  /**
   * Whether a stray pair of quote marks made one cell of the end of a row and the beginning of the next: then each line
   * break in it comes with exactly the separators of one row. In a narrow file a remark may well have as many.
   */
  #holdsRows(cell: string, width: number): boolean {
    if (width < WIDE || !cell.includes("\n")) return false;
    const lineBreaks = cell.split("\n").length - 1;
    return cell.split(this.#file.delimiter).length - 1 === lineBreaks * (width - 1);
  }

  #reject(row: number, found: string, expected: string, remedy: string): Outcome {
    this.#problems.add("rejected", row, null, found, expected, remedy);
    return "rejected";
  }

  #rejectUnended(cells: readonly string[], row: number, ending: "unclosed" | "runaway"): void {
    // A record that has no end is a row all the same, unless no heading row was found to read it by.
    if (this.#layout === null && !this.#failed) this.#findHeadings();
    this.#problems.add(
      "rejected",
      row,
      null,
      cells.join(this.#file.delimiter),
      "a closing quote mark",
      ending === "unclosed"
        ? "A quote mark opens a cell in this row and none closes it: everything after it is one cell. Remove it or write it twice."
        : `A quote mark opens a cell in this row and none closes it within ${LONGEST_RECORD} characters: reading stopped here. Remove it or write it twice.`,
    );
    if (this.#failed) return;
    this.#count.read++;
    this.#outcomes.rejected++;
  }

  /** More rows than are ever read: the file's own problem, so that nobody has to look for it. */
  #stopAt(cells: readonly string[], row: number): void {
    this.#problems.add(
      "rejected",
      null,
      null,
      `row ${row}: ${cells.slice(0, 3).join(this.#file.delimiter)}`,
      `at most ${showCount(MOST_READ.rows)} rows and ${showCount(MOST_READ.characters)} characters`,
      `Reading stopped before row ${row}, and what follows is not in the plan. Split the file by district into programs of their own.`,
    );
  }

  #noteDamage(block: RowBlock, rows: number): void {
    for (let row = 0; row < rows; row++) {
      if (!block.cells(row).some((cell) => cell.includes("\ufffd"))) continue;
      this.#damaged.rows++;
      if (this.#damaged.first === 0) this.#damaged.first = block.firstRow + row;
    }
  }

  #repeatsHeadings(cells: readonly string[]): boolean {
    const { headings, placeOf } = this.#layout ?? { headings: [], placeOf: new Map<string, number>() };
    const again = uniqueHeadings(cells);
    return [...placeOf.values()].every((place) => again[place] === headings[place]);
  }

  #mapped(): [key: string, heading: string][] {
    return Object.entries(this.#file.columns).flatMap(([key, place]) =>
      place === undefined ? [] : [[key, place.heading] as [string, string]],
    );
  }

  #mappedIn(cells: readonly string[]): number {
    const headings = new Set(uniqueHeadings(cells));
    return this.#mapped().filter(([, heading]) => headings.has(heading)).length;
  }
}

const isBlank = (cells: readonly string[]): boolean => cells.every((cell) => cell.trim() === "");

const strayQuote = (cells: readonly string[]): string =>
  cells.some((cell) => cell.includes("\n"))
    ? " A cell of this row runs over several lines: look for a stray quote mark."
    : "";
