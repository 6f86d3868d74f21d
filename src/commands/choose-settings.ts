import type { FileFormat } from "../intake/file-format.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import type { Day } from "../quantity/si.ts";
import { CannotMake } from "./cannot-make.ts";
import type { CommandIo } from "./command-io.ts";
import { fitted } from "./wrapped.ts";

const GRADES_NOTE =
  'Grades are read as 5 = worst. Some countries grade the other way: then --worst-grade 1 (1 to 5 are taken as 5 to 1) or 0 (0 to 4 as 5 to 1, and 5, no defect, as 0), or "worst_grade" in the settings.';

/** `Dia_mm`, `Length (m)`, `COVER_M`, `Level (m below ground)`; not `O&M Grade` or `M_ID`. */
const NAMES_METRES = /(^|[^a-z])mm([^a-z]|$)|[([]m\b|[\s_-]m[)\]]?\s*$/i;

/** The program's units: those asked for, else what the form of the laterals' file speaks for, which is said. */
export function chooseUnits(written: string | undefined, format: FileFormat, io: CommandIo): UnitSystem {
  if (written === "us" || written === "si") return written;
  if (written !== undefined)
    throw new CannotMake(`--units: found ${JSON.stringify(written)}, expected us or si.`);
  const metric = format.decimalMark === "," || format.headings.some((heading) => NAMES_METRES.test(heading));
  const units = metric ? "si" : "us";
  const because =
    format.decimalMark === ","
      ? "decimals have a comma"
      : metric
        ? "a heading names m or mm"
        : "no heading names m or mm";
  io.err(`${fitted(`Units: ${units}, because ${because}; --units us or --units si says otherwise.`, io)}\n`);
  return units;
}

/** The day of the plan: the one asked for, else today, which is said. */
export function chooseDay(written: string | undefined, io: CommandIo): Day {
  const text = written ?? io.today?.() ?? io.now().slice(0, 10);
  const found = dayFromIso(text);
  if (found === null)
    throw new CannotMake(`--as-of: found ${JSON.stringify(text)}, expected a day such as 2026-03-01.`);
  if (written === undefined) io.err(`As of ${text}, today; --as-of says otherwise.\n`);
  return found;
}

/** How the city's grades run; where nobody says and there are some, that is said. */
export function chooseWorstGrade(written: string | undefined, hasGrades: boolean, io: CommandIo): 5 | 1 | 0 {
  if (!hasGrades && written !== undefined)
    throw new CannotMake("--worst-grade is about the grades of --inspections, which is not given.");
  switch (written) {
    case "5":
      return 5;
    case "1":
      return 1;
    case "0":
      return 0;
    case undefined:
      if (!hasGrades) return 5;
      io.err(`${fitted(GRADES_NOTE, io)}\n`);
      return 5;
    default:
      throw new CannotMake(`--worst-grade: found ${JSON.stringify(written)}, expected 5, 1 or 0.`);
  }
}
