import { type RangeRow, rangeRows } from "../../pictures/range-rows.ts";
import { showPercent } from "../../quantity/percent.ts";
import { showDate } from "../../quantity/show-date.ts";
import { grouped, showCount } from "../../quantity/show-quantity.ts";
import type { Day } from "../../quantity/si.ts";
import { isAssumption } from "../../reference/source.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import type { Driver, SeasonUncertainty } from "../../season/uncertainty/season-uncertainty.ts";
import { lumpSumsBeside } from "../../workbook/uncertainty-sheet.ts";
import type { Certainty } from "./certainty.ts";
import { bullets, figure, type Html, html, numeric, table } from "./html.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";

interface CertainPlan {
  readonly program: PlannedProgram;
  readonly certainty: Certainty;
}

/** Figures of the possible courses, in the order they are shown. */
const shares = [
  { key: "p10", name: "1 in 10 (P10)" },
  { key: "p50", name: "5 in 10 (P50)" },
  { key: "p80", name: "8 in 10 (P80)" },
  { key: "p90", name: "9 in 10 (P90)" },
] as const;
type ShareKey = (typeof shares)[number]["key"] | "planned";

const inHundred = (share: number): string => `${Math.round(share * 100)} of 100`;

/** Whether any work has a price: else there is no cost to be sure of. */
const isPriced = ({ program: { cost } }: SeasonUncertainty): boolean => cost.p90 > 0;

const costName = ({ basis }: PlannedProgram): string =>
  basis.budgetPays === "city share" ? "City's share of cost" : "Cost";

/** Sums of a cost that laterals without a price are not in have their mark. */
const moneyOf =
  ({ basis }: PlannedProgram, { left }: SeasonUncertainty) =>
  (cents: number): string =>
    `${wholeMoney(cents, basis.program.currency)}${markIf(left.withoutPrice)}`;

/** For the front page; null where no work has a price. */
export function inBriefSaid({ program, certainty: { found } }: CertainPlan): string | null {
  if (!isPriced(found)) return null;
  const { cost } = found.program;
  const money = moneyOf(program, found);
  const whose =
    program.basis.budgetPays === "city share" ? "the city's share of the cost" : "the cost of the work";
  return `In 8 of 10 possible courses ${whose} lies between ${money(cost.p10)} and ${money(cost.p90)}; the estimate is enough in ${inHundred(cost.plannedHolds)}.`;
}

/**
 * What `wyeplan uncertainty` finds, for people who decide: what the cost and the finish may come to, what that asks to be set aside, and
 * what it hangs on. What cannot be worked out is said, with why.
 *
 * @param what the courses are of
 */
export function certaintyBody({ program, certainty }: CertainPlan, what: "plan" | "season"): Html {
  const { found, noDates } = certainty;
  const said = [
    ...costSaid(program, found, what),
    ...datesSaid(program, certainty, what),
    ...moversSaid(found, noDates),
  ];
  const { laterals, totals } = program;
  const { mayNot } = totals.program.schedule;
  const priced = isPriced(found);
  const unpriced = found.left.withoutPrice;
  return html`<p>No estimate comes true to the cent. Prices, lengths, the speed of crews, the weather and what is found on
opening will differ from the ${what}, so it was carried through ${showCount(found.draws)} possible courses, drawn by a computer.
How far these may differ is ${assumedSaid(program)}.</p>
${bullets(said)}
${priced ? costFigure(program, found) : html``}
${rangeTable(program, found, priced)}
<p class="small">What is done counts as it was. ${
    noDates === null && mayNot > 0
      ? `The dates are of the ${showCount(laterals.rows - mayNot)} laterals that may be scheduled; ${showCount(mayNot)} wait for a permission that holds. `
      : ""
  }${priced && unpriced > 0 ? `* ${showCount(unpriced)} lateral(s) are in no cost: an item of their work has no price. ` : ""}Courses are drawn from ${found.shape} distributions; districts, spreads and all that moves the result are in the planning book.</p>`;
}

/** What the spreads rest on: a city may put its own records in their place. */
function assumedSaid({ basis: { uncertainty: of } }: PlannedProgram): string {
  const sources = [of.time, of.length, of.price, of.changes, of.weather].map(({ source }) => source);
  const assumed = sources.filter(isAssumption).length;
  return assumed === sources.length
    ? "assumed, not measured"
    : assumed === 0
      ? "from the sources that the planning book names"
      : "partly assumed, not measured";
}

function costSaid(
  program: PlannedProgram,
  found: SeasonUncertainty,
  what: "plan" | "season",
): readonly string[] {
  if (!isPriced(found))
    return [
      found.left.withoutPrice > 0
        ? `How sure the cost is cannot be worked out: no work of the ${what} has a price.`
        : `There is no cost to be sure of: no work of the ${what} costs anything.`,
    ];
  const { basis } = program;
  const { cost } = found.program;
  const money = moneyOf(program, found);
  const share = cost.planned === 0 ? "" : ` (${showPercent(found.contingency / cost.planned, 1)} of it)`;
  const lumpSums = lumpSumsBeside(found, basis);
  return [
    `${costName(program)}: between ${money(cost.p10)} and ${money(cost.p90)} in 8 of 10 courses. The estimate, ${money(cost.planned)}, is enough in ${inHundred(cost.plannedHolds)}.`,
    `Contingency: with ${money(found.contingency)} over the estimate${share} set aside, the money is enough in ${inHundred(basis.uncertainty.contingencyLevel)}.`,
    ...(lumpSums === null ? [] : [lumpSums]),
  ];
}

const onDay = (value: Day | null, { basis }: PlannedProgram): string =>
  value === null ? "after the season" : showDate(value, basis.program.print.dates);

function datesSaid(
  program: PlannedProgram,
  { found, noDates }: Certainty,
  what: "plan" | "season",
): readonly string[] {
  const { finish, crewDays } = found.program;
  if (finish === null)
    return [
      `Dates of the finish cannot be said: ${noDates}.`,
      `Crew-days: between ${grouped(crewDays.p10, 1)} and ${grouped(crewDays.p90, 1)} in 8 of 10 courses; the planned ${grouped(crewDays.planned, 1)} are enough in ${inHundred(crewDays.plannedHolds)}.`,
    ];
  const [first, last] = [onDay(finish.p10, program), onDay(finish.p90, program)];
  const span =
    first === last
      ? `${first} in 8 of 10 courses`
      : finish.p90 === null
        ? `not before ${first} in 9 of 10 courses, and after the season in more than 1 of 10`
        : `between ${first} and ${last} in 8 of 10 courses`;
  return [
    `Finish: ${span}. ${
      finish.planned === null
        ? `By the ${what} itself it is after the season.`
        : `The planned day, ${onDay(finish.planned, program)}, is kept in ${inHundred(finish.plannedHolds)}.`
    } Within the season's calendar the work is finished in ${inHundred(finish.inSeason)}.`,
  ];
}

/** The strongest only: a council asks what it hangs on, not for a rank correlation. */
const MOST_MOVERS = 3;

function moversSaid({ drivers }: SeasonUncertainty, noDates: string | null): readonly string[] {
  const listed = (of: readonly Driver[]) =>
    of
      .slice(0, MOST_MOVERS)
      .map(({ words }) => words)
      .join("; then ");
  const time = noDates === null ? "finish" : "crew time";
  return [
    ...(drivers.cost.length === 0 ? [] : [`What moves the cost most: ${listed(drivers.cost)}.`]),
    ...(drivers.time.length === 0 ? [] : [`What moves the ${time} most: ${listed(drivers.time)}.`]),
  ];
}

function costFigure(program: PlannedProgram, { program: { cost } }: SeasonUncertainty): Html {
  const { currency } = program.basis.program;
  const row = (name: string, value: number): RangeRow => ({
    name,
    value,
    shown: wholeMoney(value, currency),
  });
  const rows = [
    { ...row("Estimate", cost.planned), isPlan: true as const },
    ...shares.map(({ key, name }) => row(name, cost[key])),
  ];
  return figure(
    rangeRows(rows, `${costName(program)} of the possible courses, so many of which come to no more`),
    `${costName(program)}: so many of the possible courses come to no more. The diamond is the estimate; the shaded field holds 8 of 10 courses. The scale does not begin at 0.`,
    "range",
  );
}

function rangeTable(program: PlannedProgram, found: SeasonUncertainty, priced: boolean): Html {
  const { cost, finish, crewDays } = found.program;
  const { currency } = program.basis.program;
  const mark = markIf(found.left.withoutPrice);
  const columns = [
    ...(priced
      ? [
          {
            heading: `${costName(program)} (${currency})`,
            of: (key: ShareKey) => `${showCount(Math.round(cost[key] / 100))}${mark}`,
          },
        ]
      : []),
    finish === null
      ? { heading: "Crew-days", of: (key: ShareKey) => grouped(crewDays[key], 1) }
      : { heading: "Finished by", of: (key: ShareKey) => onDay(finish[key], program) },
  ];
  return table(
    "So many of the possible courses come to no more, or are done by then",
    [{ text: "Courses" }, ...numeric(...columns.map(({ heading }) => heading))],
    [
      ["The estimate itself", ...columns.map(({ of }) => of("planned"))],
      ...shares.map(({ key, name }) => [name, ...columns.map(({ of }) => of(key))]),
    ],
  );
}
