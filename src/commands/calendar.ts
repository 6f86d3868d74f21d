import { drawStrip, stripOf } from "../pictures/season-strip.ts";
import { describeNotice, workingDaysSaid } from "../plan/notice.ts";
import { isoDate } from "../quantity/calendar.ts";
import { crewDayHundredths, showCrewDays } from "../quantity/crew-days.ts";
import { districtName } from "../quantity/district-name.ts";
import { firstOf } from "../quantity/first-of.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import { describeSource } from "../reference/source.ts";
import type { CrewWork } from "../season/day-packing.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { planSeason, type SeasonPlan, weathers } from "../season/season-calendar.ts";
import { datedVisits } from "../season/visit-dates.ts";
import { knownDay } from "../season/work-days.ts";
import { keptOverSaid } from "../workbook/calendar-sheet.ts";
import { heldBackSaid } from "../workbook/held-back.ts";
import { overNightsSaid, unpermittedSaid } from "../workbook/notices-sheet.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** `wyeplan calendar FOLDER [--json] [--season NAME]`: the season's crew-days as packed, the calendar of the crews, what slips if it rains more. */
export async function calendarOf(
  folder: string,
  options: { readonly json?: boolean; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io);
  if (loaded === null) return EXIT.notDone;
  const { program } = loaded;
  const season = planSeason(program);
  if (season === null) {
    io.err(
      'No calendar in program.json. Add "season": { "calendar": { "starts": "2026-04-06", "ends": "2026-10-30", "working_week": ["monday", "tuesday", "wednesday", "thursday", "friday"], "crews": { "preparation": { "count": 1 }, "lining": { "count": 1 }, "dig": { "count": 1 }, "restoration": { "count": 1 } } } }.\n',
    );
    return EXIT.notDone;
  }
  io.out(
    options.json === true
      ? `${JSON.stringify(calendarAsJson(season), null, 2)}\n`
      : `${calendarText(program, season, io.columns)}\n`,
  );
  return exitCodeOf(program);
}

/** The season on a page: strip, finish dates, crew-days with their bound, what was assumed. */
export function calendarText(
  program: PlannedProgram,
  season: SeasonPlan,
  columns = Number.POSITIVE_INFINITY,
): string {
  const { calendar } = program.basis;
  if (calendar === null) throw new RangeError("calendarText: a season without a calendar");
  const { expected } = season.calendars;
  return [
    `${program.basis.program.name}, season ${calendar.starts} to ${calendar.ends}: ${expected.days} working days, ${expected.lost} expected lost to weather`,
    drawStrip(stripOf(expected, knownDay(calendar.starts), knownDay(calendar.ends))),
    finishTable(season, columns),
    crewDayTable(season, columns),
    notes(program, season)
      .map((note) => wrapped(note, "", "  ", columns))
      .join("\n"),
  ].join("\n\n");
}

const onDay = (finish: Day | null): string => (finish === null ? "after season" : isoDate(finish));

export function finishTable({ calendars }: SeasonPlan, width: number): string {
  const { districts } = calendars.expected;
  const table = plainTable(
    [left("District"), ...weathers.map(({ words }) => right(`Done, ${words}`)), right("Crew-days left")],
    [
      ...districts.map(({ district, crews }, i) => [
        districtName(district),
        ...weathers.map(({ key }) => onDay(calendars[key].districts[i]!.finish)),
        showCount(crews.reduce((sum, { left }) => sum + left, 0)),
      ]),
      null,
      [
        "Program",
        ...weathers.map(({ key }) => onDay(calendars[key].finish)),
        showCount(districts.flatMap(({ crews }) => crews).reduce((sum, { left }) => sum + left, 0)),
      ],
    ],
    width,
  );
  return `${table}\n"Crew-days left" are not done when the season ends, in the expected weather.\nDates rest on durations as estimated; how they vary, which mostly delays, is in wyeplan uncertainty.`;
}

function crewDayTable({ work, shiftMinutes }: SeasonPlan, width: number): string {
  const all = work.flatMap(({ crews }) => crews);
  const cells = (of: readonly CrewWork[]): readonly string[] => {
    const sum = (part: (each: CrewWork) => number) => of.reduce((total, each) => total + part(each), 0);
    return [
      showCount(sum(({ visits }) => visits)),
      showCount(sum(({ crewDays }) => crewDays)),
      showCount(sum(({ lowerBound }) => lowerBound)),
      of.every(({ exact }) => exact) ? "yes" : "no",
      showCrewDays(
        sum(({ visitMinutes }) => visitMinutes),
        shiftMinutes,
      ),
    ];
  };
  return plainTable(
    [
      left("District"),
      left("Crew"),
      right("Travel min"),
      right("Visits"),
      right("Crew-days"),
      right("At least"),
      right("Proved"),
      right("Unpacked"),
    ],
    [
      ...work.flatMap(({ district, crews }) =>
        crews.map((each) => [districtName(district), each.crew, String(each.travel), ...cells([each])]),
      ),
      null,
      ["Program", "", "", ...cells(all)],
    ],
    width,
  );
}

function notes({ laterals, materials, basis }: PlannedProgram, season: SeasonPlan): readonly string[] {
  const { seasonDays, steps } = basis;
  const long = season.work.flatMap(({ crews }) => crews.flatMap(({ longVisits }) => longVisits)).length;
  const dated = datedVisits({ laterals, materials, basis }, season);
  const listed = (ids: readonly string[]) => firstOf(ids, 8);
  return [
    'A visit is not split over days. "At least": no packing of these visits has fewer crew-days (bound L2 of Martello and Toth). "Unpacked": their time over the shift, no travel.',
    `A district's crews come one kind after another: preparation, then lining and digging, then restoration; each mobilizes ${seasonDays.mobilisationDays} working day(s). A lining crew works ${season.sets} inflation set(s).`,
    ...heldBackSaid(season.heldBack),
    ...keptOverSaid(season),
    ...(long === 0
      ? []
      : [
          `${showCount(long)} visit(s) are longer than a shift: each begins a day and takes whole days of its crew.`,
        ]),
    ...(season.longOutages.length === 0
      ? []
      : [
          `${showCount(season.longOutages.length)} lateral(s) would keep occupants without water over ${steps.longestOutageMinutes} min: ${listed(season.longOutages)}. Provide a bypass, or another treatment. Limit: ${describeSource(steps.outageSource)}`,
        ]),
    ...(season.overHours.length === 0
      ? []
      : [
          `${showCount(season.overHours.length)} lateral(s) cannot be opened and closed between ${steps.workHours.from} and ${steps.workHours.to} o'clock of one day: ${listed(season.overHours)}. Make the opening safe overnight.`,
        ]),
    ...unpermittedSaid(dated.unpermitted),
    ...overNightsSaid(dated.visits),
    ...(season.leftOut === 0
      ? []
      : [
          `${showCount(season.leftOut)} lateral(s) are not in the calendar: they may not be scheduled, are held back, or their main is to be lined first and not in this season.`,
        ]),
    ...season.work.flatMap(({ district, notBefore }) =>
      notBefore === null
        ? []
        : [
            `${districtName(district)} waits until ${isoDate(notBefore)}: mains there are to be lined first (season.mains_lined).`,
          ],
    ),
    `Notice to occupants: ${describeNotice(steps)} before a crew comes; wyeplan notices lists the days. ${workingDaysSaid(steps)}`.trimEnd(),
    `Days lost to weather: ${describeSource(seasonDays.daysLostSource)} Which days cannot be known; they are spread over each month.`,
    `Step times: ${describeSource(steps.source)}`,
  ];
}

/** Days as 2026-03-01, crew-days as whole numbers. */
export const calendarAsJson = ({
  work,
  shiftMinutes,
  calendars,
  sets,
  longOutages,
  overHours,
  leftOut,
  heldBack,
}: SeasonPlan) => ({
  inflation_sets: sets,
  not_in_calendar: leftOut,
  held_back: heldBack,
  over_outage_limit: longOutages,
  over_work_hours: overHours,
  crew_days: work.map(({ district, crews }) => ({
    district,
    crews: crews.map((each) => ({
      crew: each.crew,
      visits: each.visits,
      travel_minutes: each.travel,
      ordered_by_coordinates: each.byCoordinates,
      crew_days: each.crewDays,
      at_least: each.lowerBound,
      proved: each.exact,
      unpacked_hundredths: crewDayHundredths(each.visitMinutes, shiftMinutes),
      visits_longer_than_a_shift: each.longVisits.length,
    })),
  })),
  calendars: Object.fromEntries(
    weathers.map(({ key, words }) => {
      const { days, lost, finish, districts } = calendars[key];
      return [
        key,
        {
          weather: words,
          working_days: days,
          lost_to_weather: lost,
          finish: finish === null ? null : isoDate(finish),
          districts: districts.map((district) => ({
            district: district.district,
            finish: district.finish === null ? null : isoDate(district.finish),
            crews: district.crews.map(({ crew, worked, mobilized, finish: last, left }) => ({
              crew,
              mobilized: mobilized.map(isoDate),
              first_day: worked.size === 0 ? null : isoDate([...worked.keys()][0]!),
              finish: last === null ? null : isoDate(last),
              crew_days_left: left,
            })),
          })),
        },
      ];
    }),
  ),
});
