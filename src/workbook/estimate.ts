import { type Part, partName } from "../bidding/bid.ts";
import { shareLumpSums } from "../bidding/lump-sums.ts";
import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { ALLOWANCE_UNIT, allowanceWording } from "./allowances.ts";
import { ITEM_FORMAT, ITEM_HEADING, itemNumber, type ScheduleLine } from "./bid-schedule.ts";
import type { BidScheduleLine, BidView } from "./bid-view.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { sumOfLine, sumOfLineInPart } from "./lateral-quantities.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { costRanges, heldCosts } from "./ranking.ts";
import { lettersOf } from "./references.ts";
import { type Cell, firstRow, formula, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

const columnsIn = (currency: string) =>
  ({
    item: { heading: ITEM_HEADING, width: 8, format: ITEM_FORMAT },
    description: { heading: "Description", width: 58, wrap: true },
    unit: { heading: "Unit", width: 10 },
    quantity: { heading: "Quantity", width: 12, format: HUNDREDTHS },
    price: { heading: `Unit price (${currency})`, width: 14, format: HUNDREDTHS },
    extension: { heading: `Extension (${currency})`, width: 16, format: HUNDREDTHS },
  }) as const satisfies Record<string, SheetColumn>;

const at = lettersOf(columnsIn(""));

/** A line of the estimate: of the schedule, or an allowance. */
interface EstimateLine {
  readonly part: Part;
  readonly number: number;
  readonly description: string;
  readonly unit: string;
  readonly quantity: (row: number) => Cell;
  readonly hundredths: number;
  readonly lumpSum: boolean;
  readonly price: Cents | null;
}

/**
 * The city's own estimate: every part of the bid as it is issued, at the program's unit prices, allowances at their own
 * amounts; so that each part's total is what returned bids are compared with. Never in the bid book.
 */
export function estimateSheet(contents: BookContents, view: BidView): SheetModel {
  const divided = view.alternates.length > 0;
  const notes = [
    priceNote(contents),
    `The laterals' own costs are rounded to the cent one by one and hold no lump sums${view.allowances.length > 0 ? " and no allowances" : ""}; a lateral with an unpriced item has none. What is left when these are taken off is the difference: roundings, and unpriced laterals.`,
    ...(divided
      ? [
          "A lump sum is priced for all the work: where several parts of the bid ask for it, each has its share by its other work here. A bidder prices each by itself.",
        ]
      : []),
  ];
  const first = firstRow(notes);
  const parts: readonly Part[] = ["base", ...view.alternates.map(({ number }) => number)];
  const whole = parts.flatMap((part) => [
    ...view.lines.filter((line) => line.part === part).map((line) => estimateLine(contents, view, line)),
    ...(part === "base" ? allowanceLines(view) : []),
  ]);
  const prices = shareLumpSums(
    whole.map((line) => ({ ...line, item: itemNumber(line.number) })),
    whole.map(({ price }) => price),
  );
  const lines = whole.map((line, i): EstimateLine => ({ ...line, price: prices[i] ?? null }));
  const last = first + lines.length - 1;
  const totalOf = (own: readonly EstimateLine[]): Cents =>
    own.reduce(
      (sum, { hundredths, price }) => (price === null ? sum : cents(sum + extend(hundredths, price))),
      cents(0),
    );
  const sumOver = (is: (line: EstimateLine) => boolean): Cell => {
    const own = lines.filter(is);
    const from = first + lines.findIndex(is);
    return formula(`SUM(${at.extension}${from}:${at.extension}${from + own.length - 1})`, totalOf(own) / 100);
  };
  const total = totalOf(lines);
  const ofLaterals = contents.program.totals.program.cost;
  const unpriced = lines.filter(({ price }) => price === null).length;
  const footRow = (what: string, value: Cell): Row => [
    null,
    what,
    null,
    null,
    null,
    value,
    ...(divided ? [null] : []),
  ];
  const ofParts = divided
    ? parts.map((part) =>
        footRow(
          `Total of the ${partTitle(view, part)}`,
          sumOver((line) => line.part === part),
        ),
      )
    : [];
  const allowances =
    view.allowances.length === 0
      ? []
      : [
          footRow(
            "of it allowances set by the owner",
            sumOver(({ unit }) => unit === ALLOWANCE_UNIT),
          ),
        ];
  const ofLumps = lines.filter(({ lumpSum, unit }) => lumpSum && unit !== ALLOWANCE_UNIT);
  const lumpUnit = ofLumps[0]?.unit;
  const lumps =
    lumpUnit === undefined
      ? []
      : [
          footRow(
            "of it lump sums",
            formula(
              `SUMIF(${at.unit}${first}:${at.unit}${last},"${lumpUnit}",${at.extension}${first}:${at.extension}${last})`,
              totalOf(ofLumps) / 100,
            ),
          ),
        ];
  const totalRow = last + ofParts.length + 1;
  const lateralRow = totalRow + allowances.length + lumps.length + 1;
  const beside = cents(totalOf(ofLumps) + totalOf(lines.filter(({ unit }) => unit === ALLOWANCE_UNIT)));
  const ofHeld = ofLaterals - contents.bid.program.totals.program.cost;
  const ofOver = contents.worksOver.reduce((sum, { cost }) => sum + (cost ?? 0), 0);
  const held =
    ofHeld === 0
      ? []
      : [
          footRow(
            "of them done, refused or held back, and not bid",
            formula(heldCosts(contents), ofHeld / 100),
          ),
        ];
  const over =
    ofOver === 0
      ? []
      : [
          footRow("of them works that are over, and not bid", {
            kind: "number",
            value: ofOver / 100,
            format: HUNDREDTHS,
          }),
        ];
  const notBid = [...held, ...over].map((_, i) => `+${at.extension}${lateralRow + 1 + i}`).join("");
  return {
    name: "Estimate",
    title: "Estimate",
    notes,
    columns: [
      ...Object.values(columnsIn(styleOf(contents).currency)),
      ...(divided ? [{ heading: "Part of the bid", width: 12 }] : []),
    ],
    rows: lines.map(({ number, description, unit, quantity, hundredths, price, part }, i): Row => {
      const row = first + i;
      return [
        number,
        description,
        unit,
        quantity(row),
        price === null ? null : price / 100,
        formula(
          `IF(${at.price}${row}="","",ROUND(${at.quantity}${row}*${at.price}${row},2))`,
          price === null ? "" : extend(hundredths, price) / 100,
        ),
        ...(divided ? [partName(part)] : []),
      ];
    }),
    foot: [
      ...ofParts,
      footRow(
        divided ? "Total of all parts" : "Total",
        formula(`SUM(${at.extension}${first}:${at.extension}${last})`, total / 100),
      ),
      ...allowances,
      ...lumps,
      footRow("Costs of the laterals, added up", formula(`SUM(${costRanges(contents)})`, ofLaterals / 100)),
      ...held,
      ...over,
      footRow(
        "Difference",
        formula(
          `ROUND(${at.extension}${totalRow}-SUM(${at.extension}${totalRow + 1}:${at.extension}${lateralRow})${notBid},2)`,
          (total - beside - ofLaterals + ofHeld + ofOver) / 100,
        ),
      ),
      footRow(
        "Lines without a unit price",
        formula(
          `ROWS(${at.price}${first}:${at.price}${last})-COUNT(${at.price}${first}:${at.price}${last})`,
          unpriced,
          WHOLE,
        ),
      ),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: false,
  };
}

const partTitle = ({ alternates }: BidView, part: Part): string => {
  const name = alternates.find(({ number }) => number === part)?.name;
  return name === undefined ? partName(part) : `${partName(part)}, ${name}`;
};

function estimateLine(
  { program: { basis } }: BookContents,
  { alternates, quantities }: BidView,
  line: BidScheduleLine,
): EstimateLine {
  const sum = (itemCell: string): string =>
    alternates.length === 0
      ? sumOfLine(itemCell, quantities)
      : sumOfLineInPart(itemCell, line.part, quantities);
  return {
    ...line,
    quantity: (row) =>
      line.item.unit === "lump sum"
        ? { kind: "number", value: line.hundredths / 100, format: WHOLE }
        : formula(sum(`$${at.item}${row}`), line.hundredths / 100, line.format),
    lumpSum: line.item.unit === "lump sum",
    price: priceOf(basis.prices, line),
  };
}

const priceOf = (prices: Readonly<Record<string, Cents>>, { key, item }: ScheduleLine): Cents | null =>
  prices[key] ?? prices[item.key] ?? null;

const allowanceLines = ({ allowances }: BidView): readonly EstimateLine[] =>
  allowances.map((allowance) => ({
    part: "base",
    number: allowance.number,
    description: allowanceWording(allowance),
    unit: ALLOWANCE_UNIT,
    quantity: () => ({ kind: "number", value: 1, format: WHOLE }),
    hundredths: 100,
    lumpSum: true,
    price: allowance.amount,
  }));
