import type { CityFile } from "../columns/city-file.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { ValueWords } from "../reference/value-words.ts";
import type { ProblemList } from "./cell-problem.ts";
import { uniqueHeadings } from "./headings.ts";
import { MissingWords } from "./missing-words.ts";
import { LONGEST_RECORD, MOST_READ, type RecordBatch, readRecords } from "./records.ts";
import { RowCells } from "./row-cells.ts";
import type { RowsAhead } from "./rows-ahead.ts";
import type { Tally } from "./tally.ts";
import { TotalWords } from "./total-words.ts";
import { trimmed } from "./trimmed.ts";

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

/** Takes one row: its id, trimmed and not missing, its cells while they are asked for, and its number as a spreadsheet counts. */
export type RowTaker = (id: string, cells: RowCells, row: number) => Outcome;

/**
 * Reads a city's file row by row: finds the heading row by the headings the settings name, sets aside titles and
 * blank lines, rejects what is not a row of data (totals, repeated headings, rows out of step, rows without an id)
 * and hands over the rest. Every row is counted once.
 *
 * @param ahead told how far the file is read
 * @param begin called once, when the heading row is found; makes the taker of rows
 */
export async function readCityRows(
  chunks: AsyncIterable<string>,
  file: CityFile<string>,
  words: ValueWords,
  problems: ProblemList,
  ahead: RowsAhead,
  begin: (layout: Layout) => RowTaker,
): Promise<Tally> {
  const rows = new CityRows(file, words, problems, begin);
  for await (const batch of readRecords(chunks, file.delimiter)) {
    ahead.met(batch.firstRow + batch.rows, batch.characters);
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
  /** The row being read. */
  readonly #cells = new RowCells();
  #take: RowTaker = () => "rejected";
  #idPlace = -1;
  /** The id's heading as the cell has it, to know the heading row again further down. */
  #idCell = "";
  #failed = false;
  /** Whether rows now taken may have cells with line breaks. Waiting rows are few and always may. */
  #multiline = true;
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
    const { rows, firstRow, ending, multiline, damaged, lines } = batch;
    this.#multiline = multiline;
    const records = lines === null || damaged ? batch.records() : [];
    const sound = ending === "ends" ? rows : rows - 1;
    if (lines === null) this.#takeRecords(records, sound, firstRow);
    else this.#takeLines(lines.text, lines.end, firstRow);
    if (damaged) this.#noteDamage(records, firstRow);
    if (ending === "too much") this.#stopAt(records[sound] ?? [], firstRow + sound);
    else if (ending !== "ends") this.#rejectUnended(records[sound] ?? [], firstRow + sound, ending);
    return ending !== "runaway" && ending !== "too much" && !this.#failed;
  }

  #takeRecords(records: readonly (readonly string[])[], count: number, firstRow: number): void {
    for (let i = 0; i < count; i++) {
      this.#cells.takeRecord(records[i] ?? []);
      this.#takeRow(firstRow + i);
    }
  }

  #takeLines(text: string, end: number, firstRow: number): void {
    const delimiter = this.#file.delimiter.charCodeAt(0);
    let row = firstRow;
    for (let from = 0; from < end; row++) {
      from = this.#cells.takeLine(text, from, delimiter);
      this.#takeRow(row);
    }
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

  #takeRow(row: number): void {
    if (this.#layout === null) this.#await(this.#cells.all());
    else if (this.#cells.isBlank()) this.#count.blanks++;
    else {
      this.#count.read++;
      this.#outcomes[this.#outcomeOf(row)]++;
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
    this.#take = this.#begin(this.#layout);
    this.#multiline = true;
    const waiting = this.#waiting;
    this.#waiting = [];
    this.#count.headings = 1;
    for (const cells of waiting.slice(0, best)) this.#count[isBlank(cells) ? "blanks" : "titles"]++;
    const after = waiting.slice(best + 1);
    this.#takeRecords(after, after.length, best + 2);
  }

  #outcomeOf(row: number): Outcome {
    const cells = this.#cells;
    const width = this.#width;
    const id = trimmed(cells.cell(this.#idPlace));
    if (id === this.#idCell && this.#repeatsHeadings(cells.all())) {
      this.#count.repeatedHeadings++;
      return this.#reject(
        row,
        "the headings again",
        "a row of data",
        "Nothing is lost; remove the line if you like.",
      );
    }
    const noId = this.#missing.has(id);
    if (this.#totals.begins(id) || (noId && cells.all().some((cell) => this.#totals.begins(cell.trim())))) {
      this.#count.subtotals++;
      return this.#reject(
        row,
        cells
          .all()
          .filter((cell) => cell.trim() !== "")
          .join(", "),
        "a lateral, not a sum of laterals",
        "The row adds up other rows and is not used. If it is a lateral, give it an id.",
      );
    }
    if (
      cells.count > width &&
      cells
        .all()
        .slice(width)
        .some((cell) => cell.trim() !== "")
    )
      return this.#reject(
        row,
        `${cells.count} cells`,
        `${width} cells, as the heading row has`,
        `A cell seems to hold the file's separator: put quote marks around it.${strayQuote(cells.all())}`,
      );
    const holding = this.#multiline ? cells.all().find((cell) => this.#holdsRows(cell, width)) : undefined;
    if (holding !== undefined)
      return this.#reject(
        row,
        holding,
        "one row",
        "A cell of this row holds the end of one row and the beginning of another: look for a stray quote mark.",
      );
    if (cells.count === 1 && width > 1)
      return this.#reject(
        row,
        cells.cell(0),
        `${width} cells, as the heading row has`,
        `A remark is not a row of data. If it is a lateral, write all its cells.${strayQuote(cells.all())}`,
      );
    if (noId) {
      this.#problems.add(
        "rejected",
        row,
        this.#layout?.headings[this.#idPlace] ?? null,
        id,
        "the id of a lateral",
        "A row without an id cannot be planned: give it one.",
      );
      return "rejected";
    }
    if (cells.count < width)
      this.#problems.add(
        "noted",
        row,
        null,
        `${cells.count} cells`,
        `${width} cells, as the heading row has`,
        `The cells after the last one are taken as missing.${strayQuote(cells.all())}`,
      );
    return this.#take(id, cells, row);
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

  #noteDamage(records: readonly (readonly string[])[], firstRow: number): void {
    for (const [i, cells] of records.entries()) {
      if (!cells.some((cell) => cell.includes("\ufffd"))) continue;
      this.#damaged.rows++;
      if (this.#damaged.first === 0) this.#damaged.first = firstRow + i;
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
