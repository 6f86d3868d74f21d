import { type CrewKind, crewKinds, type SeasonReason } from "../columns/plan-columns.ts";
import type { ExplainedStage } from "../plan/explain.ts";
import { line } from "../plan/explained-line.ts";
import { describeNotice } from "../plan/notice.ts";
import type { SeasonRun } from "../program/season-runs.ts";
import { isoDate } from "../quantity/calendar.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import { type Day, day } from "../quantity/si.ts";
import { permissionEndAt } from "../season/permission-ends.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { isVisitOver } from "../season/tracking.ts";
import type { DatedVisit } from "../season/visit-dates.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { reasonSentences } from "./season-reason-words.ts";

/** The stage after the plan's own: what the saved season does with a lateral, and when. None where no season was looked at. */
export function explainSeason(
  { laterals, basis, season }: PlannedProgram,
  row: number,
  visits: readonly DatedVisit[] = [],
  prices: SeasonRun["prices"] = undefined,
): readonly ExplainedStage[] {
  if (season === undefined || season.name === "") return [];
  const stage = `Season ${season.name}`;
  if (!season.isFilled) return [{ stage, lines: [line("not shown", season.said)] }];
  const reason = textAt(laterals, "season_reason", row) as SeasonReason | "";
  const treatment = textAt(laterals, "season_treatment", row);
  const first = numberAt(laterals, "season_visit", row);
  const by = numberAt(laterals, "notice_by", row);
  const { steps } = basis;
  const permitted = permissionEndAt(laterals, row, treatment);
  const isIn = numberAt(laterals, "in_season", row) === 1;
  const isOver = (crew: CrewKind) => isVisitOver(laterals, row, crew);
  const next = crewKinds.some(isOver) ? "next visit" : "first visit";
  return [
    {
      stage,
      lines: [
        line("in the season", isIn ? `yes: ${treatment}` : "no"),
        ...(reason === "" ? [] : [line("why", reason, null, reasonSentences[reason])]),
        ...pricesLine(prices, basis),
        ...crewKinds
          .filter((crew) => isIn && isOver(crew))
          .map((crew) => line(`${crew} visit`, "over", null, "it is not planned again")),
        ...visits.filter(({ crew }) => !isOver(crew)).map((visit) => visitLine(visit, permitted, basis)),
        ...(Number.isNaN(first)
          ? isIn
            ? [
                line(
                  "visits",
                  "no date",
                  null,
                  basis.calendar === null
                    ? 'program.json has no "season": { "calendar": … }'
                    : "the season ends before a crew comes",
                ),
              ]
            : []
          : [
              line(next, isoDate(day(first)), "estimated", "by the calendar in the expected weather"),
              ...(Number.isNaN(by)
                ? []
                : [
                    line(
                      "notice by",
                      isoDate(day(by)),
                      "estimated",
                      `${describeNotice(steps)} before the ${next}`,
                    ),
                  ]),
            ]),
      ],
    },
  ];
}

function visitLine(
  { crew, on, until, outage }: DatedVisit,
  permitted: Day | null,
  { program }: PlannedProgram["basis"],
) {
  const days =
    until === null ? ", not done when the season ends" : until === on ? "" : ` to ${isoDate(until)}`;
  const notes = [
    ...(outage === 0 ? [] : [`occupants without water ${showQuantity(outage, "duration", program)}`]),
    ...(permitted === null || (until !== null && until <= permitted)
      ? []
      : [`the owner's permission ends ${isoDate(permitted)}: renew it before a crew comes`]),
  ];
  return line(`${crew} visit`, `${isoDate(on)}${days}`, "estimated", notes.join("; ") || null);
}

/** What one more of each is worth to the season. Of an objective that is not money the worth has no unit to show. */
function pricesLine(prices: SeasonRun["prices"], { program }: PlannedProgram["basis"]) {
  if (prices === undefined) return [];
  const crews = crewKinds.flatMap((crew: CrewKind) => {
    const worth = prices.crew_days[crew];
    return worth === undefined ? [] : [`${crew} ${showQuantity(Math.round(worth), "money", program)}`];
  });
  return [
    line(
      "a crew-day more is worth",
      crews.length === 0 ? "nothing: no crew-days are limited" : crews.join(", "),
      "estimated",
      `one more ${program.currency} of budget is worth ${prices.money.toFixed(2)}`,
    ),
  ];
}
