import { columnOf } from "../columns/dictionary.ts";
import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type Notices, noticesOf } from "../season/notices.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { textAt } from "../sheet/table.ts";
import { noticeNotes, noticesSheet } from "../workbook/notices-sheet.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { latestSeason, withCurrentSeason } from "./current-season.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { sayColumns } from "./occupant-columns.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { sheetAsCsv } from "./table.ts";
import { fitted, wrapped } from "./wrapped.ts";
import { writeOut } from "./write-out.ts";

/**
 * `wyeplan notices FOLDER [--season NAME] [--with-addresses] [--out FILE]`: when occupants have to be told, by district and day: of the
 * season saved last, a named one, or, where none is saved, of all that may be scheduled.
 */
export async function noticesIn(
  folder: string,
  options: { readonly season?: string; readonly out?: string; readonly withAddresses?: boolean },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io, (whole, settings, named) =>
    withCurrentSeason(folder, { program: whole, settings }, null, named),
  );
  if (loaded === null) return EXIT.notDone;
  const { program } = loaded;
  const { season } = program;
  if (options.season === undefined && season !== undefined && season.name !== "" && !season.isFilled) {
    // Of a season whose file cannot be read nothing can be listed, by its name either.
    const byName =
      (await latestSeason(folder)) === null
        ? ""
        : ` --season ${season.name} lists those of that season as it would be carried out today.`;
    io.err(`${fitted(season.said, io)}\nNo notices are listed: a wrong day is worse than none.${byName}\n`);
    return EXIT.notDone;
  }
  const notices = noticesOf(program);
  if (notices === null) {
    io.err(
      'No calendar in program.json, so no visit has a day: add "season": { "calendar": … } (wyeplan calendar says how).\n',
    );
    return EXIT.notDone;
  }
  const withAddresses = options.withAddresses === true;
  sayColumns([columnOf("location")], withAddresses, io);
  if (options.out === undefined) io.out(`${noticesText(program, notices, withAddresses, io.columns)}\n`);
  else await writeOut(sheetAsCsv(noticesSheet({ program }, notices), withAddresses, true), options.out, io);
  return exitCodeOf(program);
}

/** A table a district, to be printed and handed to whoever goes from door to door. */
export function noticesText(
  { laterals, basis }: PlannedProgram,
  notices: Notices,
  withAddresses: boolean,
  columns = Number.POSITIVE_INFINITY,
): string {
  const { visits } = notices;
  const locations = new Map<string, string>();
  if (withAddresses)
    for (let row = 0; row < laterals.rows; row++)
      locations.set(textAt(laterals, "lateral", row), textAt(laterals, "location", row));
  const districts = [...new Set(visits.map(({ district }) => district))];
  const tables = districts.map((district) => {
    const own = visits.filter((visit) => visit.district === district);
    const table = plainTable(
      [
        left("Notice by"),
        left("Crew comes"),
        left("Until"),
        left("Lateral"),
        left("Crew"),
        right("No water, min"),
        ...(withAddresses ? [left("Location")] : []),
      ],
      own.map(({ noticeBy, on, until, lateral, crew, outage }) => [
        isoDate(noticeBy),
        isoDate(on),
        until === null ? "after season" : until === on ? "" : isoDate(until),
        lateral,
        crew,
        outage === 0 ? "" : String(outage),
        ...(withAddresses ? [locations.get(lateral) ?? ""] : []),
      ]),
      columns,
    );
    const laterals = new Set(own.map(({ lateral }) => lateral)).size;
    return `${districtName(district)}: ${showCount(own.length)} visit(s) to ${showCount(laterals)} lateral(s)\n${table}`;
  });
  const past = visits.filter(({ noticeBy }) => noticeBy < basis.program.asOf).length;
  return [
    `${basis.program.name}, as of ${isoDate(basis.program.asOf)}: notices to occupants`,
    ...(tables.length === 0 ? ["No visit has a day."] : tables),
    [...noticeNotes(notices), ...(past === 0 ? [] : [`${past} notice(s) were due before the program's day.`])]
      .map((note) => wrapped(note, "", "  ", columns))
      .join("\n"),
  ].join("\n\n");
}
