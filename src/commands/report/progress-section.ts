import { districtName } from "../../quantity/district-name.ts";
import { showCount, showQuantity } from "../../quantity/show-quantity.ts";
import { type MoneySoFar, moneySoFar } from "../../season/budget-counts.ts";
import { type Progress, trackProgress } from "../../season/tracking.ts";
import type { ReportContents } from "./contents.ts";
import { bullets, type Html, html, numeric, table } from "./html.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";

/**
 * What has been done, spent and refused since, by district; null where nothing is recorded. Reasons of refusals and ids of laterals are not
 * in it: they may say who lives there.
 */
export function progressBody({ program, ...season }: ReportContents): Html | null {
  const { basis } = program;
  const { currency } = basis.program;
  const tracked = trackProgress(program);
  const { districts, program: all } = tracked;
  const { byStanding } = all;
  if (byStanding.done + byStanding["under way"] + byStanding.refused === 0 && all.spent === 0) return null;
  const whole = (cents: number): string => showCount(Math.round(cents / 100));
  const row = (name: string, of: Progress) => [
    name,
    showCount(of.byStanding.done),
    showCount(of.byStanding["under way"]),
    showCount(of.byStanding["to do"]),
    showCount(of.byStanding["held back"]),
    showCount(of.byStanding.refused),
    whole(of.spent),
    `${whole(of.stillToSpend)}${markIf(of.unpriced)}`,
  ];
  const said = [
    `${showCount(byStanding.done)} lateral(s) are done, ${showCount(byStanding["under way"])} are under way, and ${showCount(byStanding.refused)} are refused: no work is done there.`,
    ...(byStanding["held back"] === 0
      ? []
      : [
          `${showCount(byStanding["held back"])} are held back: a utility's line was found bored through them, and no crew is sent there before it is made safe.`,
        ]),
    ...(all.installedMillimetres === 0
      ? []
      : [
          `Installed: ${showQuantity(all.installedMillimetres / 1000, "length", basis.program)} of liner and pipe.`,
        ]),
    budgetSaid(all, {
      isShare: basis.budgetPays === "city share",
      soFar: moneySoFar(program, season, tracked),
      currency,
    }),
    ...(all.spentAsPlanned === 0
      ? []
      : [
          `Of what is spent, ${wholeMoney(all.spentAsPlanned, currency)} is the planned cost of work done whose cost is not entered yet.`,
        ]),
  ];
  return html`${bullets(said)}
${table(
  "Work so far by district",
  [
    { text: "District" },
    ...numeric(
      "Done",
      "Under way",
      "To do",
      "Held back",
      "Refused",
      `Spent (${currency})`,
      `Still planned (${currency})`,
    ),
  ],
  districts.map((of) => row(districtName(of.district), of)),
  row("Program", all),
)}
<p class="small">Laterals that are left as they are have no work and are not counted. Moving crews into districts is in no figure of the table. The
costs in the other parts are of the whole plan, with what is done or refused in it.${
    all.unpriced > 0
      ? ` * ${showCount(all.unpriced)} lateral(s) are not in it: an item of their work has no price.`
      : ""
  }</p>`;
}

/** What words of the budget need to know. */
interface BudgetView {
  /** Whether the budget counts the city's share alone. */
  readonly isShare: boolean;
  readonly soFar: MoneySoFar;
  readonly currency: string;
}

function budgetSaid(
  { spent, stillToSpend, unpriced }: Progress,
  { isShare, soFar: { spent: counted, opened, budget }, currency }: BudgetView,
): string {
  const money = (cents: number): string => wholeMoney(cents, currency);
  const so = `${money(spent)} is spent, and the work that is left of the plan would cost ${money(stillToSpend)}${markIf(unpriced)}.`;
  if (budget === null) return so;
  const { whole, left } = budget;
  const taken =
    opened.cost === 0
      ? ""
      : `; ${money(opened.cost)} for moving crews into districts where work has begun is taken off`;
  if (isShare)
    return `${so} The season's budget of ${money(whole)} counts the city's share of what is spent, ${money(counted)}: ${
      left < 0 ? `that is ${money(-left)} more than it` : `there is ${money(left)} left`
    }${taken}.`;
  return left < 0
    ? `${so} That is ${money(-left)} more than the season's budget of ${money(whole)}${taken}.`
    : `${so} Of the season's budget of ${money(whole)} there is ${money(left)} left${taken}.`;
}
