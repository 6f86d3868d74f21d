import { type Amount, centsOf, MISSING, type Part, partName, partsOf } from "../../bidding/bid.ts";
import { sumOf } from "../../bidding/compared-bids.ts";
import type { CorrectedBid } from "../../bidding/corrected-bid.ts";
import { isOfTotal } from "../../bidding/corrected-bid.ts";
import { extend } from "../../quantity/money.ts";
import type { Cents } from "../../quantity/si.ts";
import { HUNDREDTHS } from "../number-format.ts";
import { columnLetter } from "../references.ts";
import { type Cell, firstRow, formula, type Row, type SheetColumn, type SheetModel } from "../sheet-model.ts";
import { AWARD, describeLine, money, type Tabulation } from "./tabulation.ts";

const NAME = "Tabulation";
const NOTES: readonly string[] = [
  "As read, and as corrected by the instructions to bidders; each correction is explained on the sheet Corrections.",
  `An extension is quantity × unit price, rounded to the cent. ${AWARD}`,
];
/** Columns before those of the bids: item, description, unit, quantity, estimate's price and extension. */
const BEFORE = 6;
const PER_BID = 5;
/** Characters of item and description, of a bidder's columns and of the first of them, and the groups of a page beside item and description. */
const LINE = 8 + 40;
const GROUP = 67;
const FIRST = 15;
const GROUPS_A_PAGE = 2;

/** Columns of a bid whose cells other sheets work with. */
export const bidLetters = (bid: number) => {
  const at = BEFORE + PER_BID * bid;
  return {
    price: columnLetter(at + 2),
    extension: columnLetter(at + 3),
    readExtension: columnLetter(at + 1),
  };
};

/** A cell of a line, as other sheets name it. */
export const lineCell = (letter: string, line: number): string =>
  `'${NAME}'!${letter}${firstRow(NOTES) + line}`;

/** The cell of the sum of a part: below the lines is one row of sums for each part. */
export const sumCell = ({ lines }: Tabulation, letter: string, part: Part): string =>
  `'${NAME}'!${letter}${firstRow(NOTES) + lines.length + partsOf(lines).indexOf(part)}`;

/** The bids beside one another, line by line, as read and as corrected. */
export function tabulationSheet(of: Tabulation): SheetModel {
  const { lines, bids, estimate, head } = of;
  const first = firstRow(NOTES);
  const price = (name: string, width: number): SheetColumn => ({ heading: name, width, format: HUNDREDTHS });
  const product = (row: number, letter: string, extension: Cents | null): Cell =>
    extension === null ? null : formula(`ROUND($D${row}*${letter}${row},2)`, extension / 100, HUNDREDTHS);
  const extended = (i: number, own: Cents | null) =>
    own === null ? null : extend(lines[i]!.hundredths, own);
  const partSum = (letter: string, part: Part, total: Cents | null, sum: Cents | null): Cell => {
    if (total === null) return null;
    // A total that stands as read, where no rule lets the sum govern, is no sum.
    if (total !== sum) return money(total);
    const own = lines.flatMap((line, i) => (line.part === part ? [first + i] : []));
    return formula(`ROUND(SUM(${letter}${own[0]}:${letter}${own.at(-1)}),2)`, total / 100, HUNDREDTHS);
  };
  const sumOfPart = (part: Part, amountOf: (i: number) => Cents | null): Cents | null =>
    sumOf(lines.flatMap((line, i) => (line.part === part ? [amountOf(i)] : [])));
  return {
    name: NAME,
    title: "Bid tabulation",
    notes: NOTES,
    columns: [
      { heading: "Item", width: 8 },
      { heading: "Description", width: LINE - 8, wrap: true },
      // These four are as wide as a bidder's five, so that every page holds whole groups: see pageWidth.
      { heading: "Unit", width: 14 },
      { heading: "Quantity", width: 15, format: HUNDREDTHS },
      price(`Estimate, unit price (${head.currency})`, 17),
      price("Estimate, extension", GROUP - 14 - 15 - 17),
      ...bids.flatMap(({ bid }): SheetColumn[] => [
        price(`${bid.name}: unit price as read`, FIRST),
        price(`${bid.name}: extension as read`, 14),
        price(`${bid.name}: unit price as corrected`, 13),
        price(`${bid.name}: extension as corrected`, 14),
        { heading: `${bid.name}: see Corrections`, width: GROUP - FIRST - 14 - 13 - 14 },
      ]),
    ],
    rows: lines.map((line, i): Row => {
      const row = first + i;
      const own = estimate[i] ?? null;
      return [
        line.item,
        describeLine(line),
        line.unit,
        line.hundredths / 100,
        money(own),
        product(row, "$E", extended(i, own)),
        ...bids.flatMap((each, b): Row => {
          const read = each.bid.lines[i]!;
          const corrected = each.lines[i]!;
          return [
            asWritten(read.price),
            asWritten(read.extension),
            money(corrected.price),
            // An extension that no rule corrected stands as it was read, and not as the product that it is not.
            corrected.price !== null && corrected.extension === extended(i, corrected.price)
              ? product(row, bidLetters(b).price, corrected.extension)
              : money(corrected.extension),
            seeCorrections(each.findings, i),
          ];
        }),
      ];
    }),
    foot: partsOf(lines).map((part): Row => {
      const name = partName(part);
      const ofEstimate = sumOfPart(part, (i) => extended(i, estimate[i] ?? null));
      return [
        null,
        `Sum of the ${name}`,
        null,
        null,
        null,
        partSum("F", part, ofEstimate, ofEstimate),
        ...bids.flatMap(
          (each, b): Row => [
            null,
            asWritten(each.bid.totals.get(part) ?? MISSING, each.asRead.get(part) ?? null),
            null,
            partSum(
              bidLetters(b).extension,
              part,
              each.corrected.get(part) ?? null,
              sumOfPart(part, (i) => each.lines[i]!.extension),
            ),
            each.findings.some((found) => isOfTotal(found) && found.part === part) ? "yes" : null,
          ],
        ),
      ];
    }),
    frozenColumns: 2,
    pagesWide: Math.ceil((1 + bids.length) / GROUPS_A_PAGE),
    // Nearly the next column more, which then has no room; and room enough where a character is 5.56 points and not 5.25 (measured).
    pageWidth: LINE + GROUPS_A_PAGE * GROUP + FIRST - 1,
    locked: false,
  };
}

/** Whether the line has findings, and whether all they say is that its price is a formula. */
function seeCorrections(findings: CorrectedBid["findings"], i: number): Cell {
  const own = findings.filter(({ line, lines }) => line === i || lines?.includes(i));
  return own.length === 0 ? null : own.every(({ formula: of }) => of !== undefined) ? "formula" : "yes";
}

/** As the bidder has it: an amount, or what stands there instead. */
const asWritten = (written: Amount, read: Cents | null = centsOf(written)): Cell =>
  written.kind === "unreadable" ? written.text : money(read);
