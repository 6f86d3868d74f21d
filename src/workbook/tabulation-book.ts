import { type Amount, centsOf, type IssuedLine, MISSING, type Part, partName } from "../bidding/bid.ts";
import { hasUnreadableTotal, type ScenarioStandings } from "../bidding/compared-bids.ts";
import type { CorrectedBid } from "../bidding/corrected-bid.ts";
import type { BreakEven } from "../bidding/price-questions.ts";
import type { ResponsivenessCheck } from "../bidding/responsiveness.ts";
import type { Cents } from "../quantity/si.ts";
import type { ProgramHead } from "../reference/basis.ts";
import type { BidCheckBand, BiddingRules } from "../reference/bidding-rules.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { columnLetter } from "./references.ts";
import {
  type Book,
  type Cell,
  firstRow,
  formula,
  type Row,
  type SheetColumn,
  type SheetModel,
} from "./sheet-model.ts";

/** Everything the tabulation shows. */
export interface Tabulation {
  readonly head: ProgramHead;
  readonly lines: readonly IssuedLine[];
  readonly bids: readonly CorrectedBid[];
  /** Unit prices of the estimate, and whose they are. */
  readonly estimate: readonly (Cents | null)[];
  readonly estimateSource: string;
  /** Of each lump sum of the estimate that several parts ask for: what each has of it. */
  readonly lumpSumsShared: readonly string[];
  readonly scenarios: readonly ScenarioStandings[];
  /** By bid. */
  readonly responsiveness: readonly (readonly ResponsivenessCheck[])[];
  readonly questions: readonly PriceQuestion[];
  readonly band: BidCheckBand;
  readonly rules: BiddingRules;
  /** Files that could not be compared, and why. */
  readonly refused: readonly { readonly file: string; readonly because: string }[];
}

/** How the order of the lowest bid and another hangs on the quantities of the base bid. */
export interface PriceQuestion {
  readonly lower: number;
  readonly higher: number;
  readonly breakEvens: readonly BreakEven[];
  /** See turnsAt of bidding/price-questions.ts. */
  readonly turnsAt: number | null;
}

export const AWARD = "The award is left to the owner and counsel.";

/** The tabulation of returned bids. Every sum, extension, ratio and rank in it is a live formula. */
export function buildTabulation(of: Tabulation): Book {
  return {
    title: "Bid tabulation",
    head: of.head,
    sheets: [
      scenarioSheet(of),
      tabulationSheet(of),
      correctionSheet(of),
      responsivenessSheet(of),
      ratioSheet(of),
      quantitySheet(of),
      ruleSheet(of),
    ],
  };
}

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

const money = (amount: Cents | null): Cell =>
  amount === null ? null : { kind: "number", value: amount / 100, format: HUNDREDTHS };
/** As the bidder has it: an amount, or what stands there instead. */
const asWritten = (written: Amount, read: Cents | null = centsOf(written)): Cell =>
  written.kind === "unreadable" ? written.text : money(read);
const letters = (bid: number) => {
  const at = BEFORE + PER_BID * bid;
  return {
    price: columnLetter(at + 2),
    extension: columnLetter(at + 3),
    readExtension: columnLetter(at + 1),
  };
};
/** A line's words, with its alternate: the same item may stand in several parts. */
const describeLine = ({ part, description }: IssuedLine): string =>
  part === "base" ? description : `${partName(part)}: ${description}`;
const partsOf = (lines: readonly IssuedLine[]): readonly Part[] => [
  ...new Set(lines.map(({ part }) => part)),
];
/** Row of the sum of a part: the lines, then one row of sums for each part. */
const sumRow = ({ lines }: Tabulation, part: Part): number =>
  firstRow(NOTES) + lines.length + partsOf(lines).indexOf(part);

function tabulationSheet(of: Tabulation): SheetModel {
  const { lines, bids, estimate, head } = of;
  const first = firstRow(NOTES);
  const price = (name: string, width: number): SheetColumn => ({ heading: name, width, format: HUNDREDTHS });
  const product = (row: number, letter: string, extension: Cents | null): Cell =>
    extension === null ? null : formula(`ROUND($D${row}*${letter}${row},2)`, extension / 100, HUNDREDTHS);
  const extended = (i: number, own: Cents | null) =>
    own === null ? null : halfUp(lines[i]!.hundredths, own);
  const partSum = (letter: string, part: Part, total: Cents | null, sum: Cents | null): Cell => {
    if (total === null) return null;
    // A total that stands as read, where no rule lets the sum govern, is no sum.
    if (total !== sum) return money(total);
    const own = lines.flatMap((line, i) => (line.part === part ? [first + i] : []));
    return formula(`ROUND(SUM(${letter}${own[0]}:${letter}${own.at(-1)}),2)`, total / 100, HUNDREDTHS);
  };
  const sumOf = (part: Part, amountOf: (i: number) => Cents | null): Cents | null => {
    let sum = 0;
    for (const [i, line] of lines.entries()) {
      if (line.part !== part) continue;
      const own = amountOf(i);
      if (own === null) return null;
      sum += own;
    }
    return sum as Cents;
  };
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
            corrected.price === null
              ? money(corrected.extension)
              : product(row, letters(b).price, corrected.extension),
            each.findings.some((found) => found.line === i) ? "yes" : null,
          ];
        }),
      ];
    }),
    foot: partsOf(lines).map((part): Row => {
      const name = partName(part);
      const ofEstimate = sumOf(part, (i) => extended(i, estimate[i] ?? null));
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
              letters(b).extension,
              part,
              each.corrected.get(part) ?? null,
              sumOf(part, (i) => each.lines[i]!.extension),
            ),
            each.findings.some((found) => found.line === null && found.part === part) ? "yes" : null,
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

/** Quantity × price as the sheets work it out. */
const halfUp = (hundredths: number, price: Cents): Cents =>
  Math.floor((hundredths * price + 50) / 100) as Cents;

function scenarioSheet(of: Tabulation): SheetModel {
  const { scenarios, bids, rules, refused, head, estimateSource, lumpSumsShared } = of;
  const notes = [
    rules.alternates === null
      ? "The instructions state no order of alternates: every combination is shown."
      : `Alternates in the order stated: ${rules.alternates.clause}`,
    `Rank 1 is the lowest total; equal totals have the same rank. A total as read over lines without an amount is no whole bid, whatever its rank. ${rules.ties === null ? "No rule for ties is stated." : `Ties, ${rules.ties.rule}: ${rules.ties.clause}`} ${AWARD}`,
    `Estimate: ${[estimateSource, ...lumpSumsShared].join(". ")}`,
    ...refused.map(({ because }) => `Not compared: ${because}`),
  ];
  const first = firstRow(notes);
  const last = first + scenarios.length * bids.length - 1;
  const sheet = `'${NAME}'!`;
  const rank = (letter: string, row: number, own: number | null): Cell =>
    own === null
      ? null
      : formula(
          `1+COUNTIFS($A$${first}:$A$${last},$A${row},$${letter}$${first}:$${letter}$${last},"<"&${letter}${row})`,
          own,
          WHOLE,
        );
  const added = (letter: string, parts: readonly Part[], total: Cents | null): Cell =>
    total === null
      ? null
      : formula(
          `ROUND(${parts.map((part) => `${sheet}${letter}${sumRow(of, part)}`).join("+")},2)`,
          total / 100,
          HUNDREDTHS,
        );
  return {
    name: "Comparison",
    title: "Comparison of bids",
    notes,
    columns: [
      { heading: "No.", width: 5, format: WHOLE },
      { heading: "Awarded", width: 34, wrap: true },
      { heading: "Bidder", width: 30, wrap: true },
      { heading: `Total as read (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: `Total as corrected (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: "Rank as read", width: 8, format: WHOLE },
      { heading: "Rank as corrected", width: 10, format: WHOLE },
      { heading: `Estimate (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: "Corrected over estimate", width: 11, format: "0.0%" },
      { heading: "Lines without an amount as read", width: 12, format: WHOLE },
    ],
    rows: scenarios.flatMap(({ scenario, estimate, standings }, s) =>
      standings.map((each, b): Row => {
        const row = first + s * bids.length + b;
        const { readExtension, extension } = letters(b);
        return [
          s + 1,
          scenario.name,
          bids[b]!.bid.name,
          each.asRead === null && hasUnreadableTotal(bids[b]!, scenario)
            ? "not readable"
            : added(readExtension, scenario.parts, each.asRead),
          added(extension, scenario.parts, each.corrected),
          rank("D", row, each.rankAsRead),
          rank("E", row, each.rankCorrected),
          added("F", scenario.parts, estimate),
          estimate === null || estimate === 0 || each.corrected === null
            ? null
            : formula(`E${row}/H${row}`, each.corrected / estimate, "0.0%"),
          each.withoutAmount,
        ];
      }),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

function correctionSheet({ bids, lines, head }: Tabulation): SheetModel {
  const notes = [
    "Each total as corrected is the total as read and the changes below; where the total cannot be read, the sum of the extensions and the changes. What no rule covers is shown and changes nothing.",
  ];
  return {
    name: "Corrections",
    title: "Corrections and findings",
    notes,
    columns: [
      { heading: "Bidder", width: 24, wrap: true },
      { heading: "Part", width: 12 },
      { heading: "Item", width: 8 },
      { heading: "Found", width: 56, wrap: true },
      { heading: "Corrected", width: 10 },
      { heading: "By which rule", width: 44, wrap: true },
      { heading: `Change (${head.currency})`, width: 15, format: HUNDREDTHS },
    ],
    rows: bids.flatMap(({ bid, findings }) =>
      findings.map(
        (found): Row => [
          bid.name,
          partName(found.part),
          found.line === null ? "total" : lines[found.line]!.item,
          found.what,
          found.corrected ? "yes" : "no",
          found.done,
          money(found.change),
        ],
      ),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

function responsivenessSheet({ bids, responsiveness }: Tabulation): SheetModel {
  return {
    name: "Responsiveness",
    title: "Responsiveness",
    notes: [
      `Questions to settle before an award; what an answer means is for the instructions to bidders. ${AWARD}`,
    ],
    columns: [
      { heading: "Bidder", width: 28, wrap: true },
      { heading: "File", width: 24, wrap: true },
      { heading: "Asked", width: 26 },
      { heading: "Answer", width: 12 },
      { heading: "Found", width: 56, wrap: true },
    ],
    rows: bids.flatMap(({ bid }, b) =>
      responsiveness[b]!.map(({ asks, answer, found }): Row => [bid.name, bid.file, asks, answer, found]),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

function ratioSheet({ bids, lines, estimate, band }: Tabulation): SheetModel {
  const notes = [
    `Unit price as corrected over the estimate, where it is below ${band.low} or above ${band.high}. Things to check, first the quantity and the estimate; a price has many honest reasons.`,
    `Band: ${band.source}`,
  ];
  const first = firstRow(notes);
  const found = bids.flatMap(({ bid, lines: own }, b) =>
    lines.flatMap((line, i) => {
      const [price, ee] = [own[i]!.price, estimate[i] ?? null];
      if (price === null || ee === null || ee === 0) return [];
      const ratio = price / ee;
      return ratio < band.low || ratio > band.high ? [{ name: bid.name, line, i, b, ratio }] : [];
    }),
  );
  return {
    name: "Prices to check",
    title: "Prices to check",
    notes,
    columns: [
      { heading: "Bidder", width: 28, wrap: true },
      { heading: "Item", width: 8 },
      { heading: "Description", width: 52, wrap: true },
      { heading: "Unit price", width: 14, format: HUNDREDTHS },
      { heading: "Estimate", width: 14, format: HUNDREDTHS },
      { heading: "Price over estimate", width: 12, format: "0.00" },
    ],
    rows: found.map(({ name, line, i, b, ratio }, at): Row => {
      const row = first + at;
      const cell = (letter: string, value: Cents): Cell =>
        formula(`'${NAME}'!${letter}${firstRow(NOTES) + i}`, value / 100, HUNDREDTHS);
      return [
        name,
        line.item,
        describeLine(line),
        cell(letters(b).price, bids[b]!.lines[i]!.price!),
        cell("E", estimate[i]!),
        formula(`D${row}/E${row}`, ratio, "0.00"),
      ];
    }),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

function quantitySheet(of: Tabulation): SheetModel {
  const { questions, bids, lines, band } = of;
  const percent = `${Number((band.quantity * 100).toFixed(4))} %`;
  const notes = [
    `The quantity of one item at which the lowest base bid as corrected and another come to the same, all other quantities as issued; within ±${percent} the order would turn. Things to check the quantities by.`,
    ...questions.map(
      ({ lower, higher, turnsAt }) =>
        `${bids[lower]!.bid.name} and ${bids[higher]!.bid.name}: ` +
        (turnsAt === null
          ? "no quantity turns their order."
          : `their order turns when all quantities move by ${(turnsAt * 100).toFixed(2)} %, each the way that favours the second.`),
    ),
  ];
  const first = firstRow(notes);
  const cell = (letter: string, i: number): string => `'${NAME}'!${letter}${firstRow(NOTES) + i}`;
  let at = first - 1;
  return {
    name: "Quantities to check",
    title: "Quantities to check",
    notes,
    columns: [
      { heading: "Lowest", width: 24, wrap: true },
      { heading: "Other bidder", width: 24, wrap: true },
      { heading: "Item", width: 8 },
      { heading: "Description", width: 44, wrap: true },
      { heading: "Quantity issued", width: 12, format: HUNDREDTHS },
      { heading: "Equal at", width: 12, format: HUNDREDTHS },
      { heading: "Change", width: 10, format: "0.0%" },
      { heading: `Order turns within ±${percent}`, width: 12 },
    ],
    rows: questions.flatMap(({ lower, higher, breakEvens }) =>
      breakEvens.map(({ line, quantity, change }): Row => {
        at++;
        const sum = (b: number) => `'${NAME}'!${letters(b).extension}${sumRow(of, "base")}`;
        const price = (b: number) => cell(letters(b).price, line);
        return [
          bids[lower]!.bid.name,
          bids[higher]!.bid.name,
          lines[line]!.item,
          lines[line]!.description,
          formula(cell("D", line), lines[line]!.hundredths / 100, HUNDREDTHS),
          formula(
            `E${at}+(${sum(higher)}-${sum(lower)})/(${price(lower)}-${price(higher)})`,
            quantity,
            HUNDREDTHS,
          ),
          formula(`F${at}/E${at}-1`, change, "0.0%"),
          Math.abs(change) <= band.quantity ? "yes" : "no",
        ];
      }),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}

function ruleSheet({ rules }: Tabulation): SheetModel {
  const row = (
    what: string,
    rule: { readonly clause: string; readonly rule?: string } | null,
    says = "",
  ): Row => [
    what,
    rule === null ? "not stated" : (rule.rule ?? says),
    rule?.clause ?? "Flagged where it comes up; nothing is corrected by it.",
  ];
  const cap = rules.mobilizationCap;
  const share = (part: number) => `${Number((part * 100).toFixed(4))} %`;
  return {
    name: "Instructions to bidders",
    title: "Instructions to bidders, as program.json states them",
    notes: [],
    columns: [
      { heading: "About", width: 34 },
      { heading: "Rule", width: 34, wrap: true },
      { heading: "Clause", width: 70, wrap: true },
    ],
    rows: [
      row("Unit price and extension: which governs", rules.governs),
      row("Unit price missing", rules.missingPrice),
      row("Words and figures", rules.words),
      row(
        "Total in words and in figures",
        rules.totalInWords === null
          ? null
          : {
              rule: rules.totalInWords.rule ?? "asked for; not stated which governs",
              clause: rules.totalInWords.clause,
            },
      ),
      row("Column that does not add up", rules.columnSum),
      row("Ties", rules.ties),
      row("Alternates", rules.alternates),
      row(
        "Cap on mobilisation",
        cap,
        cap === null ? "" : `${share(cap.share)} of the ${cap.of}; ${cap.remedy}`,
      ),
      row("Bid security", rules.security, rules.security === null ? "" : share(rules.security.share)),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}
