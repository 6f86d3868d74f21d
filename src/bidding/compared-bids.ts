import { extend } from "../quantity/money.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BiddingRules } from "../reference/bidding-rules.ts";
import { alternatesOf, type IssuedLine, type Part, partName } from "./bid.ts";
import type { CorrectedBid } from "./corrected-bid.ts";

/** The base bid with none, some or all of the alternates: one way to award. */
export interface Scenario {
  readonly name: string;
  readonly parts: readonly Part[];
}

/** One bid in one scenario. */
export interface Standing {
  readonly asRead: Cents | null;
  readonly corrected: Cents | null;
  /** 1 is lowest; equal totals have the same rank; null without a total. */
  readonly rankAsRead: number | null;
  /** Lines of the scenario without an amount as read: the total as read, and its rank, are over the rest alone. */
  readonly withoutAmount: number;
  readonly rankCorrected: number | null;
}

export interface ScenarioStandings {
  readonly scenario: Scenario;
  /** Null where the estimate leaves a line of the scenario unpriced. */
  readonly estimate: Cents | null;
  /** In the order of the bids. */
  readonly standings: readonly Standing[];
}

/** More subsets than this tell nobody anything. */
const MOST_ALTERNATES_IN_SUBSETS = 4;

/**
 * The scenarios to compare. Where the instructions take alternates in stated order: the base bid, then with the first
 * alternate, then with the first two, and so on. Where they state no order, every combination is shown.
 */
export function scenariosOf(
  lines: readonly IssuedLine[],
  rules: Pick<BiddingRules, "alternates">,
): readonly Scenario[] {
  const alternates = alternatesOf(lines);
  const ordered = rules.alternates !== null || alternates.length > MOST_ALTERNATES_IN_SUBSETS;
  const chosen = ordered
    ? [[], ...alternates.map((_, i) => alternates.slice(0, i + 1))]
    : Array.from({ length: 2 ** alternates.length }, (_, bits) =>
        alternates.filter((_, i) => (bits >> i) & 1),
      );
  return chosen.map((some) => ({
    name: ["base bid", ...some.map(partName)].join(" + "),
    parts: ["base", ...some],
  }));
}

/** Every bid in every scenario, as read and as corrected, against the estimate. The award is the owner's. */
export function compareBids(
  bids: readonly CorrectedBid[],
  lines: readonly IssuedLine[],
  rules: Pick<BiddingRules, "alternates">,
  estimate: readonly (Cents | null)[],
): readonly ScenarioStandings[] {
  return scenariosOf(lines, rules).map((scenario) => {
    const asRead = bids.map((bid) => sumOf(scenario.parts.map((part) => bid.asRead.get(part) ?? null)));
    const corrected = bids.map((bid) => sumOf(scenario.parts.map((part) => bid.corrected.get(part) ?? null)));
    return {
      scenario,
      estimate: sumOf(
        lines.flatMap((line, i) => {
          if (!scenario.parts.includes(line.part)) return [];
          const price = estimate[i] ?? null;
          return [price === null ? null : extend(line.hundredths, price)];
        }),
      ),
      standings: bids.map((_, i) => ({
        asRead: asRead[i]!,
        corrected: corrected[i]!,
        rankAsRead: rankIn(asRead, i),
        withoutAmount: scenario.parts.reduce<number>(
          (sum, part) => sum + (bids[i]!.withoutAmount.get(part) ?? 0),
          0,
        ),
        rankCorrected: rankIn(corrected, i),
      })),
    };
  });
}

/** Whether a total of the bid stands in its book and is no amount. */
export const hasUnreadableTotal = ({ bid }: CorrectedBid, { parts }: Scenario): boolean =>
  parts.some((part) => bid.totals.get(part)?.kind === "unreadable");

/** Bids that are lowest as corrected in a scenario and more than one: a tie. */
export const tiedLowest = ({ standings }: ScenarioStandings): readonly number[] => {
  const lowest = standings.flatMap(({ rankCorrected }, i) => (rankCorrected === 1 ? [i] : []));
  return lowest.length > 1 ? lowest : [];
};

/** Null where one of the amounts is none. */
export function sumOf(amounts: readonly (Cents | null)[]): Cents | null {
  let sum = 0;
  for (const each of amounts) {
    if (each === null) return null;
    sum += each;
  }
  return cents(sum);
}

function rankIn(totals: readonly (Cents | null)[], i: number): number | null {
  const own = totals[i] ?? null;
  return own === null ? null : 1 + totals.filter((total) => total !== null && total < own).length;
}
