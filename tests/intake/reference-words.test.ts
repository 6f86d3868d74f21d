import { describe, expect, it } from "vitest";
import type { Column } from "../../src/columns/column.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../../src/columns/lateral-columns.ts";
import { squashed } from "../../src/intake/headings.ts";
import { wordTable } from "../../src/intake/word-cells.ts";
import { headerWords, headerWordsSchema } from "../../src/reference/header-words.ts";
import { valueWords, valueWordsSchema } from "../../src/reference/value-words.ts";

/** Columns whose cells are words, of the lateral file and of the files about surveys. */
const lateralWords: readonly Column[] = [
  ...lateralColumns,
  ...inspectionColumns.filter(({ measure }) => measure === "code"),
];

describe("the shared words for headings", () => {
  it("cover every column of the files, and no other", () => {
    expect(Object.keys(headerWords.laterals).sort()).toEqual(lateralColumns.map(({ key }) => key).sort());
    expect(Object.keys(headerWords.inspections).sort()).toEqual(
      inspectionColumns.map(({ key }) => key).sort(),
    );
    expect(Object.keys(headerWords.observations).sort()).toEqual(
      observationColumns.map(({ key }) => key).sort(),
    );
  });

  it("let no word be sure of two columns", () => {
    for (const part of [headerWords.laterals, headerWords.inspections, headerWords.observations]) {
      const sure = Object.values(part).flatMap(({ sure }) => [...new Set(sure.map(squashed))]);
      expect(sure.filter((word, i) => sure.indexOf(word) !== i)).toEqual([]);
    }
  });

  it("are refused without a source", () => {
    const { source, ...rest } = headerWords;
    expect(source.document).toBe("Own compilation");
    expect(headerWordsSchema.safeParse(rest).success).toBe(false);
  });
});

describe("the shared words for cells", () => {
  it("lead only to words of the columns, and to each of them", () => {
    for (const [key, words] of Object.entries(valueWords.codes)) {
      const column = lateralWords.find((candidate) => candidate.key === key);
      expect(Object.keys(words).sort()).toEqual([...(column?.words ?? [])].sort());
    }
    expect(Object.keys(valueWords.codes).sort()).toEqual(
      lateralWords
        .filter(({ measure }) => measure === "code")
        .map(({ key }) => key)
        .sort(),
    );
  });

  it("let no spelling mean two things", () => {
    for (const words of [...Object.values(valueWords.codes), { yes: valueWords.yes, no: valueWords.no }]) {
      const spellings = Object.values(words).flatMap((list) => [...new Set(list.map(squashed))]);
      expect(spellings.filter((spelling, i) => spellings.indexOf(spelling) !== i)).toEqual([]);
    }
  });

  it("never take a word of a column for missing", () => {
    const missing = new Set(valueWords.missing);
    for (const column of lateralWords)
      for (const word of column.words ?? []) expect(missing.has(word)).toBe(false);
  });

  it("read common spellings", () => {
    const column = lateralWords.find(({ key }) => key === "host_material");
    const table = wordTable(
      "host_material",
      column?.words ?? [],
      valueWords.codes["host_material"] ?? {},
      undefined,
    );
    const read = ["VCP", "PVC", "CIP", "AC", "Terra Cotta", "fiber pipe", "DIP", "HDPE", "RCP", "Steinzeug"];
    expect(read.map((text) => table.get(squashed(text)))).toEqual([
      "clay",
      "PVC",
      "cast iron",
      "asbestos cement",
      "clay",
      "bituminous fibre",
      "ductile iron",
      "polyethylene",
      "concrete",
      "clay",
    ]);
  });

  it("are refused without a source", () => {
    const { source, ...rest } = valueWords;
    expect(source.document).toBe("Own compilation");
    expect(valueWordsSchema.safeParse(rest).success).toBe(false);
  });
});
