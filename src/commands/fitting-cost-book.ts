import { basename } from "node:path";
import type { CostBook } from "../bidding/cost-book.ts";
import { readCostBook } from "../program/cost-book-file.ts";
import { MOST_BYTES, readAtMost } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import type { IssuedBid } from "../workbook/issued-bid.ts";

export type FittingBook =
  | { readonly ok: true; readonly book: CostBook }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const MEASURED = {
  us: 'LF and SF: costs per foot and square foot, "units": "us"',
  si: 'm and m²: costs per metre and square metre, "units": "si"',
} as const;

/** Reads the cost book for a bid, refused where it cannot be read, or is in another currency or other units than the bid. */
export async function fittingCostBook(path: string, issued: IssuedBid): Promise<FittingBook> {
  const file = basename(path);
  const read = await readAtMost(path, MOST_BYTES.costBook, file);
  if (!read.ok) return { ok: false, problems: [read.problem] };
  const reading = readCostBook(file, read.bytes);
  if (!reading.ok) return reading;
  const { book, lineOf } = reading;
  const problems: Problem[] = [];
  const unlike = (key: "currency" | "units", expected: string, remedy: string) => {
    if (book[key] !== issued[key])
      problems.push({
        severity: "rejected",
        file,
        row: lineOf(key),
        column: key,
        found: book[key],
        expected,
        remedy,
      });
  };
  unlike("currency", `prices in ${issued.currency}, as the bid book asks for them`, "Use a cost book in it.");
  unlike(
    "units",
    `the units of the bid book, ${MEASURED[issued.units]}`,
    "Use a cost book in them, or work its costs, minutes and materials out for these units and then write that: nothing is converted here.",
  );
  return problems.length > 0 ? { ok: false, problems } : { ok: true, book };
}
