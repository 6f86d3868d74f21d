import { showCount, unitLabel } from "../quantity/show-quantity.ts";
import type { BidView } from "./bid-view.ts";
import { type Formula, formula, type Row, type Section, type SheetModel } from "./sheet-model.ts";

/** What each sheet is for; a list in several parts has numbers behind its name. */
const SHEETS: Readonly<Record<string, string>> = {
  "Bid form": "Who bids, signature, security, addenda; and which issue this is.",
  "Bid schedule": "Every line to be priced: item, wording, unit, quantity, unit price, extension, total.",
  Alternate: "The lines of an additive alternate, priced apart from the base bid.",
  Changes: "What this issue changes against the one before, line by line.",
  "Instructions to bidders": "How bids are read, corrected and compared.",
  "Working conditions":
    "Days and hours of work, flow and who pays for it, site, and what the owner does not state.",
  "Measurement and payment": "How each item is measured and what its price includes.",
  "Lateral schedule": "One row for each lateral with paid work: where it is, what it is, what is to be done.",
  "Lateral quantities": "One row for each bid line of each lateral.",
  "District quantities": "Each bid line by district, compared with the bid schedule.",
  Pictures: "Where the laterals are, and their length by district.",
  "Data gaps": "What the city does not know of the laterals, and what that means for a bid.",
  Basis: "Design criteria, assumptions and lengths the quantities rest on, with the number of the source.",
  Sources: "The sources in full, by number.",
  Cautions: "Where this work can hurt someone.",
  "Number words": "Numbers in words, for the formulas that write totals in words.",
};
const bare = (name: string): string => name.replace(/ \d+$/, "");
const section = (text: string): Section => ({ kind: "section", text });

/** A cell that leads to a sheet of the book; the names are our own. */
const linkTo = (sheet: string): Formula => ({
  ...formula(`HYPERLINK("#'${sheet}'!A1","${sheet}")`, sheet),
  isText: true,
});

/** What the bid book holds and how to price it, with a way to each of these sheets. */
export function howToReadSheet(
  { head, laterals, districts }: BidView,
  sheets: readonly string[],
): SheetModel {
  const length = unitLabel("length", head);
  const rows: readonly Row[] = [
    [
      "What this is",
      `Quantities for bidding on ${showCount(laterals.length)} sewer lateral(s) in ${showCount(districts.length)} district(s). ` +
        "The contract documents govern; local codes, the specification and a licensed engineer decide what is built.",
    ],
    [
      "How to price it",
      "Type a unit price into each yellow cell of the bid schedule: a number and no formula, zero or more, with no more " +
        "than two decimals, and fill in the yellow cells of the bid form. Extensions and the total follow. Nothing else can be " +
        "typed; no password is set. Send the book back whole: it is read by program, and compared with what was issued.",
    ],
    [
      "How it is rounded",
      "A quantity is a sum of the lateral quantities, in hundredths of its unit. An extension is the quantity times " +
        "the unit price, rounded once to the whole cent. The total is the sum of the printed extensions, and stands " +
        "beside it in words.",
    ],
    [
      "How to check it",
      "Each quantity in the bid schedule is a formula over the sheet of lateral quantities, one row for each bid " +
        "line of each lateral. District quantities are sums over the same rows and are compared with the schedule.",
    ],
    [
      "What is not known",
      "An empty cell is not known to the city. A cross-bore or cleanout that is not known is called so: treat the " +
        "lateral as not cleared, and as without a cleanout.",
    ],
    [
      "Units",
      `Lengths are in ${length}, diameters in ${unitLabel("diameter", head)}, walls in ${unitLabel("wall", head)}, money in ${head.currency}.`,
    ],
    [section("Sheets of this book"), section("A name leads to its sheet.")],
    ...sheets.map((name): Row => [linkTo(name), SHEETS[bare(name)] ?? ""]),
  ];
  return {
    name: "How to read this",
    title: "How to read this book",
    notes: [],
    columns: [
      { heading: "Topic", width: 26 },
      { heading: "In words", width: 92, wrap: true },
    ],
    rows,
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}
