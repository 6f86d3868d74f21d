import type { BidItemKey } from "../reference/bid-items.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
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
  /** Clear water in the season of high groundwater, mL/s: a seasonal mean, not a peak. */
  readonly infiltration: BeforeAfter;
}

/** By district, in the order of their names, and of the program. */
export function breakDown({ laterals, offers, lines }: Pick<PlannedSheet, "laterals" | "offers" | "lines">): {
  readonly districts: readonly Breakdown[];
  readonly program: Breakdown;
} {
  const program = nothing("");
  const districts = new Map<string, Breakdown>();
  const both = (row: number): readonly Breakdown[] => {
    const name = textAt(laterals, "district", row);
    const own = districts.get(name) ?? nothing(name);
    districts.set(name, own);
    return [own, program];
  };
  const effects = effectsByRow(offers, laterals.rows);
  for (let row = 0; row < laterals.rows; row++) {
    const loss = numberAt(laterals, "present_loss", row);
    const water = numberAt(laterals, "infiltration", row);
    for (const into of both(row)) {
      compare(into.loss, loss, effects.lossAvoided[row]!);
      compare(into.infiltration, inMillilitres(water), inMillilitres(effects.infiltrationRemoved[row]!));
    }
  }
  for (let at = 0; at < lines.rows; at++) {
    const row = numberAt(lines, "lateral_row", at);
    if (Number.isNaN(numberAt(laterals, "cost", row))) continue;
    // The key of a line is its item, with a variant behind it.
    const item = textAt(lines, "line", at).split(" | ", 1)[0] as BidItemKey;
    const cents = numberAt(lines, "extension", at);
    for (const { costByItem } of both(row)) {
      const before = costByItem.get(item);
      costByItem.set(item, before === undefined ? cents : before + cents);
    }
  }
  const names = [...districts.keys()].sort((a, b) => (a < b ? -1 : 1));
  return { districts: names.map((name) => districts.get(name)!), program };
}

const MILLILITRES_PER_LITRE = 1000;
const inMillilitres = (litres: number): number => Math.round(litres * MILLILITRES_PER_LITRE);

function compare(into: BeforeAfter, before: number, gone: number): void {
  if (Number.isNaN(before) || Number.isNaN(gone)) {
    into.notKnown++;
    return;
  }
  into.before += before;
  into.after += before - gone;
}

/** What the planned treatment of each lateral does; missing where the table of offers does not say. */
function effectsByRow(offers: Table, rows: number) {
  const none = () => new Float64Array(rows).fill(Number.NaN);
  const effects = { lossAvoided: none(), infiltrationRemoved: none() };
  const says = (key: string): boolean => offers.columns.has(key);
  for (let at = 0; at < offers.rows; at++) {
    if (numberAt(offers, "chosen", at) !== 1) continue;
    const row = numberAt(offers, "lateral_row", at);
    if (says("loss_avoided")) effects.lossAvoided[row] = numberAt(offers, "loss_avoided", at);
    if (says("infiltration_removed"))
      effects.infiltrationRemoved[row] = numberAt(offers, "infiltration_removed", at);
  }
  return effects;
}

const nothing = (district: string): Breakdown => ({
  district,
  costByItem: new Map(),
  loss: { before: 0, after: 0, notKnown: 0 },
  infiltration: { before: 0, after: 0, notKnown: 0 },
});
