import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import type { IssuedContent } from "../bidding/issue-changes.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { writeAtomically } from "./atomic-write.ts";
import { hashFile } from "./content-hash.ts";
import type { ProgramLock } from "./lock.ts";
import { fileInside, MOST_BYTES, namesInside, ownFolder, readInside } from "./program-files.ts";

/** Folder of the records of issues inside a program folder: `issues/1.json`, `issues/2.json`. */
export const ISSUES = "issues";

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const words = z.array(z.string());

const recordSchema = z.strictObject({
  schema: z.literal(1),
  number: z.number().int().positive(),
  /** ISO 8601, the day of the issue. */
  date: z.iso.date(),
  /** What changed, in the city's words; null for the first issue. */
  addendum: z.string().nullable(),
  /** The saved season that was issued; null is the whole plan. Records of before it was kept have none. */
  season: z.string().nullable().default(null),
  /** Marks of the saved seasons it was made from, by name. Records of before they were kept have none. */
  seasons: z.record(z.string(), hash).default({}),
  /** The mark of the content, as the bid form of the book shows it. */
  content: z.string(),
  /** The workbook as it was issued, and SHA-256 of its bytes. */
  book: z.strictObject({ file: z.string(), sha256: hash }),
  lines: z.array(
    z.strictObject({
      key: z.string(),
      item: z.string(),
      wording: z.string(),
      unit: z.string(),
      hundredths: z.number().int().nonnegative(),
      // Records of before there were alternates and allowances have neither.
      sheet: z.string().default("Bid schedule"),
      amount: z.number().int().positive().nullable().default(null),
    }),
  ),
  sheets: z.array(
    z.strictObject({
      name: z.string(),
      notes: words,
      headings: words,
      keys: z.array(z.number().int().nonnegative()).min(1),
      rows: z.array(words),
    }),
  ),
});

/** An issue of the bid documents as it is remembered. Whoever has it can tell what the next one changes. */
export type IssueRecord = Readonly<z.infer<typeof recordSchema>> & IssuedContent;

export type IssueReading =
  | { readonly ok: true; readonly records: readonly IssueRecord[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Every issue of a program, the first first; refused where one between is missing or cannot be read. */
export async function readIssueRecords(folder: string): Promise<IssueReading> {
  const records: IssueRecord[] = [];
  const own = await ownFolder(folder, ISSUES);
  if (!own.ok) return { ok: false, problems: [own.problem] };
  for (const [i, file] of (await recordFiles(folder)).entries()) {
    const read = await readInside(folder, `${ISSUES}/${file}`, MOST_BYTES.saved);
    if (!read.ok) return { ok: false, problems: [read.problem] };
    const record = readRecord(read.bytes.toString("utf8"));
    if (record?.number !== i + 1 || file !== `${i + 1}.json`)
      return {
        ok: false,
        problems: [
          fileProblem(
            `${ISSUES}/${file}`,
            record === null ? "no record of an issue" : `a record of issue ${record.number}`,
            `the record of issue ${i + 1}, as it was written`,
            "Take the records back from a backup: without them nobody can tell what was issued.",
          ),
        ],
      };
    records.push(record);
  }
  return { ok: true, records };
}

const recordFiles = async (folder: string): Promise<readonly string[]> =>
  (await namesInside(folder, ISSUES))
    .filter((file) => /^[1-9]\d*\.json$/.test(file))
    .sort((a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10));

/** A record from the text of its file; null where it is none. */
export function readRecord(text: string): IssueRecord | null {
  try {
    return recordSchema.parse(JSON.parse(text));
  } catch (error) {
    if (error instanceof SyntaxError || error instanceof z.ZodError) return null;
    throw error;
  }
}

/** Keeps a record, once its book is in place. */
export async function keepIssueRecord(lock: ProgramLock, record: IssueRecord): Promise<readonly Problem[]> {
  const own = await ownFolder(lock.folder, ISSUES);
  if (!own.ok) return [own.problem];
  await mkdir(own.path, { recursive: true });
  await writeAtomically(join(own.path, `${record.number}.json`), `${JSON.stringify(record)}\n`);
  return [];
}

export type IssuedBook =
  | { readonly ok: true; readonly path: string }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** The workbook of an issue, refused where it is not byte for byte what was issued. */
export async function issuedBook(folder: string, { number, book }: IssueRecord): Promise<IssuedBook> {
  const inside = await fileInside(folder, book.file);
  if (!inside.ok) return { ok: false, problems: [inside.problem] };
  if ((await hashFile(inside.path)) === book.sha256) return { ok: true, path: inside.path };
  const expected = `the book as it was issued, issue ${number}`;
  const remedy =
    "Put the book back as bidders have it, or name another with --issued; a book that was opened and saved is another.";
  return { ok: false, problems: [fileProblem(book.file, "other bytes", expected, remedy)] };
}
