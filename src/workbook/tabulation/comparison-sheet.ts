import { alternatesOf, type Part } from "../../bidding/bid.ts";
import { hasUnreadableTotal } from "../../bidding/compared-bids.ts";
import type { ResponsivenessCheck } from "../../bidding/responsiveness.ts";
import type { Cents } from "../../quantity/si.ts";
import { HUNDREDTHS, WHOLE } from "../number-format.ts";
import { type Cell, firstRow, formula, type Row, type SheetModel } from "../sheet-model.ts";
import { AWARD, type Tabulation } from "./tabulation.ts";
import { bidLetters, sumCell } from "./tabulation-sheet.ts";

/** `1 no, 2 to be read`: whoever looks at the ranks sees that they are not all. */
const toSettle = (checks: readonly ResponsivenessCheck[]): string =>
  (["no", "to be read"] as const)
    .flatMap((answer) => {
      const count = checks.filter((check) => check.answer === answer).length;
      return count === 0 ? [] : [`${count} ${answer}`];
    })
    .join(", ") || "nothing";

/** The totals of each award, as read and as corrected, with their ranks. */
export function comparisonSheet(of: Tabulation): SheetModel {
  const { scenarios, bids, rules, refused, head, estimateSource, lumpSumsShared } = of;
  const notes = [
    of.issue,
    ...(alternatesOf(of.lines).length === 0
      ? []
      : [
          rules.alternates === null
            ? "The instructions state no order of alternates: every combination is shown."
            : `Alternates in the order stated: ${rules.alternates.clause}`,
        ]),
    `Rank 1 is the lowest total; equal totals have the same rank. A total as read over lines without an amount is no whole bid, whatever its rank. ${rules.ties === null ? "No rule for ties is stated." : `Ties, ${rules.ties.rule}: ${rules.ties.clause}`} ${AWARD}`,
    `Estimate: ${[estimateSource, ...lumpSumsShared].join(". ")}`,
    ...refused.map(({ because }) => `Not compared: ${because}`),
  ];
  const first = firstRow(notes);
  const last = first + scenarios.length * bids.length - 1;
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
          `ROUND(${parts.map((part) => sumCell(of, letter, part)).join("+")},2)`,
          total / 100,
          HUNDREDTHS,
        );
  return {
    name: "Comparison",
    title: "Comparison of bids",
    notes,
    columns: [
      { heading: "No.", width: 5, format: WHOLE },
      { heading: "Compared on", width: 34, wrap: true },
      { heading: "Bidder", width: 30, wrap: true },
      { heading: `Total as read (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: `Total as corrected (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: "Rank as read", width: 8, format: WHOLE },
      { heading: "Rank as corrected", width: 10, format: WHOLE },
      { heading: `Estimate (${head.currency})`, width: 16, format: HUNDREDTHS },
      { heading: "Corrected over estimate", width: 11, format: "0.0%" },
      { heading: "Lines without an amount as read", width: 12, format: WHOLE },
      { heading: "To settle: see Responsiveness", width: 18, wrap: true },
    ],
    rows: scenarios.flatMap(({ scenario, estimate, standings }, s) =>
      standings.map((each, b): Row => {
        const row = first + s * bids.length + b;
        const { readExtension, extension } = bidLetters(b);
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
          toSettle(of.responsiveness[b]!),
        ];
      }),
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}
