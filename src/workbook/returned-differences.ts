import type { Problem } from "../quantity/problem.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { bare, type IssuedBid } from "./issued-bid.ts";
import type { NamedCells } from "./named-cells.ts";
import type { PlainBook, PlainCell } from "./plain-book.ts";
import { agrees, readFigures } from "./read-bid.ts";

export interface Differences {
  /** Why the book cannot be compared. */
  readonly problems: readonly Problem[];
  /**
   * What was added to it, for people to read: it may be a condition. Every formula of the bidder's own in an extension or
   * total comes first; of the rest no more than {@link MOST_ADDED} are listed.
   */
  readonly additions: readonly string[];
}

/** More than these are counted, not listed. */
const MOST_LISTED = 5;
const MOST_ADDED = 10;

/**
 * What a returned book has that the issued one has not, cell by cell: wording, units, quantities, formulas. The bidder's
 * own cells are free; an extension or total may be typed over, which the correction of the bid then looks at. A formula of
 * the bidder's own there stands only where it was worked out to what the issued one gives: a file can show any amount beside
 * a formula, and another once it is worked out again.
 */
export function differences(
  file: string,
  issued: PlainBook,
  mark: IssuedBid,
  returned: PlainBook,
): Differences {
  const problems: Problem[] = [];
  const ownFormulas: string[] = [];
  const additions: string[] = [];
  let count = 0;
  const differ = (place: string, found: string, expected: string) => {
    if (++count > MOST_LISTED) return;
    const remedy = "The book is not compared. Ask for prices in the book as it was issued.";
    problems.push({
      severity: "rejected",
      file: `${file}, ${place}`,
      row: null,
      column: null,
      found,
      expected,
      remedy,
    });
  };
  const free = bidderCells(mark);
  const figures = new Map(readFigures(returned, mark).map((each) => [`${each.sheet}!${each.address}`, each]));
  for (const sheet of issued.sheets) {
    const own = returned.sheets.find(({ name }) => name === sheet.name);
    if (own === undefined) {
      differ(sheet.name, "no such sheet", "the sheet as issued");
      continue;
    }
    for (const [address, cell] of sheet.cells) {
      const key = `${sheet.name}!${address}`;
      const figure = figures.get(key);
      if (free.has(key) || figure?.holds === "typed") continue;
      const [place, found] = [`${sheet.name}, cell ${address}`, own.cells.get(address)];
      if (figure?.holds === "own formula") {
        if (agrees(figure))
          ownFormulas.push(`${place}: ${shown(found).slice(0, 80)}, in place of its formula`);
        else
          differ(place, `${shown(found).slice(0, 80)} that shows ${found?.value ?? "nothing"}`, shown(cell));
      } else if (!sameCell(cell, found)) differ(place, shown(found), shown(cell));
    }
    for (const [address, cell] of own.cells)
      if (!sheet.cells.has(address) && !free.has(`${sheet.name}!${address}`) && shown(cell).trim() !== "")
        additions.push(`${sheet.name}, cell ${address}: ${shown(cell).slice(0, 80)}`);
  }
  for (const { name, hidden } of returned.sheets)
    if (!issued.sheets.some((sheet) => sheet.name === name))
      additions.push(`sheet ${JSON.stringify(name.slice(0, 40))} added${hidden ? ", hidden" : ""}`);
  if (count > MOST_LISTED)
    problems.push({
      severity: "rejected",
      file,
      row: null,
      column: null,
      found: `${showCount(count)} cells other than issued`,
      expected: "the book as issued",
      remedy: "The first of them are listed.",
    });
  const more = additions.length - MOST_ADDED;
  return {
    problems,
    additions: [
      ...ownFormulas,
      ...additions.slice(0, MOST_ADDED),
      ...(more > 0 ? [`${showCount(more)} more`] : []),
    ],
  };
}

/** Cells that are the bidder's. */
function bidderCells({ parts, form, lines, totalsWritten }: IssuedBid): ReadonlySet<string> {
  let before = 0;
  // An allowance is the owner's, and stays as printed.
  const own = parts.flatMap(({ cells: { bid_prices: prices }, words: inWords }): NamedCells[] => {
    const from = before;
    before += prices.addresses.length;
    const open = (cells: NamedCells): NamedCells => ({
      ...cells,
      addresses: cells.addresses.filter((_, i) => lines[from + i]!.fixed === null),
    });
    return inWords === null ? [open(prices)] : [open(prices), open(inWords)];
  });
  const all = [...own, ...Object.values(form), ...(totalsWritten === null ? [] : [totalsWritten])];
  return new Set(
    all.flatMap(({ sheet, addresses }) => addresses.map((address) => `${sheet.name}!${address}`)),
  );
}

function sameCell(issued: PlainCell, found: PlainCell | undefined): boolean {
  if (found === undefined) return shown(issued).trim() === "";
  if (issued.formula !== null || found.formula !== null)
    return issued.formula !== null && found.formula !== null && bare(issued.formula) === bare(found.formula);
  const [a, b] = [issued.value, found.value];
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 1e-12 * Math.max(1, Math.abs(a));
  return typeof a === typeof b && spaced(String(a)) === spaced(String(b));
}

const spaced = (text: string): string => text.replace(/\s+/g, " ").trim();

const shown = (cell: PlainCell | undefined): string =>
  cell === undefined ? "nothing" : cell.formula === null ? String(cell.value ?? "") : `=${cell.formula}`;
