import { partName } from "../bidding/bid.ts";
import { hasUnreadableTotal, type Standing, tiedLowest } from "../bidding/compared-bids.ts";
import type { CorrectedBid } from "../bidding/corrected-bid.ts";
import { money } from "../bidding/money-words.ts";
import { pricesOutsideBand } from "../bidding/price-questions.ts";
import { showPercent } from "../quantity/percent.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { Cents } from "../quantity/si.ts";
import { AWARD, type Tabulation } from "../workbook/tabulation/tabulation.ts";
import { left, plainTable, right } from "./plain-table.ts";

/** Files whose forms name the same bidder. */
function sameBidders(bids: readonly CorrectedBid[]): readonly (readonly string[])[] {
  const filesOf = new Map<string, string[]>();
  for (const { bid } of bids) {
    const bidder = bid.form.bidder?.toLowerCase();
    if (bidder !== undefined) filesOf.set(bidder, [...(filesOf.get(bidder) ?? []), bid.file]);
  }
  return [...filesOf.values()].filter((files) => files.length > 1);
}

/** Prices of a bid that are listed on the terminal; all are in the workbook. */
const MOST_PRICES = 5;

/** Behind the rank of a total as read that leaves lines out. */
const MARK = "*";
const isMarked = ({ rankAsRead, withoutAmount }: Standing): boolean =>
  rankAsRead !== null && withoutAmount > 0;

/** The comparison as the terminal shows it: ranks, corrections, prices to check, and what is open before an award. */
export function comparisonText(tabulation: Tabulation): string {
  const { scenarios, lines, bids, responsiveness, estimate, estimateSource, lumpSumsShared, band } =
    tabulation;
  const shown = (amount: Cents | null) => (amount === null ? "none" : money(amount));
  const tables = scenarios.map(({ scenario, estimate, standings }) =>
    [
      `Compared on ${scenario.name}; estimate ${shown(estimate)} (${estimateSource})`,
      plainTable(
        [left("Bidder"), ...["as read", "rank", "as corrected", "rank", "of the estimate"].map(right)],
        standings.map((each, b) => [
          bids[b]!.bid.name,
          each.asRead === null && hasUnreadableTotal(bids[b]!, scenario)
            ? "not readable"
            : shown(each.asRead),
          each.rankAsRead === null ? "" : `${each.rankAsRead}${each.withoutAmount > 0 ? MARK : ""}`,
          shown(each.corrected),
          String(each.rankCorrected ?? ""),
          estimate === null || estimate === 0 || each.corrected === null
            ? ""
            : showPercent(each.corrected / estimate, 1),
        ]),
      ),
    ].join("\n"),
  );
  const marked = scenarios.some(({ standings }) => standings.some(isMarked))
    ? [`${MARK} A total as read over lines without an amount: no whole bid, whatever its rank.`]
    : [];
  const ties = scenarios
    .filter((each) => tiedLowest(each).length > 0)
    .map(({ scenario }) => `Tie for the lowest: ${scenario.name}.`);
  const findings = bids.flatMap(({ bid, findings: own }) => {
    // Prices that are formulas and give what they show: one is told, twenty are a price list of the bidder's own.
    const same = own.filter(({ formula }) => formula === "same");
    const unlisted = new Set(same.slice(MOST_PRICES));
    const listed = own.filter((each) => !unlisted.has(each));
    return [
      ...listed.map(
        ({ part, line, what, done, corrected, change }) =>
          `${bid.name}: ${line === null ? "" : `${part === "base" ? "" : `${partName(part)}, `}item ${lines[line]!.item}: `}${what}. ${!corrected ? "Not corrected" : change === 0 ? "Settled" : `Corrected by ${money(change)}`}: ${done}`,
      ),
      ...(unlisted.size === 0
        ? []
        : [
            `${bid.name}: ${showCount(unlisted.size)} more unit prices are formulas that give what the file shows: sheet Corrections.`,
          ]),
    ];
  });
  const oneName = sameBidders(bids).map(
    (files) =>
      `${files.join(" and ")} are of one bidder: which of them is the bid is for the owner to settle.`,
  );
  const answered = (which: "no" | "to be read") =>
    bids.flatMap(({ bid }, b) =>
      responsiveness[b]!.filter(({ answer }) => answer === which).map(
        ({ asks, answer, found }) => `${bid.name}: ${asks}: ${answer} (${found})`,
      ),
    );
  // What is missing may end a bid; what is to be read mostly does not.
  const open = [...answered("no"), ...answered("to be read")];
  const prices = bids.flatMap(({ bid, lines: own }) => {
    const outside = pricesOutsideBand(
      own.map(({ price }) => price),
      estimate,
      band,
    );
    return outside.length === 0
      ? []
      : [
          `${bid.name}: ${showCount(outside.length)} unit price(s) below ${band.low} or above ${band.high} of the estimate: ${outside
            .slice(0, MOST_PRICES)
            .map(
              ({ line, ratio }) =>
                `item ${lines[line]!.item} ${money(own[line]!.price!)} (${ratio.toFixed(2)} of it)`,
            )
            .join(", ")}${outside.length > MOST_PRICES ? " …" : ""}`,
        ];
  });
  const list = (title: string, entries: readonly string[]) =>
    entries.length === 0 ? [] : [`${title}\n${entries.map((entry) => `  ${entry}`).join("\n")}`];
  return `${[...tables, ...marked, ...list("Lump sums of the estimate", lumpSumsShared), ...list("Ties", ties), ...list("Corrections and findings", findings), ...list("Prices to check: sheet of that name", prices), ...list("To settle before an award", [...oneName, ...open]), AWARD].join("\n\n")}\n`;
}
