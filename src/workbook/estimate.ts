import { extend } from "../quantity/money.ts";
import { cents } from "../quantity/si.ts";
import type { ScheduleLine } from "./bid-schedule.ts";
import type { BidView } from "./bid-view.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { sumOfLine } from "./lateral-quantities.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { costRanges } from "./ranking.ts";
import { lettersOf } from "./references.ts";
import { type Cell, firstRow, formula, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

const columnsIn = (currency: string) =>
  ({
    item: { heading: "Item", width: 8, format: "0.00" },
    description: { heading: "Description", width: 58, wrap: true },
    unit: { heading: "Unit", width: 10 },
    quantity: { heading: "Quantity", width: 12, format: HUNDREDTHS },
    price: { heading: `Unit price (${currency})`, width: 14, format: HUNDREDTHS },
    extension: { heading: `Extension (${currency})`, width: 16, format: HUNDREDTHS },
  }) as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columnsIn(""));

/** The city's own estimate: the bid schedule at the program's unit prices. Never in the bid book. */
export function estimateSheet(contents: BookContents, { lines, quantities }: BidView): SheetModel {
  const { prices } = contents.program.basis;
  const notes = [
    priceNote(contents),
    "The laterals' own costs are rounded to the cent one by one and hold no lump sums; a lateral with an unpriced item has none. The difference is no more than that.",
  ];
  const first = firstRow(notes);
  const last = first + lines.length - 1;
  const priceOf = (line: ScheduleLine) => prices[line.key] ?? prices[line.item.key] ?? null;
  const extensionOf = (line: ScheduleLine): number | "" => {
    const price = priceOf(line);
    return price === null ? "" : extend(line.hundredths, price) / 100;
  };
  const total = lines.reduce((sum, line) => {
    const price = priceOf(line);
    return price === null ? sum : cents(sum + extend(line.hundredths, price));
  }, cents(0));
  const ofLaterals = contents.program.totals.program.cost;
  const unpriced = lines.filter((line) => priceOf(line) === null).length;
  const footRow = (what: string, value: Cell): Row => [null, what, null, null, null, value];
  const totalCell = `${at.extension}${last + 1}`;
  return {
    name: "Estimate",
    title: "Estimate",
    notes,
    columns: Object.values(columnsIn(styleOf(contents).currency)),
    rows: lines.map((line, i): Row => {
      const row = first + i;
      const price = priceOf(line);
      return [
        line.number,
        line.description,
        line.unit,
        line.item.unit === "lump sum"
          ? { kind: "number", value: line.hundredths / 100, format: WHOLE }
          : formula(sumOfLine(`$${at.item}${row}`, quantities), line.hundredths / 100, line.format),
        price === null ? null : price / 100,
        formula(
          `IF(${at.price}${row}="","",ROUND(${at.quantity}${row}*${at.price}${row},2))`,
          extensionOf(line),
        ),
      ];
    }),
    foot: [
      footRow("Total", formula(`SUM(${at.extension}${first}:${at.extension}${last})`, total / 100)),
      footRow("Costs of the laterals, added up", formula(`SUM(${costRanges(contents)})`, ofLaterals / 100)),
      footRow(
        "Difference",
        formula(`ROUND(${totalCell}-${at.extension}${last + 2},2)`, (total - ofLaterals) / 100),
      ),
      footRow(
        "Lines without a unit price",
        formula(`COUNTBLANK(${at.price}${first}:${at.price}${last})`, unpriced, WHOLE),
      ),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: false,
  };
}
