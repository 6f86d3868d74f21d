import { type SeasonReason, seasonReasons } from "../../columns/plan-columns.ts";
import { showCount } from "../../quantity/show-quantity.ts";
import { numberAt, textAt } from "../../sheet/table.ts";
import { capital } from "../../workbook/book-contents.ts";
import { plannedCautions } from "../../workbook/planned-cautions.ts";
import { reasonSentences } from "../season-reason-words.ts";
import { bullets, type Html, html, numeric, table } from "./html.ts";
import type { ReportedSeason } from "./reported-season.ts";
import { classesByRank, riskClasses } from "./risk-classes.ts";
import { type Fate, fates } from "./season-fates.ts";
import { markIf, wholeMoney } from "./whole-figures.ts";

/** What cannot wait, and what the season does with each part of the ranking. */
export function urgentBody({ whole }: ReportedSeason, fateOf: readonly Fate[]): Html {
  const classes = classesByRank(whole.order);
  const emergency = plannedCautions(whole).find(({ key }) => key === "cross-bore found");
  const shown = fates.filter(({ name }) => fateOf.includes(name));
  const count = (isOf: (row: number) => boolean) => (fate: Fate | null) =>
    showCount(fateOf.reduce((sum, own, row) => sum + Number(isOf(row) && (fate ?? own) === own), 0));
  const cells = (name: string, of: (fate: Fate | null) => string) => [
    name,
    of(null),
    ...shown.map(({ name: fate }) => of(fate)),
  ];
  return html`${
    emergency === undefined
      ? html``
      : html`<p class="draft"><strong>Not for a season to decide:</strong> ${emergency.text}</p>
`
  }<p>Every lateral was ranked by how likely it is to fail and what a failure would do. What is first in that order is not all in
the season: what gains the most for its money and crew-days is. The parts are of the ranking, not levels of danger.</p>
${table(
  "Parts of the ranking, and what becomes of them",
  [{ text: "Part of the ranking" }, ...numeric("Laterals", ...shown.map(({ name }) => capital(name)))],
  riskClasses.map(({ name }, of) =>
    cells(
      capital(name),
      count((row) => classes[row] === of),
    ),
  ),
  cells(
    "All",
    count(() => true),
  ),
)}`;
}

/** What the season leaves: the work, its money, the inspections, and of each lateral that is out the reason. */
export function remainderBody({ whole, totals }: ReportedSeason, fateOf: readonly Fate[]): Html {
  const { laterals, basis } = whole;
  const { currency } = basis.program;
  let [left, cost, unpriced, toInspect] = [0, 0, 0, 0];
  for (const [row, fate] of fateOf.entries()) {
    if (fate === "to be inspected first, not in this season") toInspect++;
    if (fate !== "work planned, not in this season") continue;
    const own = numberAt(laterals, "cost", row);
    left++;
    if (Number.isNaN(own)) unpriced++;
    else cost += own;
  }
  const { lossBefore, lossAvoided, withoutLoss } = totals.program;
  return html`${bullets([
    `Work is planned on ${showCount(left)} more lateral(s) that are not in this season: as planned it would cost ${wholeMoney(cost, currency)}${markIf(unpriced)}${unpriced === 0 ? "" : ` (* incomplete: without ${showCount(unpriced)} that have no price)`}.`,
    `${showCount(toInspect)} lateral(s) are to be inspected before anybody can say what they need, and are not in this season.`,
    ...(basis.failureCosts === null || withoutLoss === totals.program.laterals
      ? []
      : [
          `After the season failures are still expected to cost ${wholeMoney(lossBefore - lossAvoided, currency)} over ${basis.life.horizonYears} years, as money of today.`,
        ]),
  ])}
${whole.season?.isFilled === true ? reasonsTable(whole, fateOf) : html`<p>Why each lateral is in or out is not shown: ${whole.season?.said ?? "nobody has looked."}</p>`}`;
}

function reasonsTable(whole: ReportedSeason["whole"], fateOf: readonly Fate[]): Html {
  const { laterals } = whole;
  const classes = classesByRank(whole.order);
  const counts = new Map<SeasonReason, { all: number; planned: number; first: number }>();
  for (let row = 0; row < laterals.rows; row++) {
    const reason = textAt(laterals, "season_reason", row);
    if (reason === "" || numberAt(laterals, "in_season", row) === 1) continue;
    const count = counts.get(reason as SeasonReason) ?? { all: 0, planned: 0, first: 0 };
    counts.set(reason as SeasonReason, count);
    count.all++;
    if (fateOf[row] === "work planned, not in this season") count.planned++;
    if (classes[row] === 0) count.first++;
  }
  const found = seasonReasons
    .flatMap((reason) => (counts.has(reason) ? [{ reason, ...counts.get(reason)! }] : []))
    .sort((a, b) => b.planned - a.planned || b.all - a.all);
  return table(
    "Why laterals are not in this season, those with work planned first",
    [
      { text: "Reason" },
      ...numeric("Laterals", "Of them work planned", `Of the ${riskClasses[0]!.name}`),
      { text: "What it means" },
    ],
    found.map(({ reason, all, planned, first }) => [
      capital(reason),
      showCount(all),
      showCount(planned),
      showCount(first),
      // Where in program.json a rule stands is nothing for a council.
      reasonSentences[reason].replace(/ \(season\.[a-z_]+\)/, ""),
    ]),
  );
}
