import { numbersOf, type Table } from "../sheet/table.ts";

/** A number of the offer each lateral is planned with, such as its "loss_avoided"; NaN where the list of offers does not say. */
export function ofChosenOffers(offers: Table, key: string, laterals: number): Float64Array {
  // A plan for totals has the chosen ones alone, a row a lateral.
  if (offers.columns.has(key) && !offers.columns.has("chosen")) return numbersOf(offers, key);
  const values = new Float64Array(laterals).fill(Number.NaN);
  if (!offers.columns.has(key)) return values;
  const [ofOffer, chosen, rowOf] = [
    numbersOf(offers, key),
    numbersOf(offers, "chosen"),
    numbersOf(offers, "lateral_row"),
  ];
  for (let at = 0; at < offers.rows; at++) if (chosen[at] === 1) values[rowOf[at]!] = ofOffer[at]!;
  return values;
}
