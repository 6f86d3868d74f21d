import fc from "fast-check";
import Papa from "papaparse";
import { expect, it } from "vitest";
import type { LateralFile } from "../../src/columns/city-file.ts";
import { readLaterals } from "../../src/intake/lateral-file.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import { textAt } from "../../src/sheet/table.ts";
import { inChunks } from "./sample-files.ts";

const file: LateralFile = {
  file: "laterals.csv",
  delimiter: ",",
  encoding: "utf-8",
  decimalMark: ".",
  dateOrder: "month first",
  columns: {
    lateral: { heading: "ID" },
    host_length: { heading: "LEN", unit: "ft" },
    location: { heading: "WHERE" },
  },
};

/** Ids as cities have them: leading zeros, dashes, slashes, commas, quotes, letters of any script; trimmed, as read. */
const id = fc
  .oneof(
    fc.stringMatching(/^0{0,4}[1-9][0-9]{0,7}$/),
    fc.stringMatching(/^[A-Z]{1,3}[-/.,;'"][0-9A-Za-z]{1,6}$/),
    fc.constantFrom("3E00", "1-2-2025", "=1+1", "00", "Ä-7", "号-12", "true", "__proto__"),
  )
  .filter((text) => !valueWords.totals.some((word) => text.toLowerCase().startsWith(word.toLowerCase())));

it("ids written by any CSV writer and read again are the same text, in the same order", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uniqueArray(id, { minLength: 1, maxLength: 30 }),
      fc.constantFrom("\n", "\r\n"),
      async (ids, newline) => {
        const text = Papa.unparse(
          [["ID", "LEN", "WHERE"], ...ids.map((each) => [each, "40", `at "${each}"`])],
          { newline },
        );
        const { table, tally } = await readLaterals(inChunks(text), file, {
          words: valueWords,
          ownWords: {},
          districts: {},
        });
        expect(Array.from({ length: table.rows }, (_, row) => textAt(table, "lateral", row))).toEqual(ids);
        expect(tally).toMatchObject({ read: ids.length, kept: ids.length, duplicates: 0, rejected: 0 });
      },
    ),
    { numRuns: 200 },
  );
});
