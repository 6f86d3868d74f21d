import { columnOf } from "../columns/dictionary.ts";
import { districtName } from "../quantity/district-name.ts";
import { firstOf } from "../quantity/first-of.ts";
import { type DateStyle, showDate } from "../quantity/show-date.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { Notices } from "../season/notices.ts";
import type { DatedVisit, UnpermittedVisit } from "../season/visit-dates.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import { textAt } from "../sheet/table.ts";
import type { BookContents } from "./book-contents.ts";
import { heldBackSaid } from "./held-back.ts";
import { DAY_ZERO, ISO_DATE, WHOLE } from "./number-format.ts";
import type { Cell, SheetModel } from "./sheet-model.ts";

/** Laterals named in a note before they are only counted. */
const NAMED = 20;

/** What the list is of, how notice is counted and what has no day, a line each. */
export function noticeNotes(
  { of, notice, noticeDay, undated, unpermitted, heldBack, leftOut, visits }: Notices,
  dates: DateStyle = "ISO",
): readonly string[] {
  const named = undated.slice(0, NAMED).join(", ");
  return [
    `Visits of ${of}, a row each. Notice is given ${notice} before the day a crew comes. ${noticeDay}`.trimEnd(),
    "Days are those of the calendar in the expected weather; which days weather takes cannot be known. Every building counts as occupied.",
    ...(undated.length === 0
      ? []
      : [
          `No day, since the season ends first: a visit to ${showCount(undated.length)} lateral(s): ${named}${undated.length > NAMED ? " and more" : ""}.`,
        ]),
    ...unpermittedSaid(unpermitted, dates),
    ...overNightsSaid(visits, dates),
    ...heldBackSaid(heldBack),
    ...(leftOut === 0
      ? []
      : [`${showCount(leftOut)} visit(s) that are over, or to laterals done or refused, are left out.`]),
  ];
}

/** Visits that go on over a night, the longest first, each with its nights; nothing where none does. */
export function overNightsSaid(visits: readonly DatedVisit[], dates: DateStyle = "ISO"): readonly string[] {
  const open = visits
    .flatMap((visit) =>
      visit.until === null ? [] : [{ ...visit, until: visit.until, nights: visit.until - visit.on }],
    )
    .filter(({ nights }) => nights > 0)
    .sort((a, b) => b.nights - a.nights || a.on - b.on || (a.lateral < b.lateral ? -1 : 1));
  if (open.length === 0) return [];
  const said = open.map(
    ({ lateral, crew, on, until, nights }) =>
      `${lateral} over ${nights} (${crew}, ${showDate(on, dates)} to ${showDate(until, dates)})`,
  );
  return [
    `Visits longer than a shift, open over nights: ${firstOf(said, NAMED)}. Make the opening safe, and give occupants a bypass, until the last day.`,
  ];
}

/** Visits that fall after the owner's permission has ended, in a sentence; nothing where none does. */
export function unpermittedSaid(
  unpermitted: readonly UnpermittedVisit[],
  dates: DateStyle = "ISO",
): readonly string[] {
  if (unpermitted.length === 0) return [];
  const shown = (on: Day): string => showDate(on, dates);
  const said = unpermitted
    .slice(0, NAMED)
    .map(
      ({ lateral, ends, crew, on, until }) =>
        `${lateral} (ends ${shown(ends)}; ${crew} ${until === null ? `from ${shown(on)}, not done in the season` : `on ${shown(until)}`})`,
    );
  return [
    `The owner's permission ends before the work at ${showCount(unpermitted.length)} lateral(s) is done: ${said.join(", ")}${unpermitted.length > NAMED ? " and more" : ""}. Have it renewed before a crew comes, or work their districts earlier (season.calendar.district_order).`,
  ];
}

/** By district and day, when occupants have to be told that a crew comes, and how long they are without water. */
export function noticesSheet(
  { program: { laterals, basis } }: Pick<BookContents, "program">,
  notices: Notices,
): SheetModel {
  const rows = rowOfEach(laterals, "lateral");
  const dated = (on: number): number => on + DAY_ZERO;
  return {
    name: "Notices",
    title: "Notices to occupants, by district and day",
    notes: noticeNotes(notices, basis.program.print.dates),
    columns: [
      { heading: "District", width: 16 },
      { heading: "Notice by", width: 12, format: ISO_DATE },
      { heading: "Crew comes", width: 12, format: ISO_DATE },
      { heading: "Until", width: 12, format: ISO_DATE },
      { heading: "Lateral", width: 14 },
      { heading: columnOf("location").heading, width: 26, wrap: true },
      { heading: "Crew", width: 13 },
      { heading: "Without water (min)", width: 12, format: WHOLE },
    ],
    rows: notices.visits.map(({ district, noticeBy, on, until, lateral, crew, outage }): readonly Cell[] => [
      districtName(district),
      dated(noticeBy),
      dated(on),
      until === null ? null : dated(until),
      lateral,
      textAt(laterals, "location", rows.get(lateral)!),
      crew,
      outage,
    ]),
    frozenColumns: 1,
    pagesWide: 1,
    locked: false,
    filtered: true,
  };
}
