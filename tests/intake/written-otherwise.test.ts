import fc from "fast-check";
import { expect, it } from "vitest";
import type { LateralFile } from "../../src/columns/city-file.ts";
import { utf8Of } from "../../src/intake/decode.ts";
import { readLaterals } from "../../src/intake/lateral-file.ts";
import { cellsOf, LATERAL_HEADINGS, lateralFile, plainReading } from "./sample-files.ts";

type Written = Pick<LateralFile, "encoding" | "delimiter"> & { readonly bytes: Uint8Array };

const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
const utf8 = (text: string, delimiter: LateralFile["delimiter"] = ","): Written => ({
  encoding: "utf-8",
  delimiter,
  bytes: Buffer.from(text),
});

/** The same rows as other programs write them: each goes another way through the reader. */
const otherwise: Record<string, (rows: readonly string[][]) => Written> = {
  "with CR LF": (rows) => utf8(rows.map((cells) => `${cells.join(",")}\r\n`).join("")),
  "with CR": (rows) => utf8(rows.map((cells) => `${cells.join(",")}\r`).join("")),
  "with a byte order mark": (rows) => utf8(`\ufeff${rows.map((cells) => `${cells.join(",")}\n`).join("")}`),
  "without a last line end": (rows) => utf8(rows.map((cells) => cells.join(",")).join("\n")),
  "with semicolons": (rows) => utf8(rows.map((cells) => `${cells.join(";")}\n`).join(""), ";"),
  "with every cell quoted": (rows) => utf8(rows.map((cells) => `${cells.map(quoted).join(",")}\n`).join("")),
  "with a cell quoted here and there": (rows) =>
    utf8(
      rows
        .map(
          (cells, i) => `${cells.map((cell, k) => ((i + k) % 7 === 0 ? quoted(cell) : cell)).join(",")}\r\n`,
        )
        .join(""),
    ),
  "as UTF-16": (rows) => ({
    encoding: "utf-16le",
    delimiter: ",",
    bytes: Buffer.from(`\ufeff${rows.map((cells) => `${cells.join(",")}\r\n`).join("")}`, "utf16le"),
  }),
};

// No separators, quote marks or line ends: the plain file says the same without them.
const cell = fc.constantFrom(
  ..."00417 A B-1 N/A total LS-14 Länge 雨 4 6 12.5 -1 1e5 clay VCP x 1960 2190 yes N".split(" "),
  "",
  " 4 ",
  "12 in",
  "\u00a0",
);
const row = fc.array(cell, { minLength: 7, maxLength: 9 });

async function* inPieces(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

async function read({ bytes, encoding, delimiter }: Written, size: number) {
  const file = { ...lateralFile, encoding, delimiter };
  const { table, problems, tally } = await readLaterals(
    utf8Of(inPieces(bytes, size), encoding),
    file,
    plainReading,
  );
  return { cells: cellsOf(table), problems, tally };
}

it.each(Object.keys(otherwise))("a file written %s is read as the plain one is", async (how) => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(row, { maxLength: 20 }),
      fc.integer({ min: 1, max: 300 }),
      async (rows, size) => {
        const all = [LATERAL_HEADINGS.split(","), ...rows];
        const plain = utf8(all.map((cells) => `${cells.join(",")}\n`).join(""));
        expect(await read(otherwise[how]!(all), size)).toEqual(await read(plain, 1 << 16));
      },
    ),
  );
});
