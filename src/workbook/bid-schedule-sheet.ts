import type { ScheduleName } from "./bid-names.ts";
import type { BidView } from "./bid-view.ts";
import { sumOfLine } from "./lateral-quantities.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { lettersOf } from "./references.ts";
import {
  type Cell,
  firstRow,
  formula,
  type Row,
  type SheetColumn,
  type SheetModel,
  UNIT_PRICE,
} from "./sheet-model.ts";

const NAME = "Bid schedule";

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

const notes = [
  "Type a unit price into each yellow cell. Quantities are sums over the sheet of lateral quantities.",
  "An extension is quantity × unit price, rounded to the cent; it stays empty until the price is there.",
];

/** Which lines an addendum changed. */
export interface ChangedLines {
  readonly addendum: number;
  /** By the plan's name of the line. */
  readonly changed: ReadonlySet<string>;
}

/** Every line to be priced, with its quantity by formula and its price blank; in a re-issue changed lines say so. */
export function bidScheduleSheet(
  { head, lines, quantities }: BidView,
  changes: ChangedLines | null = null,
): SheetModel {
  const columns = columnsIn(head.currency);
  const first = firstRow(notes);
  const last = first + lines.length - 1;
  const prices = `${at.price}${first}:${at.price}${last}`;
  const extensions = `${at.extension}${first}:${at.extension}${last}`;
  const column = (key: keyof typeof at) => `$${at[key]}$${first}:$${at[key]}$${last}`;
  const lump = (line: BidView["lines"][number]): boolean => line.item.unit === "lump sum";
  return {
    name: NAME,
    title: "Bid schedule",
    notes,
    columns: [...Object.values(columns), ...(changes === null ? [] : [{ heading: "Changed", width: 14 }])],
    rows: lines.map((line, i): Row => {
      const row = first + i;
      const quantity: Cell = lump(line)
        ? { kind: "number", value: 1, format: WHOLE }
        : formula(sumOfLine(`$${at.item}${row}`, quantities), line.hundredths / 100, line.format);
      const price = `${at.price}${row}`;
      return [
        line.number,
        line.description,
        line.unit,
        quantity,
        UNIT_PRICE,
        formula(`IF(${price}="","",ROUND(${at.quantity}${row}*${price},2))`, "", HUNDREDTHS),
        ...(changes === null ? [] : [changes.changed.has(line.key) ? `by addendum ${changes.addendum}` : ""]),
      ];
    }),
    foot: [
      [null, "Total of the priced lines", null, null, null, formula(`SUM(${extensions})`, 0, HUNDREDTHS)],
      [
        null,
        "Lines still without a unit price",
        null,
        null,
        null,
        formula(`COUNTBLANK(${prices})`, lines.length, WHOLE),
      ],
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
    names: {
      bid_items: column("item"),
      bid_wordings: column("description"),
      bid_units: column("unit"),
      bid_quantities: column("quantity"),
      bid_prices: column("price"),
      bid_extensions: column("extension"),
      bid_total: `$${at.extension}$${last + 1}`,
      bid_unpriced: `$${at.extension}$${last + 2}`,
    } satisfies Record<ScheduleName, string>,
  };
}

/** The quantity of the line at this place of the schedule, as other sheets refer to it. */
export const scheduleQuantityCell = (line: number): string =>
  `'${NAME}'!$${at.quantity}$${firstRow(notes) + line}`;

/** How each item is measured and what its price includes. */
export function paymentSheet({ lines }: BidView): SheetModel {
  const items = new Map(lines.map((line) => [line.item.key, line]));
  return {
    name: "Measurement and payment",
    title: "Measurement and payment",
    notes: ["In the program's own words; the specification governs where it says otherwise."],
    columns: [
      { heading: "Item", width: 8, format: "0" },
      { heading: "Wording", width: 44, wrap: true },
      { heading: "Unit", width: 10 },
      { heading: "How it is measured and paid", width: 56, wrap: true },
    ],
    rows: [...items.values()].map(({ item, unit }): Row => [item.number, item.wording, unit, item.payment]),
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
  };
}
