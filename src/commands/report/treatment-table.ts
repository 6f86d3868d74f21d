import { showCount } from "../../quantity/show-quantity.ts";
import { wholeParts } from "../../quantity/whole-parts.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { capital } from "../../workbook/book-contents.ts";
import { type Html, html, table } from "./html.ts";
import { moneyByTreatment } from "./money-by-treatment.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";

/** What each treatment comes to, with its part of the whole, who pays, and what no sum holds. */
export function treatmentTable(program: PlannedProgram, caption: string): Html {
  const { basis, totals } = program;
  const { currency } = basis.program;
  const bought = moneyByTreatment(program);
  const all = totals.program.cost;
  const shares = wholeParts(
    bought.map(({ cost }) => (all === 0 ? 0 : (1000 * cost) / all)),
    all === 0 ? 0 : 1000,
  );
  /** Tenths of a percent, which add up to the 100.0 % beneath them. */
  const share = (tenths: number): string => (all === 0 ? "" : `${(tenths / 10).toFixed(1)} %`);
  const money = (cost: number, unpriced: number): string =>
    `${showCount(Math.round(cost / 100))}${markIf(unpriced)}`;
  return html`${table(
    caption,
    [
      { text: "Treatment" },
      { text: "Laterals", numeric: true },
      { text: `Cost (${currency})`, numeric: true },
      { text: "Of the cost", numeric: true },
    ],
    bought.map(({ treatment, laterals, cost, unpriced }, i) => [
      capital(treatment),
      showCount(laterals),
      money(cost, unpriced),
      share(shares[i]!),
    ]),
    ["All", showCount(totals.program.laterals), money(all, totals.program.unpriced), share(1000)],
  )}
${payersLine(program)}<p class="small">Prices: ${basis.priceSource}. Lump sums such as mobilization are not in it.${unpricedSaid(totals.program.unpriced)}</p>`;
}

/** What the mark of an incomplete sum means; nothing where none is. */
export const unpricedSaid = (unpriced: number): string =>
  unpriced === 0
    ? ""
    : ` * Incomplete: ${showCount(unpriced)} lateral(s) are not in it, for an item of their work has no price.`;

/** Who pays; nothing where no owner is stated. */
function payersLine({ basis, totals }: PlannedProgram): Html {
  const { cityCost, ownerCost, undivided, unpriced } = totals.program;
  if (cityCost + ownerCost === 0) return html``;
  const money = (cents: number) => `${wholeMoney(cents, basis.program.currency)}${markIf(unpriced)}`;
  return html`<p>Of this the city pays ${money(cityCost)} and owners ${money(ownerCost)}${
    undivided === 0 ? "" : `; ${money(undivided)} is not divided, as owners, lengths or shares are not stated`
  }.</p>
`;
}
