import { houseBidItems } from "../../src/reference/bid-items.ts";
import { type IssuedBid, readIssued } from "../../src/workbook/issued-bid.ts";
import { type PlainBook, readPlainBook } from "../../src/workbook/plain-book.ts";
import { type Differences, differences } from "../../src/workbook/returned-differences.ts";
import { readZip, unpack, writeZip } from "../../src/workbook/zip-file.ts";

export function plainOf(bytes: Buffer): PlainBook {
  const read = readPlainBook("a.xlsx", bytes);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

export function issuedOf(bytes: Buffer): IssuedBid {
  const read = readIssued("a.xlsx", plainOf(bytes), houseBidItems);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

export const compared = (issued: Buffer, returned: Buffer): Differences =>
  differences("a.xlsx", plainOf(issued), issuedOf(issued), plainOf(returned));

/** The book with a text of one of its members changed, as a hand in the file would; it must be there. */
export function changedText(bytes: Buffer, member: string, from: string | RegExp, to: string): Buffer {
  const members = readZip(bytes);
  const before = unpack(members.find(({ name }) => name === member)!).toString("utf8");
  const after = before.replace(from, to);
  if (after === before) throw new RangeError(`changedText: ${String(from)} is not in ${member}`);
  return writeZip(members, new Map([[member, Buffer.from(after)]]));
}
