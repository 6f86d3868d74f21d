import { wholeMicrolitres } from "../quantity/summed-flow.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import { numbersOf } from "../sheet/table.ts";
import { wordCodesOf } from "../sheet/word-codes.ts";
import { ofChosenOffers } from "./chosen-offers.ts";
import { PairSums } from "./pair-sums.ts";
import type { PlannedSheet } from "./plan-sheet.ts";

/** Of the laterals for which both are known, so that the two can be compared; `notKnown` counts the others. */
export interface BeforeAfter {
  before: number;
  after: number;
  notKnown: number;
}

/**
 * What a district's money goes to and what it does, or the whole program's. Every figure is a whole number, so districts add up to the
 * program exactly.
 */
export interface Breakdown {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  /** Cents by bid item, of the laterals whose items all have a price: they add up to the cost in the totals. */
  readonly costByItem: Map<BidItemKey, number>;
  /** Present worth in cents of the failures expected over the horizon: nothing done, and with the planned treatment done once. */
  readonly loss: BeforeAfter;
  /** Clear water in the season of high groundwater, whole µL/s: a seasonal mean, not a peak. */
  readonly infiltration: BeforeAfter;
}

/** By district, in the order of their names, and of the program. */
export function breakDown({ laterals, offers, lines }: Pick<PlannedSheet, "laterals" | "offers" | "lines">): {
  readonly districts: readonly Breakdown[];
  readonly program: Breakdown;
} {
  const program = nothing("");
  const { codes, words } = wordCodesOf(laterals, "district");
  /** By code, those with a lateral. */
  const byCode: Breakdown[] = [];
  const loss = numbersOf(laterals, "present_loss");
  const water = numbersOf(laterals, "infiltration");
  const avoided = ofChosenOffers(offers, "loss_avoided", laterals.rows);
  const removed = ofChosenOffers(offers, "infiltration_removed", laterals.rows);
  for (let row = 0; row < laterals.rows; row++) {
    const code = codes[row]!;
    byCode[code] ??= nothing(words[code]!);
    const own = byCode[code];
    compare(own.loss, loss[row]!, avoided[row]!);
    compare(own.infiltration, wholeMicrolitres(water[row]!), wholeMicrolitres(removed[row]!));
  }
  const cost = numbersOf(laterals, "cost");
  const ofLine = {
    row: numbersOf(lines, "lateral_row"),
    line: wordCodesOf(lines, "line"),
    cents: numbersOf(lines, "extension"),
  };
  // The key of a line is its item, with a variant behind it.
  const items = ofLine.line.words.map((key) => key.split(" | ", 1)[0] as BidItemKey);
  const sums = new PairSums();
  for (let at = 0; at < lines.rows; at++) {
    const row = ofLine.row[at]!;
    if (Number.isNaN(cost[row]!)) continue;
    sums.add(codes[row]!, ofLine.line.codes[at]!, ofLine.cents[at]!);
  }
  for (const [district, line, sum] of sums) addCost(byCode[district]!, items[line]!, sum);
  const districts = Object.values(byCode).sort((a, b) => (a.district < b.district ? -1 : 1));
  for (const { costByItem, loss, infiltration } of districts) {
    for (const [item, cents] of costByItem) addCost(program, item, cents);
    addTo(program.loss, loss);
    addTo(program.infiltration, infiltration);
  }
  return { districts, program };
}

function addCost({ costByItem }: Breakdown, item: BidItemKey, cents: number): void {
  costByItem.set(item, (costByItem.get(item) ?? 0) + cents);
}

function addTo(sum: BeforeAfter, more: BeforeAfter): void {
  sum.before += more.before;
  sum.after += more.after;
  sum.notKnown += more.notKnown;
}

function compare(into: BeforeAfter, before: number, gone: number): void {
  if (Number.isNaN(before) || Number.isNaN(gone)) {
    into.notKnown++;
    return;
  }
  into.before += before;
  into.after += before - gone;
}

const nothing = (district: string): Breakdown => ({
  district,
  costByItem: new Map(),
  loss: { before: 0, after: 0, notKnown: 0 },
  infiltration: { before: 0, after: 0, notKnown: 0 },
});
