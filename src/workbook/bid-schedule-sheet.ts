import type { Part } from "../bidding/bid.ts";
import { mobilizationFraction } from "../bidding/mobilization.ts";
import { showStatedPercent } from "../quantity/percent.ts";
import { cents } from "../quantity/si.ts";
import type { BiddingRules, MobilizationCap } from "../reference/bidding-rules.ts";
import { ALLOWANCE_UNIT, allowanceKey, allowanceWording } from "./allowances.ts";
import { capNames, type ScheduleName, TOTAL_IN_WORDS, WORDS } from "./bid-names.ts";
import { ITEM_FORMAT, ITEM_HEADING, scheduleSheetName } from "./bid-schedule.ts";
import type { BidScheduleLine, BidView, DeletedLine } from "./bid-view.ts";
import { sumOfLine, sumOfLineInPart } from "./lateral-quantities.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { columnLetter, lettersOf } from "./references.ts";
import {
  type Cell,
  type Formula,
  firstRow,
  formula,
  type Row,
  type SheetColumn,
  type SheetModel,
  UNIT_PRICE,
} from "./sheet-model.ts";
import { inWords } from "./words-sheet.ts";

function columnsIn(currency: string, asksWords: boolean) {
  const words: SheetColumn = { heading: "Unit price in words", width: 40, wrap: true };
  return {
    item: { heading: ITEM_HEADING, width: 8, format: ITEM_FORMAT },
    description: { heading: "Description", width: 58, wrap: true },
    unit: { heading: "Unit", width: 10 },
    quantity: { heading: "Quantity", width: 12, format: HUNDREDTHS },
    price: { heading: `Unit price (${currency})`, width: 14, format: HUNDREDTHS },
    ...(asksWords ? { words } : {}),
    extension: { heading: `Extension (${currency})`, width: 16, format: HUNDREDTHS },
  } satisfies Record<string, SheetColumn>;
}

const notesOf = (part: Part, { alternates, deleted }: BidView): readonly string[] => [
  "Type a unit price into each yellow cell. Quantities are sums over the sheet of lateral quantities.",
  "An extension is quantity × unit price, rounded to the cent; it stays empty until the price is there." +
    (part === "base"
      ? alternates.length === 0
        ? ""
        : " Mobilization is asked for here only, for the alternates too; a cap on it counts the base bid alone."
      : " This is added to the base bid where the owner takes it; it is priced apart."),
  ...deletedNote(deleted.filter((line) => line.part === part)),
];

/** Numbers that are missed in the order are told, so that nobody looks for their lines. */
function deletedNote(deleted: readonly DeletedLine[]): readonly string[] {
  if (deleted.length === 0) return [];
  const addenda = [...new Set(deleted.map(({ addendum }) => addendum))].sort((a, b) => a - b);
  const said = addenda.map((addendum) => {
    const items = deleted.filter((line) => line.addendum === addendum).map(({ item }) => item);
    return `${items.join(", ")} by addendum ${addendum}`;
  });
  return [`Deleted from this schedule, and their numbers given to no other line: ${said.join("; ")}.`];
}

/** Which lines an addendum changed. */
export interface ChangedLines {
  readonly addendum: number;
  /** What was done to a line, by the plan's name of it: see lineKey. */
  readonly changed: ReadonlyMap<string, "changed" | "new">;
}

/** The name of a line over all parts of the bid. */
export const lineKey = ({ part, key }: Pick<BidScheduleLine, "part" | "key">): string =>
  part === "base" ? key : `${key}, alternate ${part}`;

/** Where a schedule has its cells: its letters, its first row and the row of its total. */
export interface SchedulePlace {
  readonly part: Part;
  readonly sheet: string;
  readonly letters: Readonly<
    Record<"item" | "description" | "unit" | "quantity" | "price" | "extension", string>
  >;
  readonly words: string | null;
  readonly first: number;
  readonly last: number;
}

export function schedulePlace(view: BidView, part: Part, asksWords: boolean): SchedulePlace {
  const columns = columnsIn("", asksWords);
  const letters = lettersOf<Exclude<keyof typeof columns, "words">>(columns);
  const words = asksWords ? columnLetter(Object.keys(columns).indexOf("words")) : null;
  const first = firstRow(notesOf(part, view));
  const count =
    view.lines.filter((line) => line.part === part).length + (part === "base" ? view.allowances.length : 0);
  return { part, sheet: scheduleSheetName(part), letters, words, first, last: first + count - 1 };
}

/** The total of a part, as other sheets refer to it. */
export const totalCell = ({ sheet, letters, last }: SchedulePlace): string =>
  `'${sheet}'!$${letters.extension}$${last + 1}`;

/** What a schedule needs beside the view. */
export interface ScheduleOptions {
  readonly changes: ChangedLines | null;
  /** The program's instructions to bidders, where they are known. */
  readonly rules: Pick<BiddingRules, "words" | "mobilizationCap"> | null;
}

/** Whether unit prices are to be written in words too: where the instructions say which of the two governs. */
export const asksWords = ({ rules }: Pick<ScheduleOptions, "rules">): boolean =>
  (rules?.words ?? null) !== null;

/** Every line of a part to be priced, with its quantity by formula and its price blank; in a re-issue changed lines say so. */
export function bidScheduleSheet(
  view: BidView,
  part: Part = "base",
  options: ScheduleOptions = { changes: null, rules: null },
): SheetModel {
  const { head, quantities, alternates } = view;
  const { changes } = options;
  const asked = asksWords(options);
  const columns = columnsIn(head.currency, asked);
  const { letters: at, words, first, last } = schedulePlace(view, part, asked);
  const own = view.lines.filter((line) => line.part === part);
  const allowances = part === "base" ? view.allowances : [];
  const range = (letter: string) => `${letter}${first}:${letter}${last}`;
  const named = (letter: string) => `$${letter}$${first}:$${letter}$${last}`;
  const foot = (letter: string, row: number) => `$${letter}$${last + row}`;
  const changed = (key: string): Row => {
    if (changes === null) return [];
    const done = changes.changed.get(key);
    const by = `by addendum ${changes.addendum}`;
    return [done === undefined ? "" : done === "new" ? `new, ${by}` : by];
  };
  const extension = (row: number, result: number | ""): Cell =>
    formula(
      `IF(${at.price}${row}="","",ROUND(${at.quantity}${row}*${at.price}${row},2))`,
      result,
      HUNDREDTHS,
    );
  const inWordsColumn = (cell: Cell): Row => (asked ? [cell] : []);
  const carried = cents(allowances.reduce((sum, { amount }) => sum + amount, 0));
  const total = `${at.extension}${last + 1}`;
  const footRow = (what: Cell, value: Cell): Row => [
    null,
    what,
    null,
    null,
    null,
    ...inWordsColumn(null),
    value,
  ];
  const cap = part === "base" ? (options.rules?.mobilizationCap ?? null) : null;
  const alternate = alternates.find(({ number }) => number === part);
  return {
    name: scheduleSheetName(part),
    title: alternate === undefined ? "Bid schedule" : `Alternate ${alternate.number}: ${alternate.name}`,
    notes: notesOf(part, view),
    columns: [...Object.values(columns), ...(changes === null ? [] : [{ heading: "Changed", width: 20 }])],
    rows: [
      ...own.map((line, i): Row => {
        const row = first + i;
        const sum = alternates.length === 0 ? sumOfLine : sumIn(part);
        const quantity: Cell =
          line.item.unit === "lump sum"
            ? { kind: "number", value: 1, format: WHOLE }
            : formula(sum(`$${at.item}${row}`, quantities), line.hundredths / 100, line.format);
        return [
          line.number,
          line.description,
          line.unit,
          quantity,
          UNIT_PRICE,
          ...inWordsColumn({ kind: "answer", lines: 2 }),
          extension(row, ""),
          ...changed(lineKey(line)),
        ];
      }),
      ...allowances.map((allowance, i): Row => {
        const amount = allowance.amount / 100;
        return [
          allowance.number,
          allowanceWording(allowance),
          ALLOWANCE_UNIT,
          { kind: "number", value: 1, format: WHOLE },
          amount,
          ...inWordsColumn(inWords(`${at.price}${first + own.length + i}`, allowance.amount, head.currency)),
          extension(first + own.length + i, amount),
          ...changed(allowanceKey(allowance)),
        ];
      }),
    ],
    foot: [
      footRow("Total of the priced lines", formula(`SUM(${range(at.extension)})`, carried / 100, HUNDREDTHS)),
      footRow(
        "Lines still without a unit price",
        formula(`ROWS(${range(at.price)})-COUNT(${range(at.price)})`, own.length, WHOLE),
      ),
      footRow(inWords(total, carried, head.currency, "Total in words: "), null),
      ...(cap === null
        ? []
        : capRows(cap, view, { at, first, last, total }).map(([what, cell]) => footRow(what, cell))),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    ...(asked ? {} : { portrait: true as const }),
    locked: true,
    names: Object.fromEntries(
      Object.entries({
        bid_items: named(at.item),
        bid_wordings: named(at.description),
        bid_units: named(at.unit),
        bid_quantities: named(at.quantity),
        bid_prices: named(at.price),
        bid_extensions: named(at.extension),
        bid_total: foot(at.extension, 1),
        bid_unpriced: foot(at.extension, 2),
        [TOTAL_IN_WORDS]: foot(at.description, 3),
        ...(words === null ? {} : { [WORDS]: named(words) }),
        ...(cap === null
          ? {}
          : { [capNames.most]: foot(at.extension, 4), [capNames.over]: foot(at.extension, 5) }),
      } satisfies Record<ScheduleName, string> & Record<string, string>).map(([name, cells]) => [
        part === "base" ? name : `${name}_alternate_${part}`,
        cells,
      ]),
    ),
  };
}

const sumIn =
  (part: Part) =>
  (itemCell: string, quantities: BidView["quantities"]): string =>
    sumOfLineInPart(itemCell, part, quantities);

interface CapCells {
  readonly at: SchedulePlace["letters"];
  readonly first: number;
  readonly last: number;
  readonly total: string;
}

/** What mobilization may come to and by how much it is over, by the same whole cents as bidding/mobilization.ts. */
function capRows(
  cap: MobilizationCap,
  { lines, allowances }: BidView,
  { at, first, last, total }: CapCells,
): readonly (readonly [string, Formula])[] {
  const row =
    first + lines.filter(({ part }) => part === "base").findIndex(({ item }) => item.key === "mobilization");
  const mobilization = `N(${at.extension}${row})`;
  const carried =
    allowances.length === 0
      ? ""
      : `-SUM(${at.extension}${last - allowances.length + 1}:${at.extension}${last})`;
  const { of, over } = mobilizationFraction(cap);
  const most = `INT(ROUND((${total}-${mobilization}${carried})*100,0)*${of}/${over})/100`;
  const percent = showStatedPercent(cap.share);
  const base =
    cap.of === "total"
      ? "the base bid without allowances"
      : "the other items of the base bid without allowances";
  const then =
    cap.remedy === "reduce" ? "what is over is taken off before bids are compared" : "a limit on payment";
  return [
    [`Most for mobilization: ${percent} of ${base}`, formula(most, 0, HUNDREDTHS)],
    [
      `Mobilization over that: ${then}`,
      formula(`MAX(0,ROUND(${mobilization}-${at.extension}${last + 4},2))`, 0, HUNDREDTHS),
    ],
  ];
}

/** The quantities of a line in the parts that have it, as other sheets refer to them. */
export const scheduleQuantityCells =
  (view: BidView, asked: boolean) =>
  (key: string): readonly string[] => {
    const parts: readonly Part[] = ["base", ...view.alternates.map(({ number }) => number)];
    return parts.flatMap((part) => {
      const { sheet, letters, first } = schedulePlace(view, part, asked);
      const i = view.lines.filter((line) => line.part === part).findIndex((line) => line.key === key);
      return i < 0 ? [] : [`'${sheet}'!$${letters.quantity}$${first + i}`];
    });
  };

/** How each item is measured and what its price includes. */
export function paymentSheet({ lines, allowances }: BidView): SheetModel {
  const items = new Map(lines.map((line) => [line.item.key, line]));
  const inAlternates = ({ key }: BidScheduleLine["item"]): string =>
    lines.some(({ item, part }) => item.key === key && item.unit === "lump sum" && part !== "base")
      ? " In an alternate: for what its work needs beside that of the base bid."
      : "";
  return {
    name: "Measurement and payment",
    title: "Measurement and payment",
    notes: ["In the program's own words; the specification governs where it says otherwise."],
    columns: [
      { heading: ITEM_HEADING, width: 8, format: "0" },
      { heading: "Wording", width: 44, wrap: true },
      { heading: "Unit", width: 10 },
      { heading: "How it is measured and paid", width: 56, wrap: true },
    ],
    rows: [
      ...[...items.values()].map(
        ({ item, unit }): Row => [item.number, item.wording, unit, item.payment + inAlternates(item)],
      ),
      ...allowances.map(
        (allowance): Row => [
          { kind: "number", value: allowance.number, format: ITEM_FORMAT },
          allowanceWording(allowance),
          ALLOWANCE_UNIT,
          allowance.payment,
        ],
      ),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
  };
}
