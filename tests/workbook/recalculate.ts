import { execFile } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { promisify } from "node:util";
import type ExcelJS from "exceljs";
import type { Book } from "../../src/workbook/sheet-model.ts";
import { bytesOf, readBack } from "./written-book.ts";

/** Path of the spreadsheet program that recalculates, or null where it is not installed. */
export const soffice: string | null =
  (process.env["PATH"] ?? "")
    .split(delimiter)
    .map((folder) => join(folder, "soffice"))
    .find(isExecutable) ?? null;

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Recalculate every formula on loading; without it the cached values of the file are taken as they are. */
const ALWAYS_RECALCULATE = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

export interface Recalculated {
  /** As the engine wrote it. */
  readonly before: ExcelJS.Workbook;
  /** As the spreadsheet program works it out. */
  readonly after: ExcelJS.Workbook;
  /** The file as the spreadsheet program saved it. */
  readonly bytes: Buffer;
  /** What the spreadsheet program took for all books of the run. */
  readonly seconds: number;
}

/** Recalculates books, as data or as files, in one run of the spreadsheet program, with a profile of its own that is removed again. */
export async function recalculate<Name extends string>(
  books: Readonly<Record<Name, Book | Buffer>>,
): Promise<Readonly<Record<Name, Recalculated>>> {
  if (soffice === null) throw new RangeError("recalculate: soffice is not installed");
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-recalculate-"));
  try {
    const profile = join(folder, "profile");
    await mkdir(join(profile, "user"), { recursive: true });
    await writeFile(join(profile, "user", "registrymodifications.xcu"), ALWAYS_RECALCULATE);
    const names = Object.keys(books) as Name[];
    const written = new Map<Name, Buffer>();
    for (const name of names) {
      const book = books[name];
      const bytes = Buffer.isBuffer(book) ? book : await bytesOf(book);
      written.set(name, bytes);
      await writeFile(join(folder, `${name}.xlsx`), bytes);
    }
    const started = performance.now();
    await promisify(execFile)(
      soffice,
      [
        `-env:UserInstallation=file://${profile}`,
        "--headless",
        "--convert-to",
        "xlsx",
        "--outdir",
        join(folder, "recalculated"),
        ...names.map((name) => join(folder, `${name}.xlsx`)),
      ],
      { timeout: 240_000 },
    );
    const seconds = (performance.now() - started) / 1000;
    const read = async (name: Name): Promise<readonly [Name, Recalculated]> => {
      const bytes = await readFile(join(folder, "recalculated", `${name}.xlsx`));
      return [
        name,
        { before: await readBack(written.get(name)!), after: await readBack(bytes), bytes, seconds },
      ];
    };
    return Object.fromEntries(await Promise.all(names.map(read))) as Record<Name, Recalculated>;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

export interface FormulaCell {
  readonly sheet: string;
  readonly address: string;
  readonly formula: string;
  readonly before: number | string;
  readonly after: number | string;
}

/** Every formula of the book as written, with its value before and after. */
export function formulaCells({ before, after }: Recalculated): readonly FormulaCell[] {
  const cells: FormulaCell[] = [];
  for (const worksheet of before.worksheets) {
    worksheet.eachRow((row) =>
      row.eachCell((cell) => {
        if (cell.formula === undefined) return;
        const recalculated = after.getWorksheet(worksheet.name)?.getCell(cell.address);
        cells.push({
          sheet: worksheet.name,
          address: cell.address,
          formula: cell.formula,
          before: resultOf(cell),
          after: recalculated === undefined ? "no such sheet" : resultOf(recalculated),
        });
      }),
    );
  }
  return cells;
}

/** An empty text comes back as nothing. */
function resultOf(cell: ExcelJS.Cell): number | string {
  const { result } = cell;
  if (typeof result === "number" || typeof result === "string") return result;
  return result === undefined || result === null ? "" : JSON.stringify(result);
}

/** Sums of decimals in another order differ in the last bits: twelve digits agree long before that matters. */
const RELATIVE_TOLERANCE = 1e-9;

/** Whether two values of a formula are the same; whole numbers, and so counts and hundredths times 100, exactly. */
export function sameValue(a: number | string, b: number | string): boolean {
  if (typeof a === "string" || typeof b === "string") return a === b;
  return Math.abs(a - b) <= RELATIVE_TOLERANCE * Math.max(1, Math.abs(a), Math.abs(b));
}

export const disagreements = (recalculated: Recalculated): readonly FormulaCell[] =>
  formulaCells(recalculated).filter(({ before, after }) => !sameValue(before, after));
