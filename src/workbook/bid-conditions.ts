import { mainDayOf, TO_BE_LINED } from "../plan/main-wait.ts";
import { describeNotice } from "../plan/notice.ts";
import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import type { SeasonCalendar } from "../reference/season-days.ts";
import type { Source } from "../reference/source.ts";
import { houseWorkSteps } from "../reference/work-steps.ts";
import { textAt } from "../sheet/table.ts";
import type { BookContents } from "./book-contents.ts";

/**
 * What the program knows of when and how the work is done, as far as bidders may see it: days of work, never crews, their number or
 * their time. What the program does not say itself is null; tables of this program are no word of the owner's.
 */
export interface BidConditions {
  readonly season: Pick<SeasonCalendar, "starts" | "ends" | "workingWeek" | "holidays" | "blackouts"> | null;
  /** Laterals whose main is lined first, by district, and from which day they may be worked on; null is not in this season. */
  readonly mains: readonly {
    readonly district: string;
    readonly from: string | null;
    readonly laterals: number;
  }[];
  readonly hours: { readonly from: number; readonly to: number } | null;
  /** `1 calendar day` before. */
  readonly notice: string | null;
  /** Minutes that occupants may be without service. */
  readonly longestOutage: number | null;
  /** Laterals that the planned work keeps out of service for longer than so many minutes; null where no visits are planned. */
  readonly longOutages: { readonly over: number; readonly laterals: readonly string[] } | null;
}

/** @param rows of the laterals with paid work, in what is bid */
export function readBidConditions(
  { bid, season }: Pick<BookContents, "bid" | "season">,
  rows: readonly number[],
): BidConditions {
  const { laterals, basis } = bid.program;
  const { steps, calendar } = basis;
  const own = new Set(rows.map((row) => textAt(laterals, "lateral", row)));
  const districts = new Set(rows.map((row) => textAt(laterals, "district", row)));
  const ofProgram = (source: Source, house: Source): boolean => source.document !== house.document;
  const isNoticeOwn = ofProgram(steps.noticeSource, houseWorkSteps.noticeSource);
  return {
    season:
      calendar === null
        ? null
        : {
            starts: calendar.starts,
            ends: calendar.ends,
            workingWeek: calendar.workingWeek,
            holidays: calendar.holidays.filter(({ day }) => calendar.starts <= day && day <= calendar.ends),
            blackouts: calendar.blackouts.filter(
              ({ from, to, district }) =>
                from <= calendar.ends &&
                to >= calendar.starts &&
                (district === undefined || districts.has(district)),
            ),
          },
    mains: mainsFirst(bid.program, rows),
    hours: ofProgram(steps.workHoursSource, houseWorkSteps.workHoursSource) ? steps.workHours : null,
    notice: isNoticeOwn ? describeNotice(steps) : null,
    longestOutage: ofProgram(steps.outageSource, houseWorkSteps.outageSource)
      ? steps.longestOutageMinutes
      : null,
    longOutages:
      season === null
        ? null
        : {
            over: steps.longestOutageMinutes,
            laterals: season.plan.longOutages.filter((id) => own.has(id)),
          },
  };
}

function mainsFirst(
  { laterals, basis }: BookContents["program"],
  rows: readonly number[],
): BidConditions["mains"] {
  if (!laterals.columns.has("main_lining")) return [];
  const count = new Map<string, { district: string; from: string | null; laterals: number }>();
  for (const row of rows) {
    if (textAt(laterals, "main_lining", row) !== TO_BE_LINED) continue;
    const [lateral, district] = [textAt(laterals, "lateral", row), textAt(laterals, "district", row)];
    const found = mainDayOf({ lateral, district, mainLining: TO_BE_LINED }, basis);
    const from = found.kind === "from" ? isoDate(found.day) : null;
    const key = JSON.stringify([district, from]);
    const before = count.get(key)?.laterals ?? 0;
    count.set(key, { district: districtName(district), from, laterals: before + 1 });
  }
  return [...count].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, entry]) => entry);
}
