import { showCount } from "../quantity/show-quantity.ts";
import { columnLetter } from "./references.ts";
import { shiftFormula } from "./shared-formula.ts";
import { type Opened, opened, Unreadable } from "./unreadable.ts";
import { attributesOf, scanXml } from "./xml-tokens.ts";
import { readZip, unpack, type ZipMember } from "./zip-file.ts";

/** A workbook as it stands in its file: cells with what was typed and what was last worked out, and no more. */
export interface PlainBook {
  readonly members: readonly ZipMember[];
  readonly sheets: readonly PlainSheet[];
  /** Where names of the whole book point: `'Bid schedule'!$E$6:$E$20`. */
  readonly names: ReadonlyMap<string, string>;
}

export interface PlainSheet {
  readonly name: string;
  readonly hidden: boolean;
  /** The member of the zip file that holds it. */
  readonly member: string;
  /** By address; cells that hold nothing are not in it. */
  readonly cells: ReadonlyMap<string, PlainCell>;
}

export interface PlainCell {
  /** Of a formula, what was last worked out; null where nothing was. An error is text such as `#REF!`. */
  readonly value: string | number | boolean | null;
  readonly formula: string | null;
}

/** Cells of all sheets together that a returned workbook may hold. */
const MOST_CELLS = 3_000_000;
/** Sheets a returned workbook may have. */
const MOST_SHEETS = 200;
/** Characters of a formula, by the file format; and of all of them together, written out where cells share one. */
const LONGEST_FORMULA = 8_192;
const MOST_FORMULA_TEXT = 100_000_000;
const LAST_COLUMN = 16_384;
const LAST_ROW = 1_048_576;

/** What a bid has no use for, by the names of members, and how people call it. */
const REFUSED: readonly (readonly [RegExp, string])[] = [
  [/vbaproject|macrosheets|\.bin$.*vba|dialogsheets/i, "macros"],
  [/externallinks?\//i, "links to other workbooks"],
  [/embeddings\/|activex\/|oleobject/i, "embedded programs"],
  [/connections\.xml|querytables?\//i, "connections to other data"],
];

/** Reads a workbook, or says why not. Formulas are read, never worked out; nothing outside of the file is opened. */
export const readPlainBook = (file: string, bytes: Buffer): Opened<PlainBook> =>
  opened(file, () => readBook(bytes));

function readBook(bytes: Buffer): PlainBook {
  const members = readZip(bytes);
  const byName = new Map(members.map((member) => [member.name, member]));
  for (const { name } of members) {
    const refused = REFUSED.find(([pattern]) => pattern.test(name));
    if (refused !== undefined)
      throw new Unreadable(
        `${refused[1]} (${name})`,
        "a workbook without macros, links to other files, embedded programs or connections",
        "Ask for the workbook saved as plain xlsx.",
      );
  }
  if (byName.has("content.xml"))
    throw new Unreadable(
      "an OpenDocument spreadsheet (ods)",
      "a workbook in xlsx",
      "Open it in the program it was made with, save it as xlsx, and give that file.",
    );
  const types = textOf(byName, "[Content_Types].xml");
  if (/macroEnabled|vbaProject/i.test(types))
    throw new Unreadable(
      "a workbook with macros",
      "a workbook without macros",
      "Ask for it saved as plain xlsx.",
    );
  const links = linksOf(textOf(byName, "xl/_rels/workbook.xml.rels"));
  const { sheets, names } = bookParts(textOf(byName, "xl/workbook.xml"));
  const texts = byName.has("xl/sharedStrings.xml") ? sharedTexts(textOf(byName, "xl/sharedStrings.xml")) : [];
  const room = { cells: MOST_CELLS, formulaText: MOST_FORMULA_TEXT };
  if (sheets.length > MOST_SHEETS)
    throw new Unreadable(`${sheets.length} sheets`, `${MOST_SHEETS} at most`, "Ask for the workbook alone.");
  const targets = sheets.map(({ link }) => links.get(link));
  if (new Set(targets).size !== targets.length)
    throw new Unreadable("two sheets that are one", "a whole workbook", "Ask the sender for the file again.");
  return {
    members,
    names,
    sheets: sheets.map(({ name, hidden, link }) => {
      const target = links.get(link);
      if (target === undefined) throw missing(`the sheet ${JSON.stringify(name)}`);
      const member = target.startsWith("/") ? target.slice(1) : `xl/${target}`;
      return { name, hidden, member, cells: cellsOf(textOf(byName, member), texts, room) };
    }),
  };
}

const missing = (what: string): Unreadable =>
  new Unreadable(`a workbook without ${what}`, "a whole workbook", "Ask the sender for the file again.");

function textOf(byName: ReadonlyMap<string, ZipMember>, name: string): string {
  const member = byName.get(name);
  if (member === undefined) throw missing(name);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(unpack(member));
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    throw new Unreadable(`${name} that is no UTF-8 text`, "text in UTF-8", "Ask for the file saved again.");
  }
}

const nothing = (): void => {};

function linksOf(xml: string): ReadonlyMap<string, string> {
  const links = new Map<string, string>();
  scanXml(xml, {
    open(name, attributes) {
      const found = name === "Relationship" ? attributesOf(attributes) : null;
      if (found === null) return;
      if (found.get("TargetMode") === "External")
        throw new Unreadable(
          "a link to another file",
          "a workbook that stands alone",
          "Ask for it without links.",
        );
      links.set(found.get("Id") ?? "", found.get("Target") ?? "");
    },
    close: nothing,
    text: nothing,
  });
  return links;
}

function bookParts(xml: string) {
  const sheets: { name: string; hidden: boolean; link: string }[] = [];
  const names = new Map<string, string>();
  let naming: string | null = null;
  let text = "";
  scanXml(xml, {
    open(name, attributes) {
      if (name === "sheet") {
        const found = attributesOf(attributes);
        const link = [...found].find(([key]) => key === "id" || key.endsWith(":id"))?.[1];
        sheets.push({
          name: found.get("name") ?? "",
          hidden: found.has("state") && found.get("state") !== "visible",
          link: link ?? "",
        });
      } else if (name === "definedName") {
        const found = attributesOf(attributes);
        naming = found.has("localSheetId") ? null : (found.get("name") ?? null);
        text = "";
      }
    },
    close(name) {
      if (name !== "definedName" || naming === null) return;
      names.set(naming, text);
      naming = null;
    },
    text(more) {
      if (naming !== null) text += more;
    },
  });
  return { sheets, names };
}

/** The texts that cells share, without the reading aids some languages add. */
function sharedTexts(xml: string): readonly string[] {
  const texts: string[] = [];
  let text = "";
  let inText = false;
  let aids = 0;
  scanXml(xml, {
    open(name) {
      if (name === "si") text = "";
      else if (name === "rPh") aids++;
      else if (name === "t") inText = aids === 0;
    },
    close(name) {
      if (name === "si") texts.push(unescaped(text));
      else if (name === "rPh") aids--;
      else if (name === "t") inText = false;
    },
    text(more) {
      if (inText) text += more;
    },
  });
  return texts;
}

/** The file format writes what XML cannot carry as `_x0041_`. */
const unescaped = (text: string): string =>
  text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));

function cellsOf(
  xml: string,
  texts: readonly string[],
  room: { cells: number; formulaText: number },
): ReadonlyMap<string, PlainCell> {
  const cells = new Map<string, PlainCell>();
  const shared = new Map<string, { readonly formula: string; readonly at: string }>();
  let [row, column] = [0, 0];
  let address = "";
  let type = "";
  let value: string | null = null;
  let formula: string | null = null;
  let sharedBy: string | null = null;
  let reads: "value" | "formula" | null = null;
  scanXml(xml, {
    open(name, attributes) {
      if (name === "row") {
        row = Number(attributesOf(attributes).get("r") ?? row + 1);
        column = 0;
      } else if (name === "c") {
        const found = attributesOf(attributes);
        column++;
        address = found.get("r") ?? `${columnLetter(column - 1)}${row}`;
        column = columnOf(address);
        type = found.get("t") ?? "n";
        [value, formula, sharedBy] = [null, null, null];
      } else if (name === "v" || name === "t") {
        reads = "value";
        value ??= "";
      } else if (name === "f") {
        const found = attributesOf(attributes);
        sharedBy = found.get("t") === "shared" ? (found.get("si") ?? null) : null;
        reads = "formula";
        formula = "";
      }
    },
    close(name) {
      if (name === "v" || name === "t" || name === "f") reads = null;
      if (name !== "c") return;
      if (formula !== null && sharedBy !== null) {
        const master = shared.get(sharedBy);
        if (formula !== "") shared.set(sharedBy, { formula, at: address });
        else if (master !== undefined) formula = shiftFormula(master.formula, master.at, address);
      }
      if (value === null && formula === null) return;
      const length = formula?.length ?? 0;
      room.formulaText -= length;
      if (length > LONGEST_FORMULA || room.formulaText < 0)
        throw new Unreadable(
          `formulas too long, at ${address}`,
          "formulas as issued",
          "Ask for the file again.",
        );
      if (--room.cells < 0)
        throw new Unreadable(
          `more than ${showCount(MOST_CELLS)} cells`,
          "fewer",
          "Ask the sender for the workbook alone.",
        );
      cells.set(address, { value: cellValue(value, type, texts, address), formula });
    },
    text(more) {
      if (reads === "value") value += more;
      else if (reads === "formula") formula += more;
    },
  });
  return cells;
}

function columnOf(address: string): number {
  const found = /^([A-Z]{1,3})([1-9]\d{0,6})$/.exec(address);
  const column =
    found === null ? 0 : [...found[1]!].reduce((sum, each) => sum * 26 + each.charCodeAt(0) - 64, 0);
  if (column < 1 || column > LAST_COLUMN || Number(found?.[2]) > LAST_ROW)
    throw new Unreadable(
      `a cell called ${JSON.stringify(address)}`,
      "an address such as E6",
      "Ask for the file again.",
    );
  return column;
}

function cellValue(
  written: string | null,
  type: string,
  texts: readonly string[],
  address: string,
): PlainCell["value"] {
  if (written === null) return null;
  switch (type) {
    case "s": {
      const text = texts[Number(written)];
      if (text === undefined)
        throw new Unreadable(
          `a text that is not there, in ${address}`,
          "a whole workbook",
          "Ask for the file again.",
        );
      return text;
    }
    case "b":
      return written === "1" || written === "true";
    case "n": {
      if (written.trim() === "") return null;
      const value = Number(written);
      if (!Number.isFinite(value))
        throw new Unreadable(
          `${JSON.stringify(written.slice(0, 30))} as a number, in ${address}`,
          "a number",
          "Ask for the file again.",
        );
      return value;
    }
    default:
      return unescaped(written);
  }
}
